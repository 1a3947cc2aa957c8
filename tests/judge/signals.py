"""Signals in dense time, and where the entries of one second lie in it.

A signal is a list of points ``(time, value)``: from each point on the value holds until the next,
so every piece is half open, ``[start, end)``. Above zero is true, below zero is false, and zero
never occurs: the monitor cannot tell ``>`` from ``>=``.

Entries are whole seconds apart or stand in one second in canonical order. Each becomes a short
pulse of its own, one tick long, all in the first half of its second; so "a push, then a rest" and
"a rest, then a push" stay two different things in one and the same second. What is true *at* a
second is read at its end, when all its entries have been taken in. A clock that must be read
before the entries of a second counts to half a second earlier, one that must be read after them
to half a second later (:class:`Span`). Ticks are powers of two: sums of them are exact.
"""

from collections.abc import Iterable, Sequence
from itertools import groupby

Signal = tuple[tuple[float, float], ...]

TICK = 2.0**-10
MOST = 512
"""How many entries fit into the first half of a second."""
BEFORE = 200 * 86400
"""Seconds before the first entry: more than any bound, so that nothing is true by lack of past."""
TRUE, FALSE = 1.0, -1.0
NEVER: Signal = ((0.0, FALSE),)


class Span(float):
    """A length of time in seconds, as a bound of an operator; or any other number of a rule."""

    @property
    def early(self) -> float:
        """The bound that is over before the entries of its last second are taken in."""
        return self - 0.5

    @property
    def late(self) -> float:
        """The bound that is over only after the entries of its last second are taken in."""
        return self + 0.5

    def __format__(self, spec: str) -> str:
        return format(float(self), spec or ".12g")


def places(seconds: Sequence[int]) -> tuple[float, ...]:
    """Where entries lie that happened at these seconds, given in canonical order."""
    found: list[float] = []
    for second, same in groupby(seconds):
        many = len([*same])
        if many > MOST:
            raise ValueError(f"{many} entries in one second are more than a second has room for")
        found += [second + number * TICK for number in range(many)]
    return tuple(found)


def pulses(at: Iterable[float]) -> Signal:
    """True for one tick from each of these places on."""
    points = [(0.0, FALSE)]
    for place in at:
        points += [(place, TRUE), (place + TICK, FALSE)]
    return thinned(points)


def held(changes: Iterable[tuple[float, float]], first: float = FALSE) -> Signal:
    """A value that changes at each of these places, from ``first`` on."""
    return thinned([(0.0, first), *changes])


def thinned(points: Iterable[Sequence[float]]) -> Signal:
    """The same signal without points that change nothing; of one place the last value counts."""
    found: list[tuple[float, float]] = []
    for place, value in points:
        if found and found[-1][0] == place:
            found.pop()
        if not found or found[-1][1] != value:
            found.append((place, value))
    return tuple(found)


def truth(signal: Iterable[Sequence[float]]) -> Signal:
    """What the monitor found as true and false alone, over all of time."""
    points = [(place, TRUE if value > 0 else FALSE) for place, value in signal if place < 1e300]
    return thinned(points)


def by_second(signal: Signal) -> tuple[tuple[int, bool], ...]:
    """What is true at each second in which that changes, read at the end of it."""
    read = {int(place): value > 0 for place, value in signal}
    found: list[tuple[int, bool]] = [(0, False)]
    for second, value in read.items():
        if value != found[-1][1]:
            found.append((second, value))
    return tuple(found[1:])
