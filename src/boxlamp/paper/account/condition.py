"""How one pup is now, as far as the record says."""

import re
from collections.abc import Iterator
from datetime import datetime
from decimal import Decimal
from typing import get_args

from boxlamp.engine import Alert, Verdict
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Feed, Milestone, PupState, Step, Temperature
from boxlamp.model.levels import LITTER, pup_subject
from boxlamp.model.litter import Pup
from boxlamp.model.seen import PupSign
from boxlamp.paper.telling_words import PUP_WORDS
from boxlamp.rules import not_breathing, pup_cold, pup_sign
from boxlamp.rules.rule import Group
from boxlamp.rules.sickness import LASTING, Sickness, ended_by
from boxlamp.rules.spell import span

_KINDS = (Birth, Feed, Milestone, PupState, Step, Temperature)
_BREATHES = frozenset({"limp", "gasping", "blue", "not-breathing"})
"""What is over once it breathes; a pup that cries or is well breathes too."""
_LIMP: PupSign = "limp"
_WELL: PupSign = "well"
_CRYING: PupSign = "crying"
_OF_PUPS: Group = "each pup"
_SEVERAL = re.compile(r"\bpups? (\d+(?:(?:,| and) \d+)*)")
_UNFED: PupSign = "not-suckling"


def condition_of(pup: Pup, verdict: Verdict) -> str:
    """``dead``, ``left home``, its signs in plain words, ``well``; empty when nothing was said.

    A sign stands as it does for the alerts: until what ends it by nature, and no longer than a
    sign is taken to stand that nobody writes of again. What a pup was born with, such as a cleft
    palate, stands until it is said to be otherwise; that the vet has advised does not mend it. A
    pup born limp is limp until it is said to breathe or to be well. ``well`` is the last
    word while it is the newest; a sign after it, even one that has run out, takes it back.
    """
    if not pup.alive:
        return "dead"
    if not pup.here:
        return "left home"
    signs: dict[PupSign, datetime] = {}
    for entry in verdict.story.of(*_KINDS):
        if _meant(entry, pup):
            _take(signs, entry)
    lasting = Sickness(verdict.book, pup_sign.ID, {})
    standing = [
        PUP_WORDS[sign]
        for sign, at in signs.items()
        if sign != _WELL and (sign in LASTING or at + lasting.lasts(sign) > verdict.at)
    ]
    return ", ".join(standing) or (PUP_WORDS[_WELL] if _WELL in signs else "")


def standing_of(pup: Pup, verdict: Verdict) -> Iterator[str]:
    """What the alerts say of a pup that no sign says already, the gravest first: ``cold``."""
    said = {word.strip() for word in condition_of(pup, verdict).split(",")}
    breathless = {PUP_WORDS[sign] for sign in get_args(PupSign) if sign in _BREATHES}
    for alert in verdict.alerts:
        if alert.rule.group != _OF_PUPS or not _is_about(alert, pup):
            continue
        words = alert.rule.title.removeprefix("Pup ")
        words = f"{words[:1].lower()}{words[1:]}"
        told = alert.rule.id == not_breathing.ID and breathless & said
        if alert.rule.id != pup_sign.ID and words not in said and not told:
            said.add(words)
            yield words


def _is_about(alert: Alert, pup: Pup) -> bool:
    """Whether an alert is about this pup: its own, or one of several pups that names it."""
    if alert.subject != LITTER:
        return alert.subject == pup_subject(pup.number)
    named = (number for found in _SEVERAL.findall(alert.message) for number in found.split())
    return str(pup.number) in {number.rstrip(",") for number in named}


def measured_of(pup: Pup, verdict: Verdict) -> tuple[Decimal, datetime] | None:
    """The newest temperature of a pup that is here, no longer than an alert would rest on it."""
    if not pup.here or pup.celsius is None or pup.measured is None:
        return None
    lasts = span(verdict.book, pup_cold.ID, "stands-for")
    return (pup.celsius, pup.measured) if pup.measured + lasts > verdict.at else None


def _meant(entry: Entry, pup: Pup) -> bool:
    """Whether an entry is about this pup: of it, or a milestone of all of them."""
    named = getattr(entry.what, "pup", None)
    whole = isinstance(entry.what, Milestone) and named is None
    return entry.at >= pup.born and (named == pup.number or whole)


def _take(signs: dict[PupSign, datetime], entry: Entry) -> None:
    """Let one entry end signs, then show those it names."""
    over = set(ended_by(entry) or ())
    shown: tuple[PupSign, ...] = ()
    match entry.what:
        case Birth(state="limp"):
            shown = (_LIMP,)
        case PupState(signs=named):
            shown = named
            over |= _BREATHES if {_WELL, _CRYING} & set(named) else set()
        case Step(step="breathing"):
            over |= _BREATHES
        case Feed(how=how) if how != "teat":
            over.discard(_UNFED)  # it was fed, and does not suckle for that
        case Step(step="palate", finding="cleft"):
            shown = ("cleft-palate",)
        case _:
            pass
    if set(shown) - {_WELL}:
        over.add(_WELL)
    for sign in get_args(PupSign):
        if sign in over:
            signs.pop(sign, None)
    for sign in shown:
        signs[sign] = entry.at
