"""Weighing rounds: weighings of the litter that lie close together are one column of the table.

Birth weights are hours apart and make a column of their own, so a pup's birth weight belongs to
no round, except that it is shown there too when it was taken in the middle of one.
"""

from datetime import datetime, timedelta
from decimal import Decimal
from typing import NamedTuple

from boxlamp.rules.scale import Scales, Weighing

# Both are our choice. A whole litter is on the scale within the hour; the next round of a pup
# that is watched closely is six hours away at the least.
_PAUSE = timedelta(hours=2)
_LONGEST = timedelta(hours=5)


class WeighingRound(NamedTuple):
    """One round: from its first weighing to its last, and what each pup weighed in it."""

    start: datetime
    end: datetime
    grams: dict[int, Decimal]
    """By the pup's number. Of a pup that was put on the scale twice the later weight counts."""


def birth_weights(scales: Scales, birth_within: timedelta) -> dict[int, Weighing]:
    """The birth weight of every pup that has one."""
    return {
        number: scale.first
        for number, scale in scales.pups.items()
        if scale.first is not None and not scale.late(birth_within)
    }


def rounds_of(scales: Scales, birth_within: timedelta) -> tuple[WeighingRound, ...]:
    """The rounds of a litter in order of time."""
    births = birth_weights(scales, birth_within)
    later = [
        (one, number)
        for number, scale in scales.pups.items()
        for one in scale.weighings
        if one is not births.get(number)
    ]
    found: list[WeighingRound] = []
    for one, number in sorted(later, key=lambda pair: (pair[0].at, pair[1])):
        if found and _same_round(found[-1], one.at):
            found[-1].grams[number] = one.grams
            found[-1] = found[-1]._replace(end=one.at)
        else:
            found.append(WeighingRound(one.at, one.at, {number: one.grams}))
    return tuple(_with_births(one, births) for one in found)


def _same_round(last: WeighingRound, at: datetime) -> bool:
    return at - last.end <= _PAUSE and at - last.start <= _LONGEST


def _with_births(found: WeighingRound, births: dict[int, Weighing]) -> WeighingRound:
    """The round with the birth weights that were taken while it went on."""
    within = {
        number: one.grams for number, one in births.items() if found.start <= one.at <= found.end
    }
    return found._replace(grams=within | found.grams)
