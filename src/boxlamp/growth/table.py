"""The weight table of a litter: every pup, every round, and what stands of it."""

from datetime import datetime, timedelta
from decimal import Decimal
from typing import NamedTuple

from boxlamp.engine import Verdict
from boxlamp.growth.birth_class import BirthClass, birth_classes
from boxlamp.growth.latest import Gain, Latest, gain_over, latest_of, scales_of
from boxlamp.growth.resolution import too_coarse
from boxlamp.growth.rounds import WeighingRound, birth_weights, rounds_of
from boxlamp.growth.spread import Spread, spread
from boxlamp.growth.stands import Standing, litter_stands, pup_stands
from boxlamp.model.litter import Pup
from boxlamp.rules.scale import Scale, Weighing, birth_within

# Two weights closer than this say more about a meal than about growth (our choice).
_LEAST_SPAN = timedelta(hours=6)


class PupGrowth(NamedTuple):
    """One pup's row."""

    pup: Pup
    age: timedelta
    """How old it is, or was when it died or left."""
    gone: datetime | None
    """When it died or left home."""
    weighings: tuple[Weighing, ...]
    birth: Decimal | None
    """Its birth weight; a stillborn pup may have one, though it is on no scale afterwards."""
    latest: Latest | None
    pace: Gain | None
    """The newest weight against the newest one that is some hours older."""
    birth_class: BirthClass | None
    stands: tuple[Standing, ...]
    """What the weight rules say of it now, the worst first."""

    @property
    def number(self) -> int:
        """The pup's number."""
        return self.pup.number

    @property
    def days(self) -> int:
        """Its age in completed days."""
        return self.age.days

    @property
    def first(self) -> Weighing | None:
        """The weight its growth is counted from."""
        return self.weighings[0] if self.weighings else None

    def age_at(self, at: datetime) -> timedelta:
        """How old it was at a moment."""
        return at - self.pup.born

    def growth_at(self, one: Weighing) -> Decimal:
        """Growth from the first weight to this one, in per cent."""
        first = self.weighings[0].grams
        return 100 * (one.grams - first) / first


class Column(NamedTuple):
    """One round of the table, with the litter taken together."""

    round: WeighingRound
    days: int
    """Completed days since the first birth."""
    spread: Spread | None


class WeightTable(NamedTuple):
    """The weights of a litter at one moment."""

    verdict: Verdict
    pups: tuple[PupGrowth, ...]
    """In order of birth."""
    columns: tuple[Column, ...]
    """The rounds after birth, oldest first."""
    births: Spread | None
    """The birth weights taken together."""
    stands: tuple[Standing, ...]
    """What the weight rules say of the litter as a whole."""
    coarse_scale: bool

    @property
    def at(self) -> datetime:
        """The moment it speaks of."""
        return self.verdict.at

    @property
    def weighed(self) -> bool:
        """Whether any pup was ever weighed."""
        return any(pup.birth is not None or pup.weighings for pup in self.pups)

    @property
    def spread(self) -> Spread | None:
        """The newest round taken together; the birth weights while there is no round yet."""
        return self.columns[-1].spread if self.columns else self.births


def weight_table(verdict: Verdict) -> WeightTable:
    """Set out the weights of a litter as they stand in a verdict."""
    scales, within = scales_of(verdict.story), birth_within(verdict.book)
    classes, births = birth_classes(verdict), birth_weights(scales, within)
    pups = tuple(
        _pup(pup, scales.pups[pup.number], verdict, classes.get(pup.number))
        for pup in verdict.litter.in_order
        if pup.number in scales.pups
    )
    born = min((pup.pup.born for pup in pups), default=verdict.at)
    columns = (
        Column(one, (one.start - born).days, spread(one.grams, _here(pups, one.start)))
        for one in rounds_of(scales, within)
    )
    weights = {number: one.grams for number, one in births.items()}
    return WeightTable(
        verdict, pups, tuple(columns),
        spread(weights, {pup.number for pup in pups if pup.pup.state != "dead"}),
        litter_stands(verdict), too_coarse(scales),
    )  # fmt: skip


def _pup(pup: Pup, scale: Scale, verdict: Verdict, found: BirthClass | None) -> PupGrowth:
    gone = None if scale.gone is None else scale.gone.at
    stand = latest_of(scale, verdict.book)
    return PupGrowth(
        pup=pup,
        age=(gone or verdict.at) - pup.born,
        gone=gone,
        weighings=tuple(scale.weighings),
        birth=_birth_weight(pup, scale, birth_within(verdict.book)),
        latest=stand,
        pace=gain_over(scale, _LEAST_SPAN, timedelta.max),
        birth_class=found,
        stands=pup_stands(verdict, pup.number, stand),
    )


def _birth_weight(pup: Pup, scale: Scale, within: timedelta) -> Decimal | None:
    if scale.gone is scale.birth:
        return pup.birth_weight
    return None if scale.first is None or scale.late(within) else scale.first.grams


def _here(pups: tuple[PupGrowth, ...], at: datetime) -> set[int]:
    """The pups that were born and still there to be weighed at a moment."""
    return {
        pup.number for pup in pups if pup.pup.born <= at and (pup.gone is None or pup.gone > at)
    }
