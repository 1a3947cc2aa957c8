"""Is she at term? Counting days from the best evidence there is.

Day 0 is the local calendar day of the evidence; a scan tells the day she is due, and day 0 is
then the LH peak that its formula counts from. Shared by the rules before labour and by planning.
"""

from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta
from decimal import Decimal
from functools import lru_cache
from typing import NamedTuple

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Details, Mating, Ovulation, Scan
from boxlamp.model.zones import zone_named
from boxlamp.rules.measured import OWNER, Measured, Scans
from boxlamp.rules.spell import Yardstick, span

__all__ = [
    "CLOCKS", "KINDS", "OWNER", "WORDS", "Basis", "Evidence", "local_day",
]  # fmt: skip

KINDS = (Mating, Ovulation, Scan, Details)
"""What is evidence, or says which formula suits her."""

CLOCKS = ("dioestrus", "lh", "ovulation", "scan", "late-scan", "mating")
"""The bases by which days are counted, most trusted first."""
WORDS = {
    "dioestrus": "the first day of dioestrus",
    "lh": "the LH peak or first progesterone rise",
    "ovulation": "ovulation",
    "scan": "the LH peak as the scan dates it",
    "late-scan": "the LH peak as a late scan dates it",
    "mating": "the first mating",
}
_CLOCK = {
    "dioestrus": "dioestrus",
    "lh": "lh",
    "progesterone-rise": "lh",
    "ovulation": "ovulation",
    "progesterone": "ovulation",
}


@lru_cache(maxsize=64)
def local_day(entry: Entry) -> date:
    """The calendar day of an entry by the clock on its wall."""
    return entry.at.astimezone(zone_named(entry.zone)).date()


class Basis(NamedTuple):
    """One piece of evidence to count days from: day 0, and the day she is due by it."""

    entry: Entry
    clock: str
    zero: date
    due: date
    measured: Measured | None = None

    @property
    def midnight(self) -> datetime:
        """The instant at which day 0 began where it was written down."""
        zone = zone_named(self.entry.zone)
        return datetime.combine(self.zero, time(), zone).astimezone(UTC)

    @property
    def entries(self) -> tuple[int, ...]:
        """The numbers of the entries it rests on."""
        if self.measured is None:
            return (self.entry.id,)
        return tuple(entry.id for entry in self.measured.entries)

    def day_of(self, entry: Entry) -> int:
        """Which day it is at an entry."""
        return (local_day(entry) - self.zero).days

    def in_words(self, day: int) -> str:
        """``day 57 from ovulation``."""
        return f"day {day} from {WORDS[self.clock]}"


@dataclass(eq=False, repr=False)
class Evidence:
    """The evidence met so far, and the piece of it that drives the alarms."""

    yardstick: Yardstick
    dated: list[Basis] = field(default_factory=list)
    scans: Scans = field(init=False)

    def __post_init__(self) -> None:
        self.scans = Scans(self.yardstick)

    def take(self, entry: Entry) -> None:
        """Take in one entry of :data:`KINDS`. Of several matings only the first counts."""
        match entry.what:
            case Details() as details:
                self.scans.know(details)
            case Scan():
                self.scans.take(entry, local_day(entry))
            case _:
                clock = self._clock(entry)
                if clock is not None:
                    zero = local_day(entry)
                    self.dated.append(Basis(entry, clock, zero, zero + self._span(f"due-{clock}")))

    @property
    def found(self) -> list[Basis]:
        """Everything that alarms may be counted from. A scan is read by what is known of her."""
        return [*self.dated, *map(self.by_scan, self.scans.counted())]

    @property
    def trusted(self) -> Basis | None:
        """The most trusted basis; among equals the earliest due: to ring early costs a call."""
        return min(self.found, key=lambda one: (CLOCKS.index(one.clock), one.due), default=None)

    @property
    def best(self) -> Basis | None:
        """The most trusted basis; or one that is due earlier by more than the protocol allows."""
        trusted = self.trusted
        if trusted is None:
            return None
        earliest = min(self.found, key=lambda one: (one.due, CLOCKS.index(one.clock)))
        return earliest if self.apart(trusted.due, earliest.due) else trusted

    def apart(self, late: date, early: date) -> bool:
        """Whether two days are so far apart that they contradict each other."""
        return late - early > self._span("bases-apart")

    def by_scan(self, measured: Measured) -> Basis:
        """What one formula says of the day she is due, as a basis to count from."""
        zero = measured.due - self._span("due-scan")
        late = measured.day - zero > self._span("scan-early-until")
        clock = "late-scan" if late else "scan"
        return Basis(measured.entries[-1], clock, zero, measured.due, measured)

    def _clock(self, entry: Entry) -> str | None:
        match entry.what:
            case Mating():
                known = any(basis.clock == "mating" for basis in self.dated)
                return None if known else "mating"
            case Ovulation(basis="progesterone", value=Decimal() as value):
                enough = self.yardstick.number(OWNER, "progesterone-at-ovulation")
                return "ovulation" if value >= enough else None
            case Ovulation(basis=basis):
                return _CLOCK[basis]
            case _:
                return None

    def _span(self, name: str) -> timedelta:
        return span(self.yardstick, OWNER, name)
