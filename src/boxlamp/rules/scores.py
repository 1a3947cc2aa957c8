"""One pup's viability scores: what they add up to, and which of the limits that reaches."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from decimal import Decimal
from typing import NamedTuple

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Score
from boxlamp.rules.reading import Reading
from boxlamp.rules.scale import Scale
from boxlamp.rules.spell import Band, Spell, Yardstick, span

_ITEMS = ("heart", "breathing", "reflex", "movement", "colour")
_BEST = 2
"""The most points one item can have."""


class Total(NamedTuple):
    """What a score adds up to: a range while items were not taken, never a guess."""

    low: int
    high: int
    missing: tuple[str, ...] = ()

    @property
    def points(self) -> str:
        """``7``, or ``3 to 5``."""
        return str(self.low) if self.low == self.high else f"{self.low} to {self.high}"

    @property
    def words(self) -> str:
        """``4 of 10``; ``3 to 5 of 10, reflex not taken``."""
        *most, last = self.missing or ("",)
        missing = f"{', '.join(most)} and {last}" if most else last
        return f"{self.points} of {_BEST * len(_ITEMS)}" + (f", {missing} not taken" * bool(last))


def total(score: Score) -> Total | None:
    """The points of one score; None when nothing was taken at all."""
    taken = [item for item in score.items if item is not None]
    missing = tuple(name for name, item in zip(_ITEMS, score.items, strict=True) if item is None)
    if not taken:
        return None
    return Total(sum(taken), sum(taken) + _BEST * len(missing), missing)


@dataclass(eq=False, repr=False)
class Scores:
    """The scores of one pup, each judged when it comes. One in band ends what stood before it."""

    rule: str
    yardstick: Yardstick
    subject: str
    best: Total | None = None
    """The best score before the newest one."""
    last: Total | None = None
    """The one just before the newest."""
    low: Reading = field(init=False)
    fall: Reading = field(init=False)
    late: Reading = field(init=False)
    middle: Reading = field(init=False)

    def __post_init__(self) -> None:
        """Each limit speaks for itself."""
        lasts = span(self.yardstick, self.rule, "stands-for")
        self.low, self.fall, self.late, self.middle = (
            Reading(Band(self.rule, self.yardstick, self.subject), lasts) for _ in range(4)
        )

    @property
    def normal(self) -> bool:
        """Whether nothing stands against the newest score."""
        return not any(reading.band.running for reading in self._readings)

    def take(self, entry: Entry, scale: Scale, points: Total) -> None:
        """Judge one score. A range reaches a limit only when the whole of it does."""
        late = scale.age(entry.at) >= span(self.yardstick, self.rule, "late-from")
        self.middle.read(entry, "middle", Decimal(points.low), points.words)
        self.late.read(entry, "late" if late else "", Decimal(points.high), points.words)
        self.low.read(entry, "low", Decimal(points.high), points.words)
        best = self.best or points
        told = f"{best.points}, now {points.words}"
        self.fall.read(entry, "fall", Decimal(self._fallen(best, points)), told)
        self.best, self.last = max(best, points, key=lambda one: one.low), points

    def _fallen(self, best: Total, points: Total) -> int:
        """By how much the score has surely fallen since the best one before it.

        A normal score that is not lower than the one just before it falls no further: nothing
        is left to ask about.
        """
        steady = self.last is None or self.last.low <= points.high
        if steady and not self.middle.band.running:
            return 0
        return max(0, best.low - points.high)

    def close(self, entry: Entry) -> None:
        """Whatever stands does so no longer."""
        for reading in self._readings:
            reading.close(entry)

    def finish(self) -> Iterator[Spell]:
        """All spells noted, the most telling limit first."""
        for reading in self._readings:
            yield from reading.finish()

    @property
    def _readings(self) -> tuple[Reading, ...]:
        return self.low, self.fall, self.late, self.middle
