"""Chance from a seed: the same numbers on every machine and with every Python.

Only ``Random.random`` is promised to stay the same from one Python to the next, so every other
draw is made from it here. Weights are summed exactly: how ``sum`` rounds changed with Python 3.12.
"""

from collections.abc import Sequence
from math import exp, fsum
from random import Random
from statistics import NormalDist
from sys import float_info
from typing import TypeVar

from boxlamp.imagine.ours import About, Exactly, Span

T = TypeVar("T")

FARTHEST = Exactly(3, "", "the farthest from the average, in spreads (two in three lie within one)")
FARTHEST_TIME = Exactly(4, "", "the same for a length of time, by its proportion")

_quantile = NormalDist().inv_cdf
_LEAST = float_info.epsilon / 2


class Dice:
    """Draws, one after the other, from one seed."""

    def __init__(self, seed: int) -> None:
        self._next = Random(seed).random  # noqa: S311 - chance for nights, not for secrets

    def chance(self, share: float) -> bool:
        """True in this share of draws."""
        return self._next() < share

    def between(self, low: float, high: float) -> float:
        """Any number between two, each as likely."""
        return low + (high - low) * self._next()

    def whole(self, low: int, high: int) -> int:
        """A whole number from ``low`` to ``high``, both among them."""
        return low + int((high - low + 1) * self._next())

    def pick(self, choices: Sequence[T]) -> T:
        """One of these, each as likely."""
        return choices[int(len(choices) * self._next())]

    def weighted(self, choices: Sequence[tuple[T, float]]) -> T:
        """One of these, as likely as its weight says."""
        left = self._next() * fsum(weight for _, weight in choices)
        for choice, weight in choices:
            left -= weight
            if left < 0:
                return choice
        return choices[-1][0]

    def drawn(self, choice: Span | About) -> float:
        """A number of our choice, in minutes where it is a time."""
        if isinstance(choice, Span):
            return self.between(*choice.ends)
        return self.lognormal(choice.median, choice.sigma)

    def normal(self, mean: float, spread: float, most: float = FARTHEST.value) -> float:
        """Normally distributed, cut off at so many standard deviations."""
        deviation = _quantile(max(self._next(), _LEAST))
        return mean + spread * max(-most, min(most, deviation))

    def lognormal(self, median: float, sigma: float) -> float:
        """Lognormally distributed, by its median and the sigma of its logarithm."""
        return median * exp(self.normal(0.0, sigma, most=FARTHEST_TIME.value))
