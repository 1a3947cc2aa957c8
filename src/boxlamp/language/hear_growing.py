"""Reading weights, whole weighing rounds, reflexes, and what pups reach in their first weeks."""

from datetime import datetime, timedelta
from decimal import Decimal
from functools import partial
from itertools import combinations
from typing import Literal

from boxlamp.language import amounts, sentences
from boxlamp.language.context import NotUnderstood
from boxlamp.language.ear import Ear, finish
from boxlamp.language.hear_birth import question_weight
from boxlamp.language.pups import left_out, named, names_a_pup, number_in, pup_in
from boxlamp.language.terms import ALL
from boxlamp.language.tokens import Words, table
from boxlamp.language.word import Word
from boxlamp.model.chips import chip_problem, plain_chip
from boxlamp.model.happenings import Kit, Milestone, Reflexes, Round, ScoreItem, Weighed, Weight
from boxlamp.model.litter import Pup
from boxlamp.model.quantities import plain
from boxlamp.model.seen import MilestoneName

_DAM = table({"dam": "mum|mother"})
_REFLEXES = table({"suckle": "suckling|suck|sucking", "rooting": "root|roots",
                   "righting": "right|rights|rolls over"})  # fmt: skip
_HOW_GOOD: dict[str, Literal["0", "1", "2", "?"]] = table({
    "0": "absent|none|no|missing", "1": "weak|slow|some", "2": "good|strong|ok|normal|present",
    "?": "x|not tested",
})  # fmt: skip
_READY = table({"yes": "have|ready|here|there|bought|packed|done|got",
                "no": "missing|gone|used up|empty|not ready|lost"})  # fmt: skip
_FIRST_DAY = timedelta(days=1)
# A pup at the very top of the published growth curve gains 13.8 % in a day (Alves 2020).
_MOST_UP, _MOST_DOWN = Decimal("0.20"), Decimal("0.20")
_MOST_DAYS = 14
# Pups leave at eight weeks or so (common practice); much earlier it is a slip, or a reservation.
_LEAST_LEAVING = timedelta(days=42)


def weigh(words: Words, ear: Ear) -> Weight:
    """``weigh red 340g``, ``w 3 12oz``, ``weigh dam 31kg``."""
    if words.phrase(_DAM) is not None:
        kilos = amounts.weight(words, ear.remarks, amounts.KILO)
        finish(words)
        if kilos is None:
            raise NotUnderstood(sentences.WEIGHT_MISSING, "weigh dam 31kg")
        return Weight(grams=kilos)
    first = _weight_before_pup(words, ear)
    pup = pup_in(words, ear)
    grams = amounts.weight(words, ear.remarks) if first is None else first
    if grams is None:
        raise NotUnderstood(sentences.WEIGHT_MISSING, f"weigh {pup} 340g")
    if names_a_pup(words, ear.context.litter, whole=False):
        raise NotUnderstood(sentences.ROUND_INSTEAD, f"round {pup} {plain(grams)}g ...")
    finish(words)
    _question(pup, grams, ear)
    return Weight(pup=pup, grams=grams)


def _weight_before_pup(words: Words, ear: Ear) -> Decimal | None:
    """A weight that stands before its pup: it has a unit, or is no pup's number."""
    start = words.place
    remarks: list[str] = []
    bare = number_in(words) is not None and words.key() not in amounts.WEIGHT_UNITS
    words.place = start
    grams = None if bare else amounts.weight(words, remarks)
    ear.remarks.extend(remarks)
    return grams


def weighing_round(words: Words, ear: Ear) -> Round:
    """``round red 340 blue 355 ...``: a pup and its weight, again and again, in one line."""
    weights: dict[int, Decimal] = {}
    kept, ear.remarks = ear.remarks, []
    while words.peek() is not None:
        pup = _pup_of_round(words, ear)
        remarks: list[str] = []
        grams = amounts.weight(words, remarks)
        name = named(ear.context.litter.pups[pup])
        if grams is None:
            raise NotUnderstood(sentences.ROUND_WEIGHT.format(name), sentences.ROUND_FIX)
        if pup in weights:
            raise NotUnderstood(sentences.ROUND_TWICE.format(name), sentences.ROUND_FIX)
        weights[pup] = grams
        kept += [remark for remark in remarks if "=" in remark]
    _question_round(weights, ear)
    ear.remarks = kept
    before = ear.before(Round)
    if before is not None:  # a correction changes what it names, and the others stay
        weights = {one.pup: one.grams for one in before.weights} | weights
    if not weights:
        raise NotUnderstood(sentences.WEIGHT_MISSING, sentences.ROUND_FIX)
    left = [named(pup) for pup in ear.context.litter.in_order if _missed(pup, weights, ear)]
    if left and ear.amending is None:
        ear.remarks.append(sentences.NOT_WEIGHED.format(", ".join(left)))
    return Round(weights=tuple(Weighed(pup=pup, grams=grams) for pup, grams in weights.items()))


def _pup_of_round(words: Words, ear: Ear) -> int:
    """The next pup of a round; a slip in a mark is answered with the whole line mended."""
    from difflib import get_close_matches

    token = words.peek()
    try:
        return pup_in(words, ear)
    except NotUnderstood as refused:
        marks = [pup.mark for pup in ear.context.litter.in_order if pup.mark]
        close = get_close_matches(token.key if token else "", marks, 1)
        if token is None or not close:
            raise
        mended = f"{words.text[: token.start]}{close[0]}{words.text[token.end :]}"
        raise NotUnderstood(refused.why, mended.strip(), recorded=True) from None


def _question_round(weights: dict[int, Decimal], ear: Ear) -> None:
    """Ask about weights that do not fit: two that are exchanged, or each for itself."""
    pups, at = ear.context.litter.pups, ear.moment()
    odd = [pup for pup, grams in weights.items() if _far_off(pups[pup], grams, at)]
    for one, other in combinations(odd, 2):
        if not _far_off(pups[one], weights[other], at) and not _far_off(
            pups[other], weights[one], at
        ):
            first, second = plain(weights[one]), plain(weights[other])
            ear.doubt(
                "exchanged",
                sentences.EXCHANGED.format(named(pups[one]), named(pups[other]), first, second),
                sentences.EXCHANGED_FIX.format(one, second, other, first),
            )
            odd = [pup for pup in odd if pup not in {one, other}]
            break
    for pup, grams in weights.items():
        if pup in odd or not _far_off(pups[pup], grams, at):
            _question(pup, grams, ear)


def _missed(pup: Pup, weights: dict[int, Decimal], ear: Ear) -> bool:
    return pup.here and pup.number not in weights and pup.born <= ear.moment()


def _question(pup: int, grams: Decimal, ear: Ear) -> None:
    """Ask about a weight that this pup can hardly have: a slip of the scale, or another pup."""
    known = ear.context.litter.pups[pup]
    _ask_if_gone(known, ear)
    if ear.moment() - known.born <= _FIRST_DAY:
        question_weight(grams, ear)
    if not _far_off(known, grams, ear.moment()) or known.weight is None:
        return
    change = (grams / known.weight - 1) * 100
    likely = _likely(known, grams, ear)
    fix = sentences.WRONG_PUP_FIX.format(named(likely)) if likely else sentences.WEIGH_AGAIN_FIX
    ear.doubt(
        "implausible",
        sentences.FAR_OFF.format(
            named(known), plain(known.weight), f"{plain(grams)} g", f"{change:+.0f}"
        ),
        fix,
    )


def _ask_if_gone(pup: Pup, ear: Ear) -> None:
    """Ask about a line on a pup that is written down as gone to its new home."""
    left = pup.milestones.get("left-home")
    if pup.alive and left is not None and ear.moment() > left[0] and ear.amending is None:
        ear.doubt("gone", sentences.GONE.format(named(pup)), sentences.GONE_FIX)


def _far_off(pup: Pup, grams: Decimal, at: datetime) -> bool:
    """Whether a weight is more than a fifth away from the last one, for each day since."""
    if pup.weight is None or pup.weighed is None or pup.weight == 0 or at <= pup.weighed:
        return False
    days = min(max((at - pup.weighed) / _FIRST_DAY, 1.0), float(_MOST_DAYS))
    most = (1 + _MOST_UP) ** Decimal(str(round(days, 3)))
    return not 1 - _MOST_DOWN <= grams / pup.weight <= most


def _likely(pup: Pup, grams: Decimal, ear: Ear) -> Pup | None:
    """The littermate this weight would fit best, if it fits any."""
    fitting = [
        (abs(grams - other.weight), other.number, other)
        for other in ear.context.litter.in_order
        if other is not pup and other.here and other.weight is not None
        if other.weighed is not None and not _far_off(other, grams, ear.moment())
    ]
    return min(fitting)[2] if fitting else None


def reflexes(words: Words, ear: Ear) -> Reflexes:
    """``reflex 3 suckle 2 rooting 1``, ``reflex 3 2 1 2``: suckle, rooting, righting."""
    pup = pup_in(words, ear)
    found: dict[str, ScoreItem | None] = {}
    order = iter(("suckle", "rooting", "righting"))
    while words.peek() is not None:
        name = words.phrase(_REFLEXES) or next(order, None)
        value = words.phrase(_HOW_GOOD)
        if name is None or value is None or name in found:
            raise NotUnderstood(sentences.REFLEX_ITEMS, f"reflex {pup} suckle 2 righting 2")
        found[name] = None if value == "?" else int(value)
    if not any(item is not None for item in found.values()):
        raise NotUnderstood(sentences.REFLEX_ITEMS, f"reflex {pup} suckle 2 righting 2")
    return Reflexes.model_validate({"pup": pup, **found})


def reached(name: MilestoneName, words: Words, ear: Ear) -> Milestone:
    """``eyes open 3``, or ``eyes open`` for the whole litter."""
    return Milestone(milestone=name, pup=_one_or_all(words, ear, _SAID_BEHIND[name]))


def left_home(words: Words, ear: Ear) -> Milestone:
    """``left home 3``: which pup must be said, for it ends what is asked about that pup."""
    pup = _one_or_all(words, ear, frozenset(("home",)), all_must_be_said=True)
    meant = [one for one in ear.context.litter.in_order if pup in {None, one.number}]
    if any(ear.moment() - one.born < _LEAST_LEAVING for one in meant):
        ear.doubt("gone", sentences.LEFT_SO_YOUNG, sentences.LEFT_SO_YOUNG_FIX)
    return Milestone(milestone="left-home", pup=pup)


def _one_or_all(
    words: Words, ear: Ear, behind: frozenset[str], *, all_must_be_said: bool = False
) -> int | None:
    """The pup a line names, or None for the whole litter."""
    if not ear.context.litter.pups:
        raise NotUnderstood(sentences.NO_PUPS)
    _skip(words, behind)
    whole = words.phrase(ALL) is not None or words.peek() is None
    if whole and all_must_be_said and words.tokens[-1].key not in ALL:
        return left_out(ear)
    pup = None if whole else pup_in(words, ear)
    _skip(words, behind)
    finish(words)
    if whole:
        ear.remarks.append(sentences.WHOLE_LITTER)
    return pup


def _skip(words: Words, some: frozenset[str]) -> None:
    while words.peek() is not None and words.key() in some:
        words.pop()


def chip(words: Words, ear: Ear) -> Milestone:
    """``chip 3 276098100000001``: the number as it was read from the pup."""
    pup = pup_in(words, ear)
    known = ear.context.litter.pups[pup]
    _ask_if_gone(known, ear)
    before = known.milestones.get("chipped", (None, ""))[1]
    number = plain_chip(words.free())
    if not number:
        raise NotUnderstood(sentences.CHIP_MISSING, f"chip {pup} 276098100000001")
    problem = chip_problem(number)
    if problem is not None:
        ear.doubt("chip", problem, sentences.CHIP_FIX)
    elif before not in {"", number} and ear.amending is None:
        ear.doubt("chip", sentences.CHIP_BEFORE.format(named(known), before), sentences.CHIP_FIX)
    for other in ear.context.litter.in_order:
        if other.number != pup and other.milestones.get("chipped", (None, ""))[1] == number:
            ear.doubt("chip", sentences.CHIP_TAKEN.format(named(other)), sentences.CHIP_FIX)
    return Milestone(milestone="chipped", pup=pup, number=number)


def kit(words: Words, _ear: Ear) -> Kit:
    """``kit towels``, ``kit towels missing``: an item of the preparation list."""
    token, have = words.peek(), "yes"
    if token is not None and token.quoted:
        text = words.pop().raw
        have = words.phrase(_READY) or have
        finish(words)
    else:
        text = words.free()
        for phrase in sorted(_READY, key=len, reverse=True):
            if text.casefold().endswith(f" {phrase}"):
                text, have = text[: -len(phrase) - 1].strip(), _READY[phrase]
                break
    if not text.strip(" ."):
        raise NotUnderstood(sentences.KIT_WHAT, "kit towels")
    return Kit(item=text, have=have == "yes")


_SAID_BEHIND: dict[MilestoneName, frozenset[str]] = {
    "cord-off": frozenset(("off", "dry", "gone", "stump")),
    "eyes-open": frozenset(("open", "opened", "opening", "eyes")),
    "ears-open": frozenset(("open", "opened", "opening", "ears")),
    "walking": frozenset(("walks", "walking")),
    "toilet": frozenset(("alone", "by", "themselves", "itself", "unaided", "without", "help")),
    "weaned": frozenset(("fully", "now")),
    "wormed": frozenset(("today", "again")),
    "vaccinated": frozenset(("today", "again", "first", "second")),
}
_REACHED: tuple[tuple[str, MilestoneName, str, tuple[str, ...]], ...] = (
    ("cord-off", "cord-off", "The dry cord has fallen off.", ("cord stump off", "stump off")),
    ("eyes-open", "eyes-open", "The eyes are open.", ("eyes opened", "eyes", "eyes opening")),
    ("ears-open", "ears-open", "The ears are open.", ("ears opened", "ears")),
    ("walking", "walking", "On its feet and walking.", ("walks",)),
    ("toilet", "toilet", "Passes urine and stool without help.", ("toilet alone", "toilets")),
    ("weaned", "weaned", "Eats without its dam's milk.", ("off milk fully", "fully weaned")),
    ("wormed", "wormed", "A worming was given.", ("worming", "dewormed", "wormer given")),
    ("vaccinated", "vaccinated", "A vaccination was given.", ("vaccination", "jab")),
)

WORDS = (
    Word("weigh", "weigh 3 340g", "A pup on the scale, or the dam.",
         ("weigh red 340g", "w 3 12oz", "weigh 3 1lb 3oz", "weigh dam 31kg"), weigh,
         synonyms=("w", "weight", "weighed", "weighs"), of_pup=True, by_day=True),
    Word("round", "round 1 340 2 355 ...", "A whole weighing round: each pup and its weight.",
         ("round red 340", "round 3 12oz", "round red 340g"), weighing_round,
         synonyms=("weighing", "weighing round", "weights", "weigh all", "weigh round"),
         by_day=True),
    Word("reflex", "reflex 3 suckle 2 rooting 1 righting 2",
         "Newborn reflexes: 0 absent, 1 weak, 2 good, ? for not tested.",
         ("reflex 3 2 1 2", "reflex 3 suckle 2", "reflex red suckle absent"), reflexes,
         synonyms=("reflexes",), of_pup=True),
    *(Word(word, f"{word} [3]", f"{meaning} Without a pup: the whole litter.",
           (f"{word.replace('-', ' ')} 3", word.replace("-", " ")), partial(reached, name),
           synonyms=synonyms, by_day=True) for word, name, meaning, synonyms in _REACHED),
    Word("chip", "chip 3 276098100000001", "The pup's chip number, as read.",
         ("chip 3 276098100000001", "chip red 900 123456789012"), chip,
         synonyms=("chipped", "microchip", "microchipped"), of_pup=True, by_day=True),
    Word("left-home", "left-home 3", "A pup has gone to its new home: nothing more is due for it.",
         ("left home 3", "left home red"), left_home,
         synonyms=("went home", "gone home", "new home", "collected"), of_pup=True, by_day=True),
    Word("kit", "kit ITEM [missing]", "An item of the preparation list is ready, or is missing.",
         ("kit towels", "kit scale missing"), kit, by_day=True),
)  # fmt: skip
