"""What many nights came to: nothing but whole numbers, so that any order gives the same figures.

A :class:`Tally` is made of one night and merged with another. Merging adds, so it does not matter
who counted which nights, nor in which order the counts come together.
"""

from collections import Counter
from collections.abc import Iterable, Iterator
from typing import Final, Literal, NamedTuple

from boxlamp.imagine import Imagined
from boxlamp.model.levels import ALERTS, Level
from boxlamp.trial.one import Outcome
from boxlamp.trial.plan import NORMAL

DIFFERENCE: Final = 2
"""In the place of a side: the second side less the first, night by night."""

What = Literal["rule", "all", "any", "flagged", "already", "missed", "watched"]


class Measure(NamedTuple):
    """One number that a night has: which nights it is of, which side it is of, and what it is.

    ``rule``: how often a level of a rule was reached. ``all``: how often the level was, by any
    rule. ``any``: 1 when it was at all. ``flagged``, ``already``, ``missed``, ``watched``: 1 when
    the trouble was, see :class:`~boxlamp.trial.one.Outcome`. ``side`` is 0, 1 or
    :data:`DIFFERENCE`.
    """

    trouble: str
    side: int
    what: What
    level: Level = Level.PROMPT
    rule: str = ""


class First(NamedTuple):
    """A rule that was the first to flag a trouble."""

    trouble: str
    side: int
    rule: str


class Minute(NamedTuple):
    """One bar of a histogram: so many minutes after a trouble began, or before it was over.

    ``told``, of the :data:`DIFFERENCE`: by how many the second side had a call standing sooner.
    """

    trouble: str
    side: int
    what: Literal["after", "before", "told"]
    minutes: int


class Missed(NamedTuple):
    """A troubled night in which nothing asked for a telephone call."""

    side: int
    trouble: str
    seed: int


class Tally(NamedTuple):
    """The counts of some nights."""

    nights: Counter[str]
    """By trouble; the normal ones under ``none``."""
    sums: Counter[Measure]
    squares: Counter[Measure]
    """The sum of each measure's squares, for the spread between nights."""
    firsts: Counter[First]
    minutes: Counter[Minute]
    missed: Counter[Missed]

    def add(self, other: "Tally") -> None:
        """Count those nights as well."""
        self.nights.update(other.nights)
        self.sums.update(other.sums)
        self.squares.update(other.squares)
        self.firsts.update(other.firsts)
        self.minutes.update(other.minutes)
        self.missed.update(other.missed)


def nothing() -> Tally:
    """The tally of no night."""
    return Tally(Counter(), Counter(), Counter(), Counter(), Counter(), Counter())


def tally(night: Imagined, outcomes: tuple[Outcome, ...]) -> Tally:
    """The tally of one night under one side or two."""
    trouble = night.trouble or NORMAL
    counted = nothing()
    counted.nights[trouble] = 1
    by_side = [_values(trouble, side, one) for side, one in enumerate(outcomes)]
    for values in by_side if len(by_side) == 1 else [*by_side, _differences(*by_side)]:
        for measure, value in values.items():
            if value:
                counted.sums[measure] = value
                counted.squares[measure] = value * value
    if night.trouble is None:
        return counted
    for side, one in enumerate(outcomes):
        if one.flag is not None:
            counted.firsts[First(trouble, side, one.flag.rule)] = 1
    counted.minutes.update(_timed(trouble, outcomes))
    counted.missed.update(_missed(night, outcomes))
    return counted


def merged(tallies: Iterable[Tally]) -> Tally:
    """Several tallies as one."""
    whole = nothing()
    for part in tallies:
        whole.add(part)
    return whole


def _values(trouble: str, side: int, one: Outcome) -> dict[Measure, int]:
    """Everything that is counted of one night under one side."""
    if trouble != NORMAL:
        return {
            Measure(trouble, side, "flagged"): int(one.flag is not None),
            Measure(trouble, side, "already"): int(one.already),
            Measure(trouble, side, "missed"): int(one.missed),
            Measure(trouble, side, "watched"): int(one.watched),
        }
    values = {
        Measure(trouble, side, "rule", level, rule): times for rule, level, times in one.raised
    }
    for level in ALERTS:
        times = sum(raised.times for raised in one.raised if raised.level is level)
        values[Measure(trouble, side, "all", level)] = times
        values[Measure(trouble, side, "any", level)] = int(times > 0)
    return values


def _differences(first: dict[Measure, int], second: dict[Measure, int]) -> dict[Measure, int]:
    one = {measure._replace(side=DIFFERENCE): value for measure, value in first.items()}
    other = {measure._replace(side=DIFFERENCE): value for measure, value in second.items()}
    return {key: other.get(key, 0) - one.get(key, 0) for key in one | other}


def _timed(trouble: str, outcomes: tuple[Outcome, ...]) -> Iterator[Minute]:
    flags = [one.flag for one in outcomes]
    for side, flag in enumerate(flags):
        if flag is not None:
            yield Minute(trouble, side, "after", flag.after)
            yield Minute(trouble, side, "before", flag.before)
    told = [one.told for one in outcomes]
    if len(told) > 1 and told[0] is not None and told[1] is not None:
        yield Minute(trouble, DIFFERENCE, "told", told[0] - told[1])


def _missed(night: Imagined, outcomes: tuple[Outcome, ...]) -> Iterator[Missed]:
    for side, one in enumerate(outcomes):
        if one.missed:
            yield Missed(side, night.trouble or NORMAL, night.seed)
