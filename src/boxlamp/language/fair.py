"""What a hint may say: nothing that the line did not say.

A hint is copied in a hurry. A pup, an entry, a weight, a time, a colour, a sign or a vet's advice
that was not typed would then stand in the record as if somebody had seen it. So whatever a line
did not tell is left open in its hint: ``N`` for a number, ``HH:MM`` for a time, ``...`` for the
rest. A line that denies something is never answered with what it denies.
"""

import re
from collections import Counter
from collections.abc import Iterator, Mapping

from boxlamp.language.clock import Spoken, cut_when
from boxlamp.language.hear_dam import CONTACTS
from boxlamp.language.hear_pups import FATES, FINDINGS
from boxlamp.language.pups import NUMBER, NUMBERS, mentioned
from boxlamp.language.terms import (
    ALIVE,
    AMOUNTS,
    BIRTH_STATES,
    COLOURS,
    DAM_SIGNS,
    FOUL,
    PARTS,
    PRESENTATIONS,
    PUP_SIGNS,
    SEXES,
    SIGNS,
    STRENGTHS,
)
from boxlamp.language.tokens import Words, table, words_of
from boxlamp.language.vocabulary import COMMANDS
from boxlamp.model.litter import Litter

OPEN = "..."
_OPEN = frozenset((OPEN, NUMBER, f"{OPEN}g", "HH:MM", "YYYY-MM-DD"))
_LEFT_OPEN = "HH:MM "
_CORRECTS = re.compile(r"amend (\d{1,9}) (?=\S)", re.ASCII)
_CLOCK = re.compile(r"\d{1,2}:\d\d(?::\d\d)?(?:Z|[+-]\d\d:\d\d)?")
_DATE = re.compile(r"\d{4}-\d\d-\d\d")
_AMOUNT = re.compile(r"\d+(?:[.,]\d+)?(g|kg|ml|mm)\Z")
_DIGITS = re.compile(r"\d+")
_PLAIN = words_of("pup pups dam box of for x by or note ago entry why not seen something alive / ?")
"""Words of a hint that claim nothing here: ``alive`` is only offered for a pup that is written
down as dead, and ``not seen`` for an afterbirth that there is none of."""
_ONE_ENTRY = words_of("strike amend")
_COMPLETE = words_of("waters contraction sac rest settled afterbirth to-teat milk breathing dried "
                     "airway sac-open cord feed")  # fmt: skip
"""Words that need nothing more (or only a pup): what is left open behind them is left out."""
_DENIALS = words_of("not no never isn't isnt hasn't hasnt won't wont can't cant cannot don't dont "
                    "doesn't doesnt didn't didnt without except apart nothing stopped barely "
                    "hardly scarcely struggling struggles fighting")  # fmt: skip
_TELLS_OF_NONE = words_of(
    "rest refused-food off-food cannot-stand limp none stopped amend strike alive part"
)
"""Words of a hint by which it says itself that something is not so, or that correct the record."""
_SAME = table({
    "foul": "smell|smells|smelly|stinks|stink", "red": "bleed|bleeds|bleeding|bloody",
    "fits": "convulsion|convulsions", "trembling": "shaking|shakes", "feet": "feet|legs|paws",
    "called": "answer|answers|answering",
})  # fmt: skip
_DENIED_BREATH = words_of(
    "not no never isn't isnt hasn't hasnt cannot can't cant won't wont doesn't doesnt stopped "
    "barely hardly scarcely struggling struggles fighting"
)
_BADLY = words_of("poorly badly weakly weak irregular irregularly shallow slow slowly only limp "
                  "gasping gasps rattling crackling noisy noisily hard")  # fmt: skip
"""How a pup breathes that is not well: the line that ends its clock is not offered for it."""
_BREATH = words_of("breath breathe breathing breathes")
_TABLES: tuple[Mapping[str, str], ...] = (
    _SAME, COLOURS, AMOUNTS, FOUL, STRENGTHS, PARTS, SIGNS, DAM_SIGNS, PUP_SIGNS, SEXES,
    BIRTH_STATES, PRESENTATIONS, CONTACTS, FATES, ALIVE, *FINDINGS.values(),
)  # fmt: skip
_CLOSE = 0.8
_HIGHEST_CLOCK = 4
_FIRST_TEN = ["first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth",
              "tenth"]  # fmt: skip
_ORDINALS = {word: place for place, word in enumerate(_FIRST_TEN, start=1)}


def fair(hint: str, line: str, litter: Litter) -> str:
    """The hint with everything left open that the line did not say; nothing if it denies that."""
    told = (_fair(one, line, litter) for one in hint.split("\n")) if hint else ()
    return "\n".join(filter(None, told))


def timed(hint: str, typed: str, spoken: Spoken | None) -> str:
    """The hint with the time as typed in front of each of its lines that has none."""
    return "\n".join(
        one if cut_when(one)[0] is not None else f"{_when(spoken, one) if spoken else typed} {one}"
        for one in hint.split("\n")
    )


def _when(spoken: Spoken, hint: str) -> str:
    """The time as it was typed; where a day alone is not enough, with the clock left open."""
    command = Words(hint).phrase(COMMANDS)
    word = command[0] if command is not None else None
    if spoken.day_only and word is not None and not (word.dated or word.by_day):
        return f"{spoken.text} HH:MM"
    return spoken.typed


def _fair(hint: str, line: str, litter: Litter) -> str:
    if hint.startswith(_LEFT_OPEN):
        told = _fair(hint.removeprefix(_LEFT_OPEN), line, litter)
        return f"{_LEFT_OPEN}{told}" if told else ""
    corrects = _CORRECTS.match(hint)
    if corrects is not None and _Said(line, litter).numbers[int(corrects[1])]:
        told = _fair(hint[corrects.end() :], line, litter)
        return f"{corrects[0]}{told}" if told else ""
    said = _Said(line, litter)
    _when, rest = cut_when(hint)
    when = said.time(hint[: len(hint) - len(rest)])
    if not rest.strip(" ."):
        return when  # 02:14 ...
    told = _fair_words(rest, said)
    return f"{when}{told}" if told else ""


def _fair_words(hint: str, said: "_Said") -> str:
    words = Words(hint)
    command = words.phrase(COMMANDS)
    word = command[0].word if command is not None else ""
    if word == "note":
        return hint
    if said.denies(words):
        return ""
    if word == "limit":
        said.values.clear()  # a reason is the vet's own words, and stands for nothing else
    led, found = words.place, list[str]()
    pup_open = command is not None and command[0].of_pup
    for place, token in enumerate(words.tokens):
        typed = hint[token.start : token.end]
        raw = typed.rstrip(";")
        number = _DIGITS.search(raw) is not None
        if place < led or raw in _OPEN or said.tells(token.key):
            kept = raw
        elif number:
            before = found[-1] if found else ""
            at_pup = (pup_open and raw.isdigit()) or before in {"pup", "of"}
            kept = said.number(raw, at_pup=at_pup, entry=before in _ONE_ENTRY)
            pup_open = pup_open and not raw.isdigit()
        else:
            kept = NUMBER if word in _ONE_ENTRY and token.key == "last" else OPEN
        if not (kept == OPEN and found[-1:] == [OPEN]):
            found.append(f"{kept};" if typed.endswith(";") else kept)
    return _without_what_is_not_needed(found, word)


def _without_what_is_not_needed(found: list[str], word: str) -> str:
    if word == "ack" and OPEN in found:
        return ""  # copied as it stands it would take notice of everything
    if word in _COMPLETE:
        found = [one for one in found if one != OPEN]
    if word == "part" and found == ["part", OPEN]:
        found = ["part", "something"]
    return " ".join(found)


class _Said:
    """What a line says, however it is spelt: words, what they stand for, numbers and pups."""

    def __init__(self, line: str, litter: Litter) -> None:
        self.words = Words(line)
        self.keys = [token.key for token in self.words.tokens]
        self.all = {part for key in self.keys for part in (key, *key.split(";"), *key.split("-"))}
        self.values = set(self._values())
        self.pups = {str(pup) for pup in mentioned(Words(line), litter)}
        self.numbers = Counter(self._numbers())
        self.times = self.numbers + Counter(self._in_times())

    def _values(self) -> Iterator[str]:
        for place in range(len(self.keys)):
            for lookup in _TABLES:
                self.words.place = place
                found = self.words.phrase(lookup)
                if found is not None:
                    yield found
        if not (_BREATH.isdisjoint(self.keys) or _DENIED_BREATH.isdisjoint(self.keys)):
            yield "not-breathing"

    def _numbers(self) -> Iterator[int]:
        for key in self.keys:
            yield from (int(digits[:9]) for digits in _DIGITS.findall(key) if digits.isascii())
            known = NUMBERS.get(key) or _ORDINALS.get(key)
            if known is not None:
                yield known

    def _in_times(self) -> Iterator[int]:
        """What ``0210``, ``2pm`` and ``2`` add to the numbers of a time."""
        for key in self.keys:
            for digits in _DIGITS.findall(key):
                if key == digits and len(digits) <= 2:  # noqa: PLR2004 - 2 is 2:00
                    yield 0
                if 2 < len(digits) <= _HIGHEST_CLOCK:  # noqa: PLR2004 - 210 or 0210
                    yield from (int(digits[:-2]), int(digits[-2:]))
                if key.endswith("pm") or "pm" in self.keys:
                    yield from (int(digits[:2]) + 12, 0)

    def tells(self, key: str) -> bool:
        """Whether a word of the hint was said, in these or other words, or claims nothing."""
        if key in _PLAIN or key in self.values:
            return True
        if _DIGITS.search(key):
            return False
        from difflib import get_close_matches

        close = get_close_matches(key, self.all, 1, _CLOSE) if key else []
        return key in self.all or any(one[0] == key[0] for one in close)

    def time(self, raw: str) -> str:
        """A time of a hint: what the line has of it, and else where to put it."""
        raw = _DATE.sub(lambda day: day[0] if self._has(day[0]) else "YYYY-MM-DD", raw)
        return _CLOCK.sub(lambda clock: clock[0] if self._has(clock[0]) else "HH:MM", raw)

    def _has(self, digits: str) -> bool:
        return Counter(int(one[:9]) for one in _DIGITS.findall(digits)) <= self.times

    def number(self, raw: str, *, at_pup: bool, entry: bool) -> str:
        """A number, an amount or a time of a hint as it may be shown."""
        groups = [int(digits[:9]) for digits in _DIGITS.findall(raw)]
        if _CLOCK.search(raw) or _DATE.search(raw):
            return self.time(raw)
        if at_pup and raw in self.pups:
            self.numbers[int(raw)] -= 1
            return raw
        counted = Counter(groups)
        if not at_pup and counted <= self.numbers:
            self.numbers -= counted
            return raw
        if at_pup or entry:
            return NUMBER
        amount = _AMOUNT.match(raw)
        return f"{OPEN}{amount[1]}" if amount else OPEN

    def denies(self, hint: Words) -> bool:
        """Whether the line denies something, and the hint passes over it."""
        if "breathing" in {token.key for token in hint.tokens[:1]} and not _BADLY.isdisjoint(
            self.keys
        ):
            return True
        if _DENIALS.isdisjoint(self.keys):
            return False
        return not any(
            token.key in _TELLS_OF_NONE or not _DENIALS.isdisjoint(token.key.split("-"))
            for token in hint.tokens
        )
