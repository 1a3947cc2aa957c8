"""A line that was refused, answered with the line that says what is plainly meant.

Nothing is read here: who was mended, marked, or is pink again is written down only by the line
that is offered. A hint ends an alert no more than a guess does; it is typed by whoever knows.
"""

import re
from collections.abc import Callable

from boxlamp.language import sentences
from boxlamp.language.context import NotUnderstood
from boxlamp.language.ear import Ear
from boxlamp.language.pups import NUMBER, compared, mentioned, names_a_pup
from boxlamp.language.say import say
from boxlamp.language.terms import MARK_COLOURS, SEXES, is_plain_mark
from boxlamp.language.text import asks
from boxlamp.language.tokens import NOISE, Words, words_of
from boxlamp.language.vocabulary import COMMANDS
from boxlamp.model.happenings import Birth, Note
from boxlamp.model.litter import Litter

_FLAGS = re.IGNORECASE | re.ASCII
_NOT = words_of("not isn't isnt wasn't wasnt aren't arent won't wont doesn't doesnt don't dont "
                "hasn't hasnt never no cannot can't cant stopped")  # fmt: skip
_NOT_SO = words_of("not isn't isnt wasn't wasnt")
_ACTUALLY = _NOT_SO | words_of("actually really sorry oops")
_OF_A_SEX = words_of("is was he's hes she's shes it's its a an the one pup puppy and but after all "
                     "i meant")  # fmt: skip
_WORN = words_of("collar string ribbon tag band wool yarn thread tape")
_PLACED = words_of("on round around")
_SUCKING = words_of("sucking suckling suck suckle feeding feed nursing nurse drinking")
_BESIDE_NOT = words_of("really even yet properly been much")
_DAM = words_of("she she's shes dam mum mother her")
_NOSE = words_of("nose nostril nostrils")
_LIVELY = words_of("cried cries crying pink breathing breathes breathed squeaked squeaking yelled")
_BESIDE_IT = NOISE | words_of(
    "he he's hes she's shes it's i i've ive we we've weve him pup puppy one rubbed ok okay fine "
    "good well moving wriggling warm better finally at last been are very lovely loud loudly yes "
    "then back so this that"
)
"""What may stand beside it; whatever else is said of its breath ("hardly") may be a trouble."""
_GASPED = words_of("gasped gasps")
_IN_TROUBLE = frozenset(("limp", "not-breathing", "gasping"))
_EARLIER = words_of("last yesterday earlier tonight nite night morning evening afternoon before")
_OF_A_READING = (
    NOISE
    | _EARLIER
    | words_of(
        "temp temperature temps dam dam's mum at to from dropped drops fell falling fallen "
        "down up gone went going been about around only still reading reads this today c degrees so"
    )
)
_CAR = words_of("car van road")
_GRAMS = r"\s*(?:g|gr|grams?)?"
_WEIGHT_NOT = rf"\b(?P<grams>\d{{2,4}}){_GRAMS}\s*,?\s+not\s+\d{{2,4}}{_GRAMS}\W*\Z"
_PUP_NOT = r"\bpup\s+(?P<right>\d{1,2})\s*,?\s+not\s+(?:pup\s+)?(?P<wrong>\d{1,2})\W*\Z"
_DEGREES = r"(?<![\d.,])(?P<celsius>3[4-9]|4[0-2])(?P<part>[.,]\d{1,2})(?![\d.,])"


def otherwise(refused: NotUnderstood, body: str, ear: Ear) -> NotUnderstood:
    """The refusal with the line that is plainly meant; as it was where nothing is plain."""
    if refused.recorded or ear.inside or asks(body):
        return refused
    words = Words(body)
    command = words.phrase(COMMANDS)
    words.place = 0
    if command is not None and command[0].word in {"amend", "strike", "note", "set", "limit"}:
        return refused
    keys = [token.key for token in words.tokens]
    for one in _ANSWERS:
        if (found := one(words, keys, ear)) is not None:
            why, nearest = found
            return NotUnderstood(f"{sentences.NO_CLOCK} {why}", nearest)
    return refused


_Answer = tuple[str, str] | None


def _another_pup(_words: Words, _keys: list[str], ear: Ear) -> _Answer:
    """``sorry that was pup 1 not 2``: the last entry, if it is of pup 2, said of pup 1."""
    found = re.search(_PUP_NOT, _words.text, _FLAGS)
    if found is None:
        return None
    right, wrong = int(found["right"]), int(found["wrong"])
    last = max(
        (
            entry
            for entry in (ear.context.current or {}).values()
            if not (isinstance(entry.what, Note) and entry.what.unread)
        ),
        key=lambda entry: entry.id,
        default=None,
    )
    if last is None or right not in ear.context.litter.pups or isinstance(last.what, Birth):
        return (sentences.IF_A_SLIP, f"amend {NUMBER} ...")
    if getattr(last.what, "pup", None) != wrong:
        return (sentences.IF_A_SLIP, f"amend {NUMBER} ...")
    mended = say(last.what.model_copy(update={"pup": right}))
    return (sentences.IF_A_SLIP, f"amend {last.id} {mended}")


def _another_weight(words: Words, _keys: list[str], ear: Ear) -> _Answer:
    """``the red one was 310g not 300``."""
    found = re.search(_WEIGHT_NOT, words.text, _FLAGS)
    if found is None:
        return None
    before = Words(words.text[: found.start()])
    pups = mentioned(before, ear.context.litter)
    if len(pups) != 1:
        return None
    return (sentences.IF_A_SLIP, f"weigh {pups[0]} {found['grams']}g")


def _another_sex(words: Words, keys: list[str], ear: Ear) -> _Answer:
    """``green is actually a boy``, ``red is a girl not a boy``."""
    if _ACTUALLY.isdisjoint(keys):
        return None
    while words.key() in {"the", "pup", "puppy", "actually", "sorry", "oops"}:
        words.place += 1
    pups = mentioned(Words(words.text, words.tokens[words.place : words.place + 3]),
                     ear.context.litter)  # fmt: skip
    if len(pups) != 1 or not names_a_pup(words, ear.context.litter, whole=True):
        return None
    sex, denied = "", False
    for token in words.tokens[words.place :]:
        if token.key in SEXES:
            sex = sex or ("" if denied else SEXES[token.key])
            denied = False
        elif token.key in _NOT_SO:
            denied = True
        elif token.key not in _OF_A_SEX | _ACTUALLY:
            return None
    return (sentences.IF_A_SLIP, f"sex {pups[0]} {sex}") if sex else None


_NO_MARK = words_of("lost out born")
"""Where it is told what happened to a pup, its mark is told beside it."""


def another_mark(words: Words, keys: list[str], litter: Litter) -> str:
    """``put a blue collar on red``, ``pup 1 isnt red hes blue``: the line of a mark, or ''."""
    colours = [key for key in keys if key in MARK_COLOURS]
    if not litter.pups or not colours or is_plain_mark(keys) or not _NO_MARK.isdisjoint(keys):
        return ""
    worn = not _WORN.isdisjoint(keys) or {"put", "mark"} <= set(keys)
    if worn and keys[0] not in {"pup", "puppy"}:
        placed = next((place for place, key in enumerate(keys) if key in _PLACED), len(keys))
        colour = next((key for key in keys[:placed] if key in MARK_COLOURS), "")
        pups = mentioned(Words(words.text, words.tokens[placed + 1 :]), litter)
        if not colour or not _NOT.isdisjoint(keys):
            return ""
        return f"mark {pups[0] if len(pups) == 1 else NUMBER} {colour}"
    found = re.match(r"pup\s+(\d{1,2})\b", words.text, _FLAGS)
    denied = [place for place, key in enumerate(keys[:-1])
              if key in _NOT_SO and keys[place + 1] in MARK_COLOURS]  # fmt: skip
    others = [key for place, key in enumerate(keys)
              if key in MARK_COLOURS and place - 1 not in denied]  # fmt: skip
    if found is None or not denied or len(others) != 1 or int(found[1]) not in litter.pups:
        return ""
    return f"mark {int(found[1])} {others[0]}"


def _marked(words: Words, keys: list[str], ear: Ear) -> _Answer:
    """A mark, and never how a pup looks."""
    line = another_mark(words, keys, ear.context.litter)
    return (sentences.IF_A_MARK, line) if line else None


def _milk_at_nose(words: Words, keys: list[str], ear: Ear) -> _Answer:
    """``blue has milk coming out of his nose``."""
    if "milk" not in keys or _NOSE.isdisjoint(keys) or not _NOT.isdisjoint(keys):
        return None
    pups = mentioned(words, ear.context.litter)
    return _of_each("milk-at-nose", pups, ear.context.litter)


def _not_suckling(words: Words, keys: list[str], ear: Ear) -> _Answer:
    """``green and blue arent sucking``."""
    said = [place for place, key in enumerate(keys) if key in _SUCKING]
    led = [key for key in keys[: said[0]] if key not in _BESIDE_NOT] if len(said) == 1 else []
    if _NOT.isdisjoint(led[-1:]) or not _DAM.isdisjoint(keys):
        return None
    pups = mentioned(words, ear.context.litter)
    several = any(key in keys for key in ("except", "but", "others"))
    return None if several or not pups else _of_each("not-suckling", pups, ear.context.litter)


def _of_each(sign: str, pups: list[int], litter: Litter) -> _Answer:
    if not litter.pups:
        return None
    named = [str(pup) for pup in pups] or [NUMBER]
    return (sentences.IF_A_SIGN, "\n".join(f"state {pup} {sign}" for pup in named))


def _recovered(words: Words, keys: list[str], ear: Ear) -> _Answer:
    """``hes pink and breathing now``, of the one pup in trouble; a gasp is no breath yet."""
    litter = ear.context.litter
    ill = [pup.number for pup in litter.in_order if _in_trouble(pup.number, litter)]
    named = mentioned(words, litter)
    if not _NOT.isdisjoint(keys) or not ((len(named) == 1 and named[0] in ill) or
                                         (not named and len(ill) == 1)):  # fmt: skip
        return None
    pup = named[0] if named else ill[0]
    if not _GASPED.isdisjoint(keys):
        return (sentences.A_GASP, f"state {pup} gasping")
    own = {str(pup), *compared(litter.pups[pup].mark or "").split()}
    if not _LIVELY.isdisjoint(keys) and set(keys) <= own | _LIVELY | _BESIDE_IT:
        return (sentences.IF_IT_BREATHES, f"breathing {pup}")
    return None


def _in_trouble(number: int, litter: Litter) -> bool:
    """Whether this pup was last seen limp, gasping or without breath."""
    pup = litter.pups[number]
    if not pup.alive:
        return False
    breathed = pup.steps.get("breathing")
    if not _IN_TROUBLE.isdisjoint(pup.signs):
        return breathed is None or pup.looked is None or breathed[0] < pup.looked
    return pup.state == "limp" and breathed is None and pup.looked is None


def _temperature(words: Words, keys: list[str], ear: Ear) -> _Answer:
    """``temp was 36.9 last nite``: the reading, its time left open where it was not now."""
    if not keys or keys[0] not in {"temp", "temperature", "temps"}:
        return None
    found = re.findall(_DEGREES, words.text, _FLAGS)
    others = [key for key in keys if not re.match(_DEGREES, key, _FLAGS)]
    if len(found) != 1 or len(others) != len(keys) - 1 or not set(others) <= _OF_A_READING:
        return None
    reading = f"temp {found[0][0]}{found[0][1].replace(',', '.')}"
    led = ear.spoken is not None or ear.behind
    earlier = not led and not _EARLIER.isdisjoint(keys)
    return (sentences.IF_HER_TEMPERATURE, f"HH:MM {reading}" if earlier else reading)


def _on_the_road(_words: Words, keys: list[str], ear: Ear) -> _Answer:
    """``were in the car``, ``were back``, ``got there``."""
    said = [key for key in keys if key not in {"we", "we're", "were", "are", "now", "all", "just"}]
    if said[:2] == ["in", "the"] and not _CAR.isdisjoint(said[2:3]):
        return (sentences.IF_ON_THE_WAY, "left for vet")
    if said in (["back"], ["back", "again"]):
        return (sentences.IF_HOME, "note home")
    if said[:1] == ["at"] and set(said[1:]) in ({"the", "vet"}, {"the", "vets"}, {"vet"}, {"vets"}):
        return (sentences.IF_AT_THE_VET, "at the vet")
    if said in (["got", "there"], ["arrived"], ["there"]) and ear.context.litter.left_for_vet:
        return (sentences.IF_AT_THE_VET, "at the vet")
    return None


def _given_up(_words: Words, keys: list[str], _ear: Ear) -> _Answer:
    """``seems to have given up``."""
    for place, key in enumerate(keys[:-1]):
        if key in {"given", "gave", "giving"} and keys[place + 1] == "up":
            return (sentences.GIVEN_UP, "rest")
    return None


_ANSWERS: tuple[Callable[[Words, list[str], Ear], _Answer], ...] = (
    _another_pup, _another_weight, _another_sex, _marked, _milk_at_nose, _not_suckling,
    _recovered, _temperature, _on_the_road, _given_up,
)  # fmt: skip
