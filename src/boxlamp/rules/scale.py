"""The scale: every pup's weights in order, and the weight its growth is counted from.

Growth is 100 x (weight - first weight) / first weight, in per cent. The first weight is the
birth weight when it was taken soon enough after the birth; otherwise it is only a late first
weight, and whoever shows growth says so.
"""

from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from decimal import Decimal
from operator import attrgetter
from typing import NamedTuple

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Death, Milestone, Weight
from boxlamp.rules.spell import Yardstick, span

KINDS = (Birth, Weight, Death, Milestone)
_at = attrgetter("entry.at")


class Weighing(NamedTuple):
    """One pup's weight at one moment, in grams."""

    entry: Entry
    grams: Decimal

    @property
    def at(self) -> datetime:
        """When it was weighed."""
        return self.entry.at


@dataclass(eq=False, repr=False)
class Scale:
    """One pup on the scale: its weighings in order of time."""

    pup: int
    birth: Entry
    weighings: list[Weighing] = field(default_factory=list)
    gone: Entry | None = None
    """The entry by which it died or left home; no weight is expected after it."""
    heaviest: Decimal = Decimal(0)
    """The most it has weighed."""

    @property
    def first(self) -> Weighing | None:
        """The weight growth is counted from."""
        return self.weighings[0] if self.weighings else None

    @property
    def last(self) -> Weighing | None:
        """The newest weight."""
        return self.weighings[-1] if self.weighings else None

    def age(self, at: datetime) -> timedelta:
        """How old the pup is at a moment, by its own birth."""
        return at - self.birth.at

    def late(self, within: timedelta) -> bool:
        """Whether the first weight came too late to be called a birth weight."""
        first = self.first
        return first is not None and self.age(first.at) > within

    def growth(self, grams: Decimal) -> Decimal | None:
        """Growth since the first weight, in per cent; None before there is one."""
        first = self.first
        return None if first is None else gain(first.grams, grams)

    @property
    def times(self) -> Decimal:
        """How many times its first weight it weighs now; nothing before it is weighed."""
        if self.first is None or self.last is None:
            return Decimal(0)
        return self.last.grams / self.first.grams

    def earlier(self, at: datetime, least: timedelta, most: timedelta) -> Weighing | None:
        """The newest weighing at least ``least`` and at most ``most`` before a moment."""
        older = bisect_right(self.weighings, at - least, key=_at)
        newest = self.weighings[older - 1] if older else None
        return None if newest is None or at - newest.at > most else newest


def birth_within(yardstick: Yardstick) -> timedelta:
    """How long after the birth a first weight is still a birth weight."""
    return span(yardstick, "birth-weight", "birth-within")


def gain(start: Decimal, end: Decimal) -> Decimal:
    """How much heavier ``end`` is than ``start``, in per cent of ``start``."""
    return 100 * (end - start) / start


@dataclass(eq=False, repr=False)
class Scales:
    """All pups of a litter on the scale. Feed it entries of :data:`KINDS` in canonical order."""

    pups: dict[int, Scale] = field(default_factory=dict)

    def take(self, entry: Entry) -> Scale | None:
        """Let one entry be weighed, or end a pup's series; give back the pup just weighed."""
        match entry.what:
            case Weight(pup=int() as pup, grams=grams):
                return self._weigh(pup, entry, grams)
            case Birth(pup=pup, state=state, weight=grams):
                self.pups[pup] = Scale(pup, entry, gone=entry if state == "dead" else None)
                return self._weigh(pup, entry, grams)
            case Death(pup=pup) | Milestone(milestone="left-home", pup=int() as pup):
                self._end(pup, entry)
            case Milestone(milestone="left-home"):
                for pup in self.pups:
                    self._end(pup, entry)
            case _:
                pass
        return None

    def _weigh(self, pup: int, entry: Entry, grams: Decimal | None) -> Scale | None:
        scale = self.pups.get(pup)
        if scale is None or scale.gone is not None or not grams or entry.at < scale.birth.at:
            return None
        scale.weighings.append(Weighing(entry, grams))
        scale.heaviest = max(scale.heaviest, grams)
        return scale

    def _end(self, pup: int, entry: Entry) -> None:
        scale = self.pups.get(pup)
        if scale is not None:
            scale.gone = scale.gone or entry

    def left(self, entry: Entry) -> list[Scale]:
        """The pups that died or left home by this very entry."""
        if isinstance(entry.what, Weight):
            return []
        return [scale for scale in self.pups.values() if scale.gone is entry]

    @property
    def here(self) -> Iterator[Scale]:
        """The pups that are alive and still in the house."""
        return (scale for scale in self.pups.values() if scale.gone is None)
