"""Where every pup stands on the scale now: newest weight, growth since birth, gain of a day."""

from datetime import datetime, timedelta
from decimal import Decimal
from typing import NamedTuple

from boxlamp.engine import Verdict
from boxlamp.growth.curve import per_day
from boxlamp.model.story import Story
from boxlamp.protocol.book import Book
from boxlamp.rules.scale import KINDS, Scale, Scales, Weighing, birth_within
from boxlamp.rules.spell import span

_DAY = timedelta(days=1)


class Gain(NamedTuple):
    """What a pup put on between two weighings. A loss is a gain below zero."""

    start: Weighing
    end: Weighing

    @property
    def span(self) -> timedelta:
        """The time between them."""
        return self.end.at - self.start.at

    @property
    def grams(self) -> Decimal:
        """The difference in grams."""
        return self.end.grams - self.start.grams

    @property
    def grams_per_day(self) -> float:
        """The same for a day."""
        return float(self.grams) / (self.span / _DAY)

    @property
    def percent_per_day(self) -> float:
        """The steady gain that leads from the one weight to the other, in per cent a day."""
        return per_day(float(self.end.grams / self.start.grams), self.span)


class Latest(NamedTuple):
    """One pup on the scale, as it stands."""

    grams: Decimal
    at: datetime
    since_birth: Decimal
    """Growth since the first weight, in per cent."""
    late: bool
    """The first weight came too late to be called a birth weight."""
    day: Gain | None
    """Against the weighing about a day before the newest one, if there is one."""


def scales_of(story: Story) -> Scales:
    """Every pup's weights at the end of a story."""
    scales = Scales()
    for entry in story.of(*KINDS):
        scales.take(entry)
    return scales


def latest(verdict: Verdict) -> dict[int, Latest]:
    """Where each pup stands that has been weighed, by its number."""
    pups = scales_of(verdict.story).pups
    stands = {number: latest_of(scale, verdict.book) for number, scale in pups.items()}
    return {number: stand for number, stand in stands.items() if stand is not None}


def latest_of(scale: Scale, book: Book) -> Latest | None:
    """Where one pup stands; None before it is weighed."""
    last = scale.last
    if last is None:
        return None
    since = scale.growth(last.grams) or Decimal(0)
    # What "about a day" is, the rule about pups that stop gaining says.
    least, most = (span(book, "weight-stalled", name) for name in ("least day", "most day"))
    late = scale.late(birth_within(book))
    return Latest(last.grams, last.at, since, late, gain_over(scale, least, most))


def gain_over(scale: Scale, least: timedelta, most: timedelta) -> Gain | None:
    """The newest weight against the newest one that is at least and at most so much older."""
    last = scale.last
    before = None if last is None else scale.earlier(last.at, least, most)
    return None if last is None or before is None else Gain(before, last)
