"""How sure a figure is: 95 % confidence intervals, and quartiles, out of whole-number sums.

A share has Wilson's score interval; a mean has Student's; the difference of two shares of the same
nights has that of Bonett and Price, which is Wald's after one night each has been added to either
kind of disagreement. Everything starts from integers and is divided once, at the end, so that the
same counts give the same figure to the last digit.
"""

from collections.abc import Mapping
from math import log, sqrt
from statistics import NormalDist
from typing import NamedTuple

_TAIL = 0.025
Z = NormalDist().inv_cdf(1 - _TAIL)
"""How many standard errors to either side hold 95 %."""


class Figure(NamedTuple):
    """A value with the ends of its interval; no interval where one night is all there is."""

    value: float
    low: float | None = None
    high: float | None = None


class Quartiles(NamedTuple):
    """A quarter of the values are at or below ``low``, half at or below ``middle``."""

    low: int
    middle: int
    high: int


def share(count: int, nights: int) -> Figure | None:
    """A share of nights with its score interval (Wilson 1927); nothing of no nights."""
    if not nights:
        return None
    part, spread = count / nights, Z * Z / nights
    centre = (part + spread / 2) / (1 + spread)
    half = Z * sqrt(part * (1 - part) / nights + spread / nights / 4) / (1 + spread)
    low = 0.0 if count == 0 else max(0.0, centre - half)
    return Figure(part, low, 1.0 if count == nights else min(1.0, centre + half))


def mean(total: int, squares: int, nights: int, *, signed: bool = False) -> Figure | None:
    """A mean per night with Student's interval, from the sum and the sum of squares.

    A count cannot be below nothing, so its interval is cut there unless it is ``signed``. Of what
    never came the exact upper end for a Poisson count is told (Garwood 1936): 3.7 over the nights.
    """
    if not nights:
        return None
    if not squares and not signed:
        return Figure(0.0, 0.0, -log(_TAIL) / nights)
    value = total / nights
    if nights == 1:
        return Figure(value)
    error = sqrt((nights * squares - total * total) / (nights * nights * (nights - 1)))
    half = student(nights - 1) * error
    return Figure(value, value - half if signed else max(0.0, value - half), value + half)


def shares_apart(difference: int, disagreeing: int, nights: int) -> Figure | None:
    """How far two shares of the same nights lie apart (Bonett and Price 2012).

    ``difference`` is in how many more nights the second has it, ``disagreeing`` in how many
    nights only one of the two has it.
    """
    if not nights:
        return None
    more = nights + 2
    centre = difference / more
    half = Z * sqrt((more * (disagreeing + 2) - difference * difference) / more) / more
    return Figure(difference / nights, max(-1.0, centre - half), min(1.0, centre + half))


def student(freedom: int) -> float:
    """How many standard errors to either side hold 95 %, with so many degrees of freedom.

    The expansion 26.7.5 in Abramowitz and Stegun, Handbook of Mathematical Functions: three digits
    from three degrees on, and too narrow below (11.3 for 12.7 with one).
    """
    z, n = Z, freedom
    terms = (
        (z**3 + z) / 4,
        (5 * z**5 + 16 * z**3 + 3 * z) / 96,
        (3 * z**7 + 19 * z**5 + 17 * z**3 - 15 * z) / 384,
        (79 * z**9 + 776 * z**7 + 1482 * z**5 - 1920 * z**3 - 945 * z) / 92160,
    )
    beyond: float = sum(term / n**power for power, term in enumerate(terms, start=1))
    return z + beyond


def quartiles(histogram: Mapping[int, int]) -> Quartiles | None:
    """The quartiles of a histogram: for each the least value that enough do not exceed."""
    many = sum(histogram.values())
    if not many:
        return None
    wanted = [-(-many * part // 4) for part in (1, 2, 3)]
    found, below = list[int](), 0
    for value in sorted(histogram):
        below += histogram[value]
        while len(found) < len(wanted) and below >= wanted[len(found)]:
            found.append(value)
    return Quartiles(*found)
