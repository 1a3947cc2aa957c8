"""Reading what is known beforehand: dates, scans, counts, facts about the dam, changed limits."""

import re
from decimal import Decimal

from boxlamp.language import amounts, sentences
from boxlamp.language.context import NotUnderstood
from boxlamp.language.details import FIELDS, KEYS, read_value
from boxlamp.language.ear import Ear, finish
from boxlamp.language.tokens import Words, table, words_of
from boxlamp.language.word import Word
from boxlamp.model.happenings import Details, Expect, Limit, Mating, Ovulation, Scan
from boxlamp.model.quantities import plain

_RISE = table({"rise": "rising|rose|first rise"})
_PUPS = table({"pups": "puppies|pup|puppy|seen|counted|heads|skulls|expected|by|from"})
_ROUGHLY = words_of("about around roughly approximately maybe perhaps probably ish so or")
"""What is said of a count by whoever is not sure of it: any count may be wrong."""
_TWO_COUNTS = r"(\d{1,2})\s*(?:[-\u2013]|or|to)\s*(\d{1,2})(?!\S)"
_METHODS = table({"xray": "x ray|x rays|radiograph", "scan": "ultrasound", "guess": "guessed"})
_MEASURES = table({"icc": "", "bpd": ""})
_LEVELS = table({"watch": "", "call": "", "go": ""})
_AT_ONCE = table({"at once": "at-once|immediately|0"})
_LIMIT = "limit gap-more-expected call 3h by Dr Novak; she is calm and strong"
_MOST_PUPS = 30
_OLDEST = 25
"""Our choice, in years: no dam is older, and a year of birth is no age."""


def mated(words: Words, _ear: Ear) -> Mating:
    """``mated [date]``."""
    finish(words)
    return Mating()


def ovulation(words: Words, ear: Ear) -> Ovulation:
    """``ovulation [date]``."""
    return _evidence("ovulation", words, ear)


def lh(words: Words, ear: Ear) -> Ovulation:
    """``lh [date]``: the day of the LH rise."""
    return _evidence("lh", words, ear)


def dioestrus(words: Words, ear: Ear) -> Ovulation:
    """``dioestrus [date]``: its first day."""
    return _evidence("dioestrus", words, ear)


def progesterone(words: Words, ear: Ear) -> Ovulation:
    """``progesterone 6.2 ng``, ``progesterone 19.7 nmol rise``."""
    return _evidence("progesterone", words, ear)


def _evidence(basis: str, words: Words, ear: Ear) -> Ovulation:
    rise = words.phrase(_RISE)
    value = amounts.progesterone(words, ear.remarks)
    rise = rise or words.phrase(_RISE)
    finish(words)
    if basis == "progesterone" and rise:
        basis = "progesterone-rise"
    return Ovulation.model_validate({"basis": basis, "value": value})


def scan(words: Words, _ear: Ear) -> Scan:
    """``scan 6 pups``, ``scan icc 30mm``."""
    return _seen("ultrasound", words)


def xray(words: Words, _ear: Ear) -> Scan:
    """``xray 6 pups``."""
    return _seen("xray", words)


def _seen(method: str, words: Words) -> Scan:
    count: int | None = None
    measure: str | None = None
    length: Decimal | None = None
    while words.peek() is not None:
        found = words.phrase(_MEASURES)
        if found is not None:
            if measure is not None:
                raise NotUnderstood(sentences.TWO_OF.format("measurements"), "scan icc 30mm")
            measure, length = found, amounts.millimetres(words)
        elif words.phrase(_PUPS) is None:
            count = amounts.whole(words, _MOST_PUPS) if count is None else None
            if count is None:
                finish(words)
    if (count is None and measure is None) or (measure is not None and length is None):
        word = "xray" if method == "xray" else "scan"
        raise NotUnderstood(sentences.SCAN_EMPTY, f"{word} 6 pups")
    return Scan.model_validate(
        {"method": method, "count": count, "measure": measure, "millimetres": length}
    )


def _one_count(words: Words) -> int | None:
    """The number of pups; of two (``5-6``, ``5 or 6``) the higher is offered, for it alerts more.

    That is our choice: with the lower one, a pup that has not come would not be waited for.
    """
    token = words.peek()
    rest = words.text[token.start :] if token is not None else ""
    two = re.match(_TWO_COUNTS, rest, re.ASCII)
    if two is not None:
        higher = max(map(int, two.groups()))
        raise NotUnderstood(sentences.ONE_COUNT, f"expect {higher}{rest[two.end() :]}")
    return amounts.whole(words, _MOST_PUPS)


def expect(words: Words, _ear: Ear) -> Expect:
    """``expect 6 xray/scan/guess``."""
    count, method = None, None
    while words.peek() is not None:
        if (found := words.phrase(_METHODS)) is not None:
            method = found
        elif words.key() in _ROUGHLY:
            words.pop()
        elif words.phrase(_PUPS) is None:
            count = _one_count(words) if count is None else None
            if count is None:
                finish(words)
    if count is None:
        raise NotUnderstood(sentences.COUNT_MISSING, "expect 6 xray")
    return Expect.model_validate({"count": count, "method": method or "guess"})


def set_details(words: Words, ear: Ear) -> Details:
    """``set KEY VALUE``; several at once are parted by `` / ``."""
    changes: dict[str, object] = {}
    while words.peek() is not None:
        key = words.phrase(KEYS)
        if key is None:
            raise NotUnderstood(sentences.SET_WHAT.format(", ".join(FIELDS)), "set travel 25 min")
        end = words.find("/")
        changes |= read_value(key, words.free(until=end))
        if end is not None:
            words.pop()
    if not changes:
        raise NotUnderstood(sentences.SET_WHAT.format(", ".join(FIELDS)), "set travel 25 min")
    told = Details.model_validate(changes)
    if told.age_years is not None and told.age_years > _OLDEST:
        sentence = sentences.IMPLAUSIBLE_AGE.format(plain(told.age_years))
        ear.doubt("implausible", sentence, sentences.IMPLAUSIBLE_AGE_FIX)
    return told


def limit(words: Words, ear: Ear) -> Limit:
    """``limit RULE [CLOCK] call 3h by WHO; why``."""
    rule = _name(words)
    token = words.peek()
    level_follows = token is not None and token.key in _LEVELS and not token.quoted
    clock = None if level_follows else _name(words)
    level = words.phrase(_LEVELS)
    length = 0 if words.phrase(_AT_ONCE) else amounts.seconds(words)
    if not rule or level is None or length is None or words.key() != "by":
        raise NotUnderstood(sentences.LIMIT_PARTS, _LIMIT)
    words.pop()
    who, why = words.free(), ear.take_note()
    if not who or not why:
        raise NotUnderstood(sentences.LIMIT_PARTS, _LIMIT)
    return Limit.model_validate({
        "rule": rule, "clock": clock or "main", "level": level, "seconds": length,
        "by": who, "why": why,
    })  # fmt: skip


def _name(words: Words) -> str:
    token = words.peek()
    if token is None:
        return ""
    words.pop()
    return token.raw if token.quoted else token.key


WORDS = (
    Word("mated", "mated [DATE]", "She was mated or inseminated.", ("mated 2026-01-01", "mated"),
         mated, synonyms=("mating", "bred", "inseminated", "insemination"), dated=True),
    Word("ovulation", "ovulation [DATE]", "The day she ovulated, as found by the vet.",
         ("ovulation 2026-01-02",), ovulation, synonyms=("ovulated",), dated=True),
    Word("lh", "lh [DATE]", "The day of the LH rise.", ("lh 2026-01-01",), lh,
         synonyms=("lh surge", "lh rise", "lh peak"), dated=True),
    Word("progesterone", "progesterone 6.2 ng [rise] [DATE]",
         "A progesterone value, in ng/mL or nmol/L; 'rise' for the first rise.",
         ("progesterone 6.2 ng", "progesterone 19.7 nmol rise 2026-01-01"), progesterone,
         synonyms=("prog", "p4"), dated=True),
    Word("dioestrus", "dioestrus [DATE]", "The first day of dioestrus.", ("dioestrus 2026-01-08",),
         dioestrus, synonyms=("diestrus", "dioestrus day 1", "diestrus day 1"), dated=True),
    Word("scan", "scan 6 pups / icc 30mm / bpd 22mm", "An ultrasound scan.",
         ("scan 6 pups", "scan icc 30mm", "scan bpd 22mm 2026-02-10"), scan,
         synonyms=("ultrasound", "scanned"), dated=True),
    Word("xray", "xray 6 pups", "An x-ray count.", ("xray 6 pups", "x-ray 6"), xray,
         synonyms=("x ray", "x rayed", "xrayed", "radiograph"), dated=True),
    Word("expect", "expect 6 [xray/scan/guess]", "How many pups are expected, and by what.",
         ("expect 6 xray", "expect 5"), expect, synonyms=("expected", "expecting"), dated=True),
    Word("set", "set KEY VALUE", "A fact about the dam: " + ", ".join(FIELDS) + ".",
         ("set vet-phone 01234 567890", "set weight 12.4kg", "set age 5y", "set first-litter yes"),
         set_details, by_day=True, any_age=True),
    Word("limit", "limit RULE [CLOCK] call 3h by WHO; why",
         "A limit changed for this litter on a vet's word.", (_LIMIT,), limit, by_day=True),
)  # fmt: skip
