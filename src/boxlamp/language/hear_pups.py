"""Reading what is seen in, or done for, one pup."""

from datetime import timedelta
from decimal import Decimal
from functools import partial
from typing import get_args

from boxlamp.language import amounts, sentences
from boxlamp.language.context import NotUnderstood
from boxlamp.language.ear import Ear, finish, refuse_a_time
from boxlamp.language.pups import (
    check_mark,
    in_digits,
    left_out,
    names,
    names_a_pup,
    number_in,
    pup_in,
)
from boxlamp.language.terms import ALL, MARK_COLOURS, NOT_SURELY, PUP_SIGNS, SEXES
from boxlamp.language.tokens import NOISE, Token, Words, table
from boxlamp.language.word import Word
from boxlamp.model.happenings import (
    Afterbirth,
    Death,
    Feed,
    PupState,
    Score,
    ScoreItem,
    Sexed,
    Step,
)
from boxlamp.model.litter import Litter
from boxlamp.model.quantities import plain, rounded
from boxlamp.model.seen import PupSign, StepName

FATES = table({
    "seen": "out|passed|whole|complete|came|delivered",
    "eaten": "ate|ate it|eaten by dam|ate by dam",
    "not-seen": "not seen|missing|none|retained|not found|not out",
})  # fmt: skip
FINDINGS: dict[str, dict[str, str]] = {
    "cord": table({"tied": "clamped|tied off", "bleeding": "bleeds",
                   "stopped": "stopped bleeding|not bleeding"}),
    "palate": table({"ok": "fine|whole|good|closed|normal", "cleft": "open|split"}),
}  # fmt: skip
_DONE = table({"done": "ok|fine|taken|yes|cleared|clear|started|well|good|opened|drank|drunk"})
_HOW = table({"teat": "at teat|nursing|nursed|suckled|suckling|dam", "bottle": "by bottle",
              "tube": "by tube|tubed"})  # fmt: skip
_DIED = table({"died": ""})
_BREATHLESS = {words: sign for words, sign in PUP_SIGNS.items()
               if sign in {"limp", "not-breathing", "gasping"}}  # fmt: skip
_FEEDING = frozenset(("feed", "fed", "feeding"))
_ITEMS = 5
# A stomach holds 4 (orphan feeding page, excerpt) to 5 ml per 100 g (from memory).
_MOST_PER_100_G = Decimal(5)
_FED_BY_HAND = timedelta(days=28)
_HINTED = 80


def sexed(words: Words, ear: Ear) -> Sexed:
    """``sex 3 dog``."""
    pup = pup_in(words, ear)
    sex = words.phrase(SEXES)
    finish(words)
    if sex is None:
        raise NotUnderstood(sentences.LEFT_OVER.format("sex"), f"sex {pup} dog")
    return Sexed(pup=pup, sex=sex)


def afterbirth(words: Words, ear: Ear) -> Afterbirth:
    """``afterbirth [of 3] [x2] [eaten]``; without ``of`` it settles the oldest owed."""
    old = ear.before(Afterbirth) or Afterbirth()
    of, count = old.of, old.count
    fate: str = old.fate
    while words.peek() is not None:
        if words.key() in {"of", "for", "from", "pup"}:
            of = pup_in(words, ear)
        elif (found := words.phrase(FATES)) is not None:
            fate = found
        elif not words.key()[:1].isdigit() and _names_one(words, ear):
            of = pup_in(words, ear)
        else:
            count = _times(words)
    return Afterbirth.model_validate({"of": of, "count": count, "fate": fate})


def _names_one(words: Words, ear: Ear) -> bool:
    """Whether the mark of a pup comes next."""
    start = words.place
    named = names_a_pup(words, ear.context.litter, whole=True)
    words.place = start
    return named


def _times(words: Words) -> int:
    key = words.key()
    digits = key.removeprefix("x").removesuffix("x")
    if not (digits.isascii() and digits.isdigit()):
        finish(words)
    if digits == key:
        raise NotUnderstood(
            sentences.AFTERBIRTH_NUMBER.format(key, key, key), f"afterbirth of {key}"
        )
    words.pop()
    return int(digits[:4])


def step(name: StepName, words: Words, ear: Ear) -> Step:
    """``cord 3 tied`` and the other newborn steps."""
    findings = FINDINGS.get(name)
    finding, pup = None, None
    if not _names_one(words, ear):
        finding = words.phrase(findings or _DONE)
        pup = left_out(ear) if finding is not None and words.peek() is None else None
    if pup is None and words.phrase(ALL) is not None:
        if not ear.context.litter.pups:
            raise NotUnderstood(sentences.NO_PUPS)
        raise NotUnderstood(sentences.ONE_LINE_ONE_ENTRY, f"{words.tokens[0].raw} N")
    pup = pup_in(words, ear) if pup is None else pup
    finding = finding or words.phrase(findings or _DONE)
    finding = finding if findings else None
    left = words.peek()
    if left is not None and number_in(words) is not None:
        raise NotUnderstood(sentences.ONE_LINE_ONE_ENTRY, f"{name} {pup}")
    if left is not None and findings:
        said = ", ".join(sorted(set(findings.values())))
        raise NotUnderstood(sentences.FINDING.format(name, said), f"{name} {pup} ...")
    finish(words)
    return Step(step=name, pup=pup, finding=finding or "")


def marked(words: Words, ear: Ear) -> Step:
    """``mark 3 red``."""
    pup = pup_in(words, ear)
    mark = check_mark(words.free(), pup, ear)
    _question_a_sign(mark, pup, ear)
    return Step(step="marked", pup=pup, finding=mark)


def _question_a_sign(mark: str, pup: int, ear: Ear) -> None:
    """Ask when a mark ends in a sign that starts a clock: ``pup 2 mark Luna limp``."""
    parts = Words(mark).tokens
    for place in range(len(parts)):
        sign = Words(mark, parts[place:]).phrase(_BREATHLESS)
        if sign is not None:
            fix = sentences.SIGN_AFTER_BIRTH.format(f"state {pup} {sign}")
            ear.doubt("mark", sentences.IS_IT_A_MARK.format(mark), fix)
            return


def score(words: Words, ear: Ear) -> Score:
    """``score 3 2 2 1 2 ?``: heart rate, breathing, reflex, movement, colour."""
    pup = pup_in(words, ear)
    items: list[str] = []
    while words.peek() is not None:
        items.extend(words.pop().key)
    if len(items) != _ITEMS or any(item not in "012?x" for item in items):
        raise NotUnderstood(sentences.SCORE_ITEMS, f"score {pup} 2 2 1 2 ?")
    taken: list[ScoreItem | None] = [int(item) if item in "012" else None for item in items]
    return Score(pup=pup, items=(taken[0], taken[1], taken[2], taken[3], taken[4]))


def feed(words: Words, ear: Ear) -> Feed:
    """``feed 3 4ml bottle/tube/teat``."""
    pup, how, millilitres = None, None, None
    while words.peek() is not None:
        if words.key() in _FEEDING:
            words.pop()
        elif how is None and (found := words.phrase(_HOW)) is not None:
            how = found
        elif pup is None:
            pup = pup_in(words, ear)
        elif millilitres is None and (amount := amounts.millilitres(words)) is not None:
            millilitres = amount
        else:
            finish(words)
    if pup is None:
        pup = left_out(ear)
    if how is None:
        ear.remarks.append("taken as at the teat")
    _question_meal(pup, millilitres, ear)
    return Feed.model_validate({"pup": pup, "how": how or "teat", "millilitres": millilitres})


def _question_meal(pup: int, millilitres: Decimal | None, ear: Ear) -> None:
    """Ask about a meal that the stomach of so small a pup can hardly hold."""
    known = ear.context.litter.pups.get(pup)
    if millilitres is None or known is None or known.weight is None:
        return
    most = known.weight / 100 * _MOST_PER_100_G
    if millilitres > most and ear.moment() - known.born <= _FED_BY_HAND:
        said = (f"{plain(millilitres)} ml", plain(known.weight), plain(rounded(most, "1")))
        ear.doubt("implausible", sentences.MEAL_TOO_BIG.format(*said), sentences.MEAL_FIX)


def state(words: Words, ear: Ear) -> PupState:
    """``state 3 crying limp``; a sign may also come first: ``limp 3``."""
    signs: list[PupSign] = []
    # A pup marked "blue" is a pup before it is a colour, so the pup is looked for first.
    pup = pup_in(words, ear) if _pup_comes_first(words, ear) else None
    while words.peek() is not None:
        found = words.phrase(PUP_SIGNS)
        if found is not None:
            signs.append(found)
        elif pup is None:
            pup = pup_in(words, ear)
        else:
            refuse_a_time(words)
            breathes = f"breathing {pup}" if words.key() in {"breathing", "breathes"} else ""
            raise NotUnderstood(sentences.SIGN_OF.format(", ".join(get_args(PupSign))), breathes)
    if pup is None:
        pup = _of_whom(signs, ear)
    if not signs:
        raise NotUnderstood(sentences.SIGN_MISSING, f"state {pup} crying")
    return PupState(pup=pup, signs=tuple(dict.fromkeys(signs)))


def sign_first(words: Words, ear: Ear) -> Words | None:
    """``cold 1``, ``weak pup 2``: signs before the one pup they can be seen in, as ``state 1``.

    That all is well ends alarms, so only the very word ``well`` is taken; a colour may be a mark.
    """
    litter = ear.context.litter
    if words.key() in MARK_COLOURS or names_a_pup(words, litter, whole=True):
        return None
    signs = _signs(words)
    called = words.peek() is not None and words.key() in {"pup", "puppy"}
    if called:
        words.pop()
        words.skip_noise()
    place = words.place
    if not signs or words.peek() is None:
        return None
    if not names_a_pup(words, litter, whole=called):
        if not called:
            _refuse_no_pup(words, litter)
        return None
    pup = words.tokens[place : words.place]
    more = _signs(words)
    if words.peek() is not None:
        return None
    pup = [in_digits(token, litter) for token in pup] if called else pup
    return Words(words.text, [Token("state", "state", 0, 0), *pup, *signs, *more])


def _signs(words: Words) -> list[Token]:
    """Take the signs that stand here; none where one of them says that all is well."""
    start = words.place
    while (sign := words.phrase(PUP_SIGNS)) is not None:
        if sign == "well" and [one.key for one in words.tokens[start : words.place]] != ["well"]:
            return []
    return words.tokens[start : words.place]


def _refuse_no_pup(words: Words, litter: Litter) -> None:
    """``cold 9``: there is no such pup."""
    number = number_in(words)
    if number is not None and words.peek() is None:
        known = sentences.NO_SUCH_PUP.format(number, names(litter))
        raise NotUnderstood(f"{sentences.NO_CLOCK} {known if litter.pups else sentences.NO_PUPS}")


def _of_whom(signs: list[PupSign], ear: Ear) -> int:
    try:
        return left_out(ear)
    except NotUnderstood as refused:
        hint = f"state N {' '.join(signs) or '...'}" if ear.context.litter.pups else ""
        raise NotUnderstood(refused.why, hint) from None


def _pup_comes_first(words: Words, ear: Ear) -> bool:
    start = words.place
    while words.peek() is not None and words.key() in {"pup", "puppy"}:
        words.pop()
    named = names_a_pup(words, ear.context.litter, whole=False)
    words.place = start
    return named


def died(words: Words, ear: Ear) -> Death:
    """``died 3 [why]``."""
    if words.peek() is None and ear.amending is None:
        raise NotUnderstood(sentences.WHICH_PUP)
    pup = _who_died(words, ear)
    token = words.tokens[words.place] if words.place < len(words.tokens) else None
    if token is not None and not token.quoted and token.key in NOT_SURELY:
        raise NotUnderstood(sentences.NOT_DEAD, f"note pup {pup} {words.free()}"[:_HINTED])
    if token is not None and _lost_something(words):
        raise NotUnderstood(
            sentences.NOT_DEAD, f"note pup {pup} lost {words.free()}"[:_HINTED] + f"\ndied {pup}"
        )
    if ear.amending is None:
        ear.remarks.append(sentences.IF_IT_COMES_BACK.format(pup))
    return Death(pup=pup, why=words.free() or ear.take_note())


def _lost_something(words: Words) -> bool:
    """``red lost his collar``: the pup named first lost a thing, and is not lost."""
    lost = next((one for one in words.tokens if one.key == "lost"), None)
    named_first = lost is not None and any(one.start < lost.start for one in words.tokens)
    return named_first and not words.tokens[words.place].quoted


def _who_died(words: Words, ear: Ear) -> int:
    """The pup that is named; where none is, it is asked, for another may have been born dead."""
    named = Words(words.text, words.tokens[words.place :])
    only_a_pup = all(token.key in {"pup", "puppy", *NOISE} for token in named.tokens)
    if ear.amending is not None or not only_a_pup:
        return pup_in(words, ear)
    born = ear.timed(f"pup {ear.context.next_pup} dead")
    try:
        pup = pup_in(words, ear)
    except NotUnderstood as refused:
        if not ear.context.litter.pups:
            raise
        raise NotUnderstood(f"{refused.why} {sentences.OR_BORN_DEAD.format(born)}") from None
    fix = sentences.BORN_DEAD_OR_DIED_FIX.format(pup, ear.timed(f"died {pup}"), born)
    ear.doubt("another-pup", sentences.BORN_DEAD_OR_DIED.format(pup), fix)
    return pup


_STEPS: tuple[tuple[str, StepName, str, tuple[str, ...]], ...] = (
    ("sac-open", "sac-open", "The sac was opened.", ("sac opened", "open sac", "sac off")),
    ("airway", "airway", "Mouth and nose were cleared.", ("airway clear", "airway cleared",
                                                        "mouth cleared", "cleared")),
    ("breathing", "breathing", "The pup breathes. (One written down as dead: `alive 3`.)",
     ("breathes", "breath", "breathing well")),
    ("dried", "dried", "The pup was rubbed dry.", ("dry", "rubbed", "rubbed dry")),
    ("milk", "milk", "The pup has had first milk.", ("first milk", "colostrum", "suckled",
                                                    "suckling", "nursed", "nursing")),
    ("to-teat", "teat", "The pup was put to the teat.", ("put to teat", "on teat", "at teat",
                                                          "on the teat", "at the teat",
                                                          "latched")),
)  # fmt: skip

WORDS = (
    *(Word(word, f"{word} 3", meaning, (f"{word} 3", f"{word} red"), partial(step, name),
           synonyms=synonyms, of_pup=True) for word, name, meaning, synonyms in _STEPS),
    Word("cord", "cord 3 [tied/bleeding/stopped]", "The navel cord.", ("cord 3 tied", "cord 3"),
         partial(step, "cord"), of_pup=True),
    Word("palate", "palate 3 ok/cleft", "The palate was looked at.", ("palate 3 ok",),
         partial(step, "palate"), of_pup=True),
    Word("mark", "mark 3 red", "The pup was given a mark, or another one.",
         ("mark 3 green collar",), marked, synonyms=("marked", "collar"), of_pup=True, by_day=True),
    Word("sex", "sex 3 dog/bitch", "The sex of a pup, seen later.", ("sex 3 dog",), sexed,
         synonyms=("sexed",), of_pup=True, by_day=True),
    Word("afterbirth", "afterbirth [of 3] [x2] [eaten/not seen]",
         "Afterbirth. Without 'of' it settles the oldest owed.",
         ("afterbirth", "afterbirth of 3 eaten", "ab x2", "afterbirth of 2 not seen"), afterbirth,
         synonyms=("placenta", "ab", "afterbirths", "placentas", "after birth"), of_pup=True),
    Word("score", "score 3 2 2 1 2 2", "Viability: heart rate, breathing, reflex, movement, colour;"
         " ? for not taken.", ("score 3 2 2 1 2 2", "score 3 2 ? 1 2 ?"), score,
         synonyms=("viability",), of_pup=True),
    Word("feed", "feed 3 [4ml] [bottle/tube/teat]", "A pup was fed.",
         ("feed 3 4ml bottle", "feed red teat", "tube 3 4ml"), feed, synonyms=("fed", "feeding"),
         telling=("bottle", "tube", "teat", "bottle fed", "tube fed", "bottle feed", "tube feed"),
         of_pup=True),
    Word("state", "state 3 crying/limp/cold/bloated/...",
         "How a pup looks now; one or more of: " + ", ".join(get_args(PupSign)) + ".",
         ("state 3 crying", "state red limp cold", "limp 3"), state,
         synonyms=("looks",),
         telling=("crying", "limp", "floppy", "gasping", "not breathing", "stopped breathing",
                  "no breathing", "isn't breathing", "not moving", "isn't moving",
                  "bloated", "fading",
                  "not suckling", "won't suckle", "diarrhoea", "diarrhea"), of_pup=True),
    Word("died", "died 3 [why]", "A pup has died.", ("died 3", "died 3 found cold"), died,
         synonyms=("dead", "death", "lost"), of_pup=True, by_day=True),
)  # fmt: skip
