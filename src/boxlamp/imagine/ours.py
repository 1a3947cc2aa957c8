"""Our choices: numbers that were not published anywhere, each with what it says.

They stand at the top of the module that draws them, are listed by ``boxlamp imagine --figures``
beside the published ones, and no other number is written in the room: a test sees to that.
"""

from typing import Literal, NamedTuple, TypeAlias

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
        return f"lognormal, median {self.median:g} {self.unit}, sigma {self.sigma:g}"


class Among(NamedTuple):
    """One of these numbers, each as likely."""

    values: tuple[int, ...]
    says: str

    @property
    def how(self) -> str:
        """In words."""
        return ", ".join(map(str, self.values))


Choice: TypeAlias = Share | Exactly | Span | About | Among
