"""Nights judged for the paper: the matter of an account, and the account itself."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from boxlamp.engine import assess
from boxlamp.model.entry import Entry
from boxlamp.model.order import known_at
from boxlamp.model.story import Story
from boxlamp.paper.account.matter import Matter
from boxlamp.paper.reader import Reader
from support.nights import DEFAULT, DEMO, chapters

READER = Reader(ZoneInfo("Europe/Prague"))
CHAIN = "c0ffee" * 10 + "c0ff"
"""A digest of no journal."""


def entries_of(night: str) -> tuple[Entry, ...]:
    """The entries of a demo night."""
    [case] = chapters(DEMO / f"{night}.night")
    return tuple(case.night.entries)


def matter_of(entries: Sequence[Entry], at: datetime | None = None) -> Matter:
    """Entries judged at a moment; a quarter of an hour after the last one when none is given."""
    moment = at or max(entry.at for entry in entries) + timedelta(minutes=15)
    assessment = assess(Story(entries).until(moment), DEFAULT)
    zones = [entry.zone for entry in entries]
    return Matter(
        litter=entries[0].litter,
        zone=zones[-1],
        entries=tuple(known_at(entries, moment)),
        assessment=assessment,
        verdict=assessment.verdict(moment),
        chain=CHAIN,
        kept=len(entries),
    )
