"""The fall of the dam's temperature before labour: when it is low, sure, and back again."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import timedelta
from decimal import Decimal
from typing import NamedTuple

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Birth,
    Caesarean,
    Contraction,
    Finished,
    Part,
    Sac,
    Settled,
    Sign,
    Temperature,
    Waters,
)
from boxlamp.model.quantities import plain, rounded
from boxlamp.model.story import Story
from boxlamp.rules.spell import Yardstick, span

OWNER = "temperature-drop-no-labour"
"""The rule that holds the bands and settings by which a drop is recognised."""
BACK = "temperature-back-no-labour"
_LABOUR = (Waters, Contraction, Sac, Part, Birth, Caesarean, Finished)


class Step(NamedTuple):
    """How things stand after one entry: is there a confirmed drop, and what did this reading say.

    ``drop`` is the first low reading of the drop, while labour is awaited after it.
    """

    entry: Entry
    drop: Entry | None
    low: bool = False
    back: bool = False
    words: str = ""


@dataclass(eq=False, repr=False)
class Readings:
    """Her readings so far, and the drop once it is confirmed."""

    yardstick: Yardstick
    ordinary: list[tuple[Entry, Decimal]] = field(default_factory=list)
    """Readings that were not low: what is usual for her."""
    low: Entry | None = None
    drop: Entry | None = None

    def take(self, entry: Entry, value: Decimal) -> Step:
        """Take in one reading."""
        sure = self._in("sure", entry, value)
        low = sure or self._in("low", entry, value) or self._under_her_own(value)
        if low:
            self.drop = self.drop or self._confirmed(entry, sure=sure)
            self.low = entry
        else:
            self.ordinary.append((entry, value))
        back = bool(self.yardstick.levels_at(BACK, "back", value, entry.at))
        return Step(entry, self.drop, low, back, f"{plain(value)} °C")

    def _confirmed(self, entry: Entry, *, sure: bool) -> Entry | None:
        """The first low reading of a drop that this low reading confirms."""
        if self.low is not None and entry.at - self.low.at <= self._span("confirm-within"):
            return self.low
        return entry if sure else None

    @property
    def spread_over(self) -> timedelta:
        """From her first ordinary reading to the last."""
        if not self.ordinary:
            return timedelta(0)
        return self.ordinary[-1][0].at - self.ordinary[0][0].at

    @property
    def mean(self) -> Decimal | None:
        """What is usual for her, once her ordinary readings span long enough to tell."""
        if not self.ordinary or self.spread_over < self._span("mean-days"):
            return None
        return sum((own for _, own in self.ordinary), Decimal(0)) / len(self.ordinary)

    def _under_her_own(self, value: Decimal) -> bool:
        """Whether a reading lies far under the mean of her own ordinary ones."""
        if not self.ordinary or self.spread_over < self._span("mean-days"):
            return False
        drop = self.yardstick.number(OWNER, "drop")
        # Multiplied and not divided, so that no digit of a mean is rounded away.
        return (value + drop) * len(self.ordinary) <= sum(own for _, own in self.ordinary)

    def _in(self, clock: str, entry: Entry, value: Decimal) -> bool:
        return bool(self.yardstick.levels_at(OWNER, clock, value, entry.at))

    def _span(self, name: str) -> timedelta:
        return span(self.yardstick, OWNER, name)


def course(story: Story, yardstick: Yardstick, readings: Readings | None = None) -> Iterator[Step]:
    """How things stand after each of her readings and each sign of labour, until it begins.

    While there are first-stage signs no drop is awaited upon; when she settles it is again.
    ``readings`` gathers what was read, for whoever wants to know what is usual for her.
    """
    readings, signs = Readings(yardstick) if readings is None else readings, False
    for entry in story.of(Temperature, Sign, Settled, *_LABOUR):
        match entry.what:
            case Temperature(where="dam", celsius=value) if not signs:
                # To the tenth, as thermometers show it: 99.0 °F is 37.2 °C, and 100.0 is 37.8.
                yield readings.take(entry, rounded(value))
            case Temperature():
                pass
            case Sign():
                signs, readings.low = True, None
                yield Step(entry, None)
            case Settled():
                signs = False
                yield Step(entry, readings.drop)
            case _:
                yield Step(entry, None)
                return
