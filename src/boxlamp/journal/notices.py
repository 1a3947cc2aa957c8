"""What the journal has to tell a person besides its answer, and what a check of it found."""

from datetime import datetime, timedelta
from pathlib import Path
from typing import Literal, NamedTuple

from boxlamp.model.entry import Entry
from boxlamp.model.spans import in_words

NoticeKind = Literal[
    "mirror-behind",  # an entry is safe in the database, but the mirror could not be written
    "mirror-mended",  # a torn last line was cut off and written again
    "mirror-set-aside",  # the mirror did not belong to the database; a new one was begun
    "entries-returned",  # the database had lost entries; they came back from the mirror
    "database-rebuilt",  # the database was gone; it was built again from the mirror
    "clock-back",  # the computer's clock stands earlier than when the last entry was typed
]


class Notice(NamedTuple):
    """Something a person should be told. Never a failure: the entry is safe."""

    kind: NoticeKind
    sentence: str


FindingKind = Literal[
    "database-missing",
    "database-damaged",
    "database-unguarded",
    "mirror-missing",
    "orphan-journal",
    "torn-line",
    "line-damaged",
    "row-changed",
    "chain-broken",
    "missing-in-mirror",
    "missing-in-database",
    "mirror-differs",
    "not-proven",
    "forked",
]


class Finding(NamedTuple):
    """One thing that is wrong with the record. ``number`` is the (first) entry concerned."""

    kind: FindingKind
    sentence: str
    litter: str | None = None
    number: int | None = None


class Report(NamedTuple):
    """What a check of the record found, and how much it looked at."""

    path: Path
    litters: int
    entries: int
    findings: tuple[Finding, ...] = ()

    @property
    def ok(self) -> bool:
        """Whether both copies are whole and agree."""
        return not self.findings


CLOCK_SLACK = timedelta(minutes=1)
"""Two terminals may write in another order than they looked at the clock."""


def clock_went_back(entries: tuple[Entry, ...], recorded: datetime) -> timedelta | None:
    """How far the clock stands behind the last entry typed, when that is worth a word."""
    if not entries:
        return None
    back = entries[-1].recorded - recorded
    return back if back > CLOCK_SLACK else None


def clock_notice(back: timedelta, number: int) -> Notice:
    """The notice for a clock that was set back."""
    return Notice(
        "clock-back",
        f"The computer's clock stands {in_words(back)} earlier than when the entry before "
        f"number {number} was typed. Both times are kept. Check the clock.",
    )
