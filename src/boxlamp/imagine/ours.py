"""Our choices: numbers that were not published anywhere, each with what it says.

They stand at the top of the module that draws them, are listed by ``boxlamp imagine --figures``
beside the published ones, and no other number is written in the room: a test sees to that.
"""

from datetime import timedelta
from math import exp
from typing import Literal, NamedTuple, TypeAlias

from boxlamp.model.spans import in_words

Unit = Literal["s", "min", "h", "days", "°C", "parts", "times", ""]
"""Parts are of one, as in 0.2 parts; a number without a unit counts what it says."""
_MINUTES: dict[Unit, int] = {"h": 60, "days": 24 * 60}


class Share(NamedTuple):
    """In how many of one something is so."""

    of: float
    says: str

    @property
    def how(self) -> str:
        """In words."""
        return f"{self.of * 100:g} %"


class Exactly(NamedTuple):
    """Always the same."""

    value: float
    unit: Unit
    says: str

    @property
    def amount(self) -> float:
        """In minutes, where it is a time of minutes, hours or days."""
        return self.value * _MINUTES.get(self.unit, 1)

    @property
    def how(self) -> str:
        """In words."""
        return f"{self.value:g} {self.unit}".strip()


class Span(NamedTuple):
    """Anything between two ends, each as likely."""

    low: float
    high: float
    unit: Unit
    says: str

    @property
    def ends(self) -> tuple[float, float]:
        """In minutes, where it is a time of minutes, hours or days."""
        times = _MINUTES.get(self.unit, 1)
        return self.low * times, self.high * times

    @property
    def whole(self) -> tuple[int, int]:
        """Both ends in its own unit, as whole numbers."""
        return round(self.low), round(self.high)

    @property
    def how(self) -> str:
        """In words."""
        return f"{self.low:g} to {self.high:g} {self.unit}".strip()


class About(NamedTuple):
    """Lognormally distributed: its median, and the sigma of its logarithm."""

    median: float
    sigma: float
    unit: Unit
    says: str

    @property
    def how(self) -> str:
        """In words."""
        return half_and_most(self.median, self.sigma, self.unit)


class Among(NamedTuple):
    """One of these numbers, each as likely."""

    values: tuple[int, ...]
    says: str

    @property
    def how(self) -> str:
        """In words."""
        return ", ".join(map(str, self.values))


Choice: TypeAlias = Share | Exactly | Span | About | Among

_NEARLY_ALL = 1.96  # standard deviations to either side hold 95 in 100
_HOUR = 60
_FEW = 10  # below this a tenth is worth telling


def half_and_most(median: float, sigma: float, unit: str) -> str:
    """A lognormal number in words that need no statistics: its middle, and where most lie."""
    wide = exp(_NEARLY_ALL * sigma)
    half, low, high = (_length(number, unit) for number in (median, median / wide, median * wide))
    return f"half of them under {half}, 95 of 100 between {low} and {high}"


def _length(number: float, unit: str) -> str:
    if unit == "min" and number >= _HOUR:
        return in_words(timedelta(minutes=round(number)))
    return f"{f'{number:.1f}'.removesuffix('.0') if number < _FEW else round(number)} {unit}"
