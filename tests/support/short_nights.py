"""Short nights typed out in a test and judged for the paper, and the moments of long ones."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from itertools import takewhile

from boxlamp.language import read_night
from boxlamp.model.entry import Entry
from boxlamp.model.story import Story
from boxlamp.paper.account.course import FURTHER
from boxlamp.paper.account.matter import Matter
from support.accounts import matter_of
from support.nights import CASES, DEMO, chapters

HOUR = timedelta(hours=1)
HEADER = "dam: Ash\nzone: UTC\ndate: 2026-03-02\n"


def night_of(lines: str, header: str = "") -> tuple[Entry, ...]:
    """The entries of lines typed in the night of 2 March 2026, UTC; more header lines first."""
    return tuple(read_night(f"{HEADER}{header}\n{lines}", source="ash").entries)


def clock(hour: int, minute: int = 0, *, day: int = 2) -> datetime:
    """A time of that night, or of another day of March 2026."""
    return datetime(2026, 3, day, hour, minute, tzinfo=UTC)


def judged(lines: str, at: datetime | None = None, header: str = "") -> Matter:
    """The matter of these lines at a moment; without one a quarter of an hour after the last."""
    return matter_of(night_of(lines, header), at)


def long_nights() -> dict[str, tuple[Entry, ...]]:
    """Every invented night and every case from the literature, by name."""
    files = sorted((*DEMO.glob("*.night"), *(CASES / "published").glob("*.night")))
    return {case.name: tuple(case.night.entries) for path in files for case in chapters(path)}


def moments_of(entries: tuple[Entry, ...]) -> Iterator[datetime]:
    """Every hour of the night, and now and then in the weeks before and after it."""
    labour = Story(entries).of(*FURTHER)
    start, end = min(one.at for one in entries), max(one.at for one in entries)
    night = [one.at for one in labour] or [start]
    hours = (min(night) + HOUR * count for count in range(48))
    yield from takewhile(lambda at: at <= max(night) + 2 * HOUR, hours)
    yield from (start + (end - start) * share / 5 for share in range(6))
    yield end + timedelta(days=60)
