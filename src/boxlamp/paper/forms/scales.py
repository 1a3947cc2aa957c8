"""Scales of a chart: from numbers to places, with round numbers where a person reads them."""

from math import ceil, floor, log10
from typing import NamedTuple

_ROUND = (1.0, 2.0, 5.0, 10.0)
_ROUND_MINUTES = (1.0, 2.0, 5.0, 10.0, 15.0, 30.0, 60.0, 120.0, 240.0, 480.0, 960.0)
_LEAST_STEP = 0.1  # nothing in a chart is measured more finely than to a tenth


class Scale(NamedTuple):
    """Numbers from ``low`` to ``high`` laid along a line from ``start`` to ``end``, in points."""

    low: float
    high: float
    step: float
    start: float = 0.0
    end: float = 1.0

    def at(self, value: float) -> float:
        """Where a value lies; one beyond the scale lies at its end."""
        share = (value - self.low) / (self.high - self.low)
        return self.start + (self.end - self.start) * min(1.0, max(0.0, share))

    @property
    def ticks(self) -> tuple[float, ...]:
        """The round numbers from one end to the other."""
        count = round((self.high - self.low) / self.step)
        return tuple(self.low + place * self.step for place in range(count + 1))

    def told(self, value: float) -> str:
        """A round number as it is written."""
        digits = 0 if self.step >= 1 else 1
        return f"{value:.{digits}f}"


def round_scale(low: float, high: float, most: int, unit: str = "") -> Scale:
    """The finest scale with round ends that holds these values and has at most so many steps.

    Minutes are rounded as a clock has them.
    """
    span = max(high - low, 1e-9)
    for step in _steps(span / most, unit):
        first, last = floor(low / step) * step, ceil(high / step) * step
        last = last if last > first else first + step
        if round((last - first) / step) <= most:
            return Scale(first, last, step)
    return Scale(low, low + span, span)


def _steps(least: float, unit: str) -> tuple[float, ...]:
    """Round steps, from the smallest that may do upwards."""
    least = max(least, _LEAST_STEP)
    power = floor(log10(least))
    tens = [base * 10.0 ** (power + more) for more in (0, 1) for base in _ROUND]
    if unit == "min" and least <= _ROUND_MINUTES[-1]:
        tens = [*_ROUND_MINUTES, *(step for step in tens if step > _ROUND_MINUTES[-1])]
    return tuple(sorted(step for step in set(tens) if step >= least * 0.999))
