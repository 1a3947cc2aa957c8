"""Is she at term? Counting days from the best evidence there is.

Day 0 is the local calendar day of the evidence. Shared by the rules before labour; planning may
use it too.
"""

from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta
from decimal import Decimal
from functools import lru_cache
from typing import NamedTuple

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Mating, Ovulation
from boxlamp.model.zones import zone_named
from boxlamp.rules.spell import Yardstick

OWNER = "overdue"
"""The rule that holds the settings."""
KINDS = (Mating, Ovulation)

CLOCKS = ("dioestrus", "lh", "ovulation", "mating")
"""The bases by which days are counted, most trusted first."""
WORDS = {
    "dioestrus": "the first day of dioestrus",
    "lh": "the LH peak or first progesterone rise",
    "ovulation": "ovulation",
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
    """One piece of evidence to count days from."""

    entry: Entry
    clock: str
    due: date

    @property
    def midnight(self) -> datetime:
        """The instant at which day 0 began where it was written down."""
        zone = zone_named(self.entry.zone)
        return datetime.combine(local_day(self.entry), time(), zone).astimezone(UTC)

    def day_of(self, entry: Entry) -> int:
        """Which day it is at an entry; the day of the evidence is day 0."""
        return (local_day(entry) - local_day(self.entry)).days

    def in_words(self, day: int) -> str:
        """``day 57 from ovulation``."""
        return f"day {day} from {WORDS[self.clock]}"


@dataclass
class Evidence:
    """The evidence met so far, and the piece of it that drives the alarms."""

    yardstick: Yardstick
    found: list[Basis] = field(default_factory=list)

    def take(self, entry: Entry) -> None:
        """Take in one entry of :data:`KINDS`. Of several matings only the first counts."""
        clock = self._clock(entry)
        if clock is not None:
            length = self._span(f"due-{clock}")
            self.found.append(Basis(entry, clock, local_day(entry) + length))

    @property
    def best(self) -> Basis | None:
        """The most trusted basis; or one that is due earlier by more than the protocol allows.

        Among equals the earliest due: to ring early costs a telephone call.
        """
        if not self.found:
            return None
        trusted = min(self.found, key=lambda basis: (CLOCKS.index(basis.clock), basis.due))
        earliest = min(self.found, key=lambda basis: (basis.due, CLOCKS.index(basis.clock)))
        apart = trusted.due - earliest.due > self._span("bases-apart")
        return earliest if apart else trusted

    def _clock(self, entry: Entry) -> str | None:
        match entry.what:
            case Mating():
                known = any(basis.clock == "mating" for basis in self.found)
                return None if known else "mating"
            case Ovulation(basis="progesterone", value=Decimal() as value):
                enough = self.yardstick.number(OWNER, "progesterone-at-ovulation")
                return "ovulation" if value >= enough else None
            case Ovulation(basis=basis):
                return _CLOCK[basis]
            case _:
                return None

    def _span(self, name: str) -> timedelta:
        return timedelta(seconds=float(self.yardstick.number(OWNER, name)))
