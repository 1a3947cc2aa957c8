"""The maximum-growth curve of a pup's first three weeks, and what a steady gain amounts to.

The curve is an upper reference line, and healthy pups now and then pass it for some days. Its
author says that limits for feeding by hand cannot be read from it, so no pup is ever called slow
for being below it, nor anything else for being above it.
"""

import math
from datetime import timedelta

from boxlamp.growth.cited import Cited

SOURCE = Cited(
    "The greatest growth to be expected in the first three weeks, weight = first weight x "
    "exp(0.13084 d - 0.001616 d^2) at d days, checked on 345 pups of 19 breeds.",
    "A",
    "Alves I., A model of puppy growth during the first three weeks, Vet Med Sci 2020",
    where="doi:10.1002/vms3.322",
)
LAST_DAY = 21
"""The curve was fitted to the first 21 days and means nothing beyond them."""

_SLOPE, _BEND = 0.13084, 0.001616
_DAY = timedelta(days=1)


class OutsideCurve(ValueError):  # noqa: N818 - it is a place, not a failure
    """An age the curve says nothing about."""


def most(days: float) -> float:
    """How many times its birth weight a pup weighs on the curve at this age in days, 0 to 21."""
    if not 0 <= days <= LAST_DAY:
        raise OutsideCurve(f"The curve covers day 0 to {LAST_DAY}, not day {days:g}.")
    return math.exp(_SLOPE * days - _BEND * days * days)


def per_day(times: float, span: timedelta) -> float:
    """The steady gain, in per cent a day, that multiplies a weight so over this span."""
    return 100 * (math.pow(times, _DAY / span) - 1)


def days_until(times: float, percent: float) -> float:
    """How many days a steady gain of so many per cent a day takes to multiply a weight so."""
    return math.log(times) / math.log(1 + percent / 100)
