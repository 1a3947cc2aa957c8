"""What shows in a pup: every sign that still stands, the gravest first, and what was noted."""

from collections.abc import Iterator
from typing import NamedTuple

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import PupState, Step
from boxlamp.model.levels import pup_subject
from boxlamp.model.litter import Pup
from boxlamp.paper.call_sheet.pup_lives import cry_of_recovery
from boxlamp.paper.call_sheet.teller import Teller
from boxlamp.paper.call_sheet.words import listed
from boxlamp.paper.telling_words import PUP_WORDS
from boxlamp.rules import not_breathing, pup_sign

_BREATH = ("not-breathing", "gasping", "blue", "limp")


class Shown(NamedTuple):
    """A sign of a pup, and the last line that spoke of it; None when only its birth did."""

    sign: str
    words: str
    entry: Entry | None


def shown(pup: Pup, teller: Teller) -> list[Shown]:
    """What the newest line says of a pup, and what else still stands of it by the rules.

    A newer line that does not speak of a sign does not end it: a pup that was blue an hour ago
    and is now called cold may be both.
    """
    if pup.state == "limp" and "breathing" not in pup.steps and not pup.signs:
        words = f"{not_breathing.limp_words(pup.birth)} at birth, breathing not written down"
        return [Shown("limp", words, None)]
    lines = [
        entry
        for entry in teller.verdict.story.of(PupState, Step)
        if getattr(entry.what, "pup", None) == pup.number
    ]
    found = [
        Shown(sign, PUP_WORDS[sign], _last(sign, lines))
        for sign in (*pup.signs, *PUP_WORDS)
        if sign != "well" and (sign in pup.signs or _stands(sign, pup, teller, lines))
    ]
    if {one.sign for one in found} == {"crying"} and _told_as_recovery(pup, teller, lines):
        return []
    return sorted(dict.fromkeys(found), key=_grave)


def _told_as_recovery(pup: Pup, teller: Teller, lines: list[Entry]) -> bool:
    """Whether its cry is what shows that it came round, and nothing else is to be told of it."""
    cry = cry_of_recovery(pup, teller)
    newest = cry is not None and cry.at == pup.looked and pup.celsius is None
    return newest and not _stands("crying", pup, teller, lines)


def _grave(one: Shown) -> int:
    return -1 if one.sign == "not-breathing" else pup_sign.RULE.rank(one.sign)


def _last(sign: str, lines: list[Entry]) -> Entry | None:
    """The newest line that speaks of a sign."""
    return next((entry for entry in reversed(lines) if sign in _signs(entry)), None)


def _signs(entry: Entry) -> tuple[str, ...]:
    match entry.what:
        case PupState(signs=signs):
            return signs
        case Step(step="palate", finding="cleft"):
            return ("cleft-palate",)
        case _:
            return ()


def _stands(sign: str, pup: Pup, teller: Teller, lines: list[Entry]) -> bool:
    """Whether a clock still runs for a sign, though newer lines do not speak of it."""
    for clock in teller.verdict.clocks:
        spell = clock.spell
        if spell.subject != pup_subject(pup.number):
            continue
        if spell.rule == pup_sign.ID and spell.clock == sign:
            return True
        if spell.rule == not_breathing.ID and sign in _BREATH:
            return any(sign in _signs(entry) for entry in lines if entry.at >= spell.since)
    return False


def told_signs(pup: Pup, teller: Teller) -> Iterator[str]:
    """``gasping and blue at 04:00, 1 h ago``, then ``cold at 05:00, just now``."""
    groups: dict[int | None, list[Shown]] = {}
    for one in shown(pup, teller):
        groups.setdefault(one.entry.id if one.entry else None, []).append(one)
    for group in groups.values():
        entry, words = group[0].entry, listed([one.words for one in group])
        yield f"{words} {teller.noted(entry)}" if entry is not None else words
