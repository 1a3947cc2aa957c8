"""The thermometers of all pups: each pup's readings, held against the limits of its age."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import timedelta
from decimal import Decimal

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Death, Milestone, Temperature
from boxlamp.model.levels import pup_subject
from boxlamp.model.quantities import plain
from boxlamp.rules.ages import Ages, ages
from boxlamp.rules.reading import Reading
from boxlamp.rules.renewed import Renewed
from boxlamp.rules.scale import Scale, Scales
from boxlamp.rules.spell import Band, Spell, Yardstick, span

KINDS = (Birth, Death, Milestone, Temperature)
CLOCKS = ("hour 1-24", "day 1-7", "day 8-14", "day 15-28", "day 29 on")
"""The ages at which the limits change, in whole days; none hold in the first hour."""


@dataclass(eq=False, repr=False)
class Thermometers:
    """The temperatures of every pup. Feed it entries of :data:`KINDS` in canonical order.

    ``clocks`` holds what else follows from a reading; it ends with the pup's readings.
    """

    rule: str
    yardstick: Yardstick
    pups: Scales = field(default_factory=Scales)
    readings: dict[int, Reading] = field(default_factory=dict)
    clocks: Renewed = field(init=False)
    _ages: Ages = field(init=False)

    def __post_init__(self) -> None:
        """The clocks carry the rule's name, and so do the limits of each age."""
        self.clocks = Renewed(self.rule)
        self._ages = ages(self.yardstick, self.rule, CLOCKS)

    def take(self, entry: Entry) -> tuple[Scale, Decimal] | None:
        """Let one entry be written down; give back the pup just measured, and its temperature."""
        self.pups.take(entry)
        match entry.what:
            case Death() | Milestone(milestone="left-home"):
                for pup, scale in self.pups.pups.items():
                    if scale.gone is entry:
                        self._end(pup, entry)
            case Temperature(where="pup", pup=int() as pup, celsius=value):
                measured = self.pups.pups.get(pup)
                if measured is not None and measured.gone is None:
                    return measured, value
            case _:
                pass
        return None

    def clock(self, scale: Scale, entry: Entry) -> str:
        """Whose limits a reading is held against; nobody's in the first hour of life."""
        return self._ages.clock_at(scale.age(entry.at))

    def read(self, scale: Scale, entry: Entry, value: Decimal, more: str = "") -> None:
        """Hold one reading against the limits of the pup's age."""
        if scale.pup not in self.readings:
            band = Band(self.rule, self.yardstick, pup_subject(scale.pup))
            self.readings[scale.pup] = Reading(band, self.lasts)
        self.readings[scale.pup].read(
            entry, self.clock(scale, entry), value, f"{plain(value)} °C{more}"
        )

    @property
    def lasts(self) -> timedelta:
        """After how long nothing more can be said from a reading."""
        return span(self.yardstick, self.rule, "stands-for")

    def _end(self, pup: int, entry: Entry) -> None:
        self.clocks.cut(entry, subject=pup_subject(pup))
        if pup in self.readings:
            self.readings[pup].close(entry)

    def finish(self) -> Iterator[Spell]:
        """All spells noted, pup by pup, and what else follows from a reading."""
        for reading in self.readings.values():
            yield from reading.finish()
        yield from self.clocks.finish()
