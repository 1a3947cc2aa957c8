"""The feeding tables for one litter at one moment: milk for each pup, energy for the dam."""

from datetime import datetime, timedelta
from decimal import Decimal
from typing import NamedTuple

from boxlamp.engine import Verdict
from boxlamp.growth.dam_energy import Energy, energy, week_of
from boxlamp.growth.milk import Milk, milk
from boxlamp.model.happenings import Birth, Weight
from boxlamp.model.litter import Litter, Pup
from boxlamp.model.story import Story
from boxlamp.rules.feeding import FEED_FROM, too_cold_to_feed

WEEKS = (1, 2, 3, 4, 5)
"""The weeks of nursing that any of the sources speaks of."""

_GRAMS_PER_KILO = 1000
# A low reading that is too old to speak of now still asks for a new one (our choice).
_ASKS_FOR_ANOTHER = timedelta(days=1)


class PupMilk(NamedTuple):
    """Milk for one pup in the house."""

    pup: Pup
    grams: Decimal | None
    milk: Milk | None
    """None for a pup that is not weighed, or too old for the tables."""
    warm_first: bool
    """Its temperature was just now too low to feed it."""
    measure_first: bool
    """It was too low when it was last taken, some hours ago."""


class Feeding(NamedTuple):
    """Both tables."""

    at: datetime
    pups: tuple[PupMilk, ...]
    kilos: Decimal | None
    """The dam's weight, as last known."""
    nursing: int
    week: int | None
    """The week since the first birth, counted from 1."""
    energy: tuple[Energy, ...]
    """By week; empty without a weight or without pups."""

    @property
    def now(self) -> Energy | None:
        """What the sources say of this week."""
        return next((one for one in self.energy if one.week == self.week), None)


def feeding_of(verdict: Verdict) -> Feeding:
    """The tables for a litter as it stands in a verdict."""
    litter, at = verdict.litter, verdict.at
    here = [pup for pup in litter.in_order if pup.here]
    kilos = _kilos(verdict.story, litter)
    told = [] if kilos is None or not here else [
        energy(float(kilos), len(here), week) for week in WEEKS
    ]  # fmt: skip
    return Feeding(
        at=at,
        pups=tuple(_milk(pup, at) for pup in here),
        kilos=kilos,
        nursing=len(here),
        week=week_of(at - litter.in_order[0].born) if litter.pups else None,
        energy=tuple(one for one in told if one is not None),
    )


def _milk(pup: Pup, at: datetime) -> PupMilk:
    cold = too_cold_to_feed(pup, at)
    low = pup.celsius is not None and pup.celsius < FEED_FROM
    recent = pup.measured is not None and at - pup.measured <= _ASKS_FOR_ANOTHER
    told = None if pup.weight is None else milk(at - pup.born, pup.weight)
    return PupMilk(pup, pup.weight, told, cold, low and recent and not cold)


def _kilos(story: Story, litter: Litter) -> Decimal | None:
    """The dam's weight: weighed since the whelping, else as written down, else weighed before."""
    births = story.of(Birth)
    weighed = [(one.at, one.what.grams) for one in story.of(Weight)
               if isinstance(one.what, Weight) and one.what.pup is None]  # fmt: skip
    since = [grams for at, grams in weighed if births and at >= births[0].at]
    known = [grams for _, grams in weighed[-1:]]
    if litter.details.weight is not None:
        known.append(litter.details.weight)
    found = (since or known)[-1:]
    return found[0] / _GRAMS_PER_KILO if found else None
