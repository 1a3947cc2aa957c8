"""A litter on the scale as a whole: the mean, the lightest and heaviest, all together."""

from collections.abc import Mapping
from decimal import Decimal
from typing import NamedTuple

_LEAST_FOR_A_MEAN = 3
"""A mean of fewer pups says nothing about a litter (the convention of the evidence)."""


class Spread(NamedTuple):
    """The weights of one round taken together, in grams."""

    weighed: int
    of: int
    """How many pups there were to weigh."""
    lightest: int
    """The number of the lightest pup."""
    least: Decimal
    heaviest: int
    greatest: Decimal
    mean: Decimal | None
    """Of three pups or more."""
    total: Decimal | None
    """When every pup was weighed."""


def spread(grams: Mapping[int, Decimal], pups: set[int]) -> Spread | None:
    """The weights of these pups together; None when none of them was weighed."""
    weights = {number: grams[number] for number in sorted(pups) if number in grams}
    if not weights:
        return None
    total = sum(weights.values(), Decimal(0))
    lightest = min(weights, key=lambda number: weights[number])
    heaviest = max(weights, key=lambda number: weights[number])
    return Spread(
        len(weights),
        len(pups),
        lightest,
        weights[lightest],
        heaviest,
        weights[heaviest],
        total / len(weights) if len(weights) >= _LEAST_FOR_A_MEAN else None,
        total if len(weights) == len(pups) else None,
    )
