"""From counts to figures: what a trial says, in the order in which it is told."""

from collections.abc import Iterator
from typing import NamedTuple

from boxlamp.model.levels import ALERTS, Level
from boxlamp.rules.registry import RULES
from boxlamp.trial.intervals import Figure, Quartiles, mean, quartiles, share, shares_apart
from boxlamp.trial.one import Side
from boxlamp.trial.plan import NORMAL
from boxlamp.trial.pool import Counted
from boxlamp.trial.tally import DIFFERENCE, Measure, Missed, Tally, What

ALL = "all"


class Compared(NamedTuple):
    """A figure for each side, and the second less the first over the same nights."""

    sides: tuple[Figure, ...]
    apart: Figure | None = None
    same: bool = False
    """Whether no single night told the two sides apart."""


class LevelRow(NamedTuple):
    """One level in normal nights: alerts per night, and the share of nights with one or more."""

    level: Level
    alerts: Compared
    nights: Compared


class RuleRow(NamedTuple):
    """One level of one rule in normal nights: how often it is reached per night."""

    rule: str
    level: Level
    alerts: Compared


class Caught(NamedTuple):
    """What one side did about a trouble. Times in whole minutes, of the nights it flagged."""

    flagged: int
    already: int
    missed: int
    watched: int
    """Of those that were missed, in how many at least a watch stood."""
    after: Quartiles | None
    before: Quartiles | None
    firsts: tuple[tuple[str, int], ...]
    """Which rule was the first to flag it, and in how many nights; the commonest first."""


class TroubleRow(NamedTuple):
    """One trouble, or all of them: the nights, the share flagged, and what else is known."""

    trouble: str
    nights: int
    flagged: Compared
    missed: Compared
    """The share in which no call or go stood at all; a sooner limit can only make it smaller."""
    caught: tuple[Caught, ...]
    sooner: Figure | None
    """By how many minutes the second side had a call or go standing sooner, where both had; a mean.

    A call from before the trouble stands in it from its first minute.
    """


class Report(NamedTuple):
    """Everything a trial found."""

    seed: int
    sides: tuple[Side, ...]
    planned: int
    nights: int
    normal: int
    troubled: int
    levels: tuple[LevelRow, ...]
    rules: tuple[RuleRow, ...]
    """Those that were reached, the most costly rule first."""
    never: tuple[str, ...]
    """The rules that no normal night raised, in the order of the catalogue."""
    troubles: tuple[TroubleRow, ...]
    """All of them first, then each, the least often flagged first."""
    missed: tuple[Missed, ...]
    """In order of side, trouble and seed."""

    @property
    def partial(self) -> bool:
        """Whether the trial was stopped before its end."""
        return self.nights < self.planned


def report(counted: Counted, sides: tuple[Side, ...], seed: int) -> Report:
    """The figures of a trial."""
    found = _Figures(counted.tally, len(sides))
    rules = tuple(found.rules())
    raised = {row.rule for row in rules}
    normal = counted.tally.nights[NORMAL]
    return Report(
        seed=seed,
        sides=sides,
        planned=counted.planned,
        nights=counted.nights,
        normal=normal,
        troubled=counted.nights - normal,
        levels=tuple(found.levels()) if normal else (),
        rules=rules,
        never=tuple(rule.id for rule in RULES if rule.id not in raised) if normal else (),
        troubles=tuple(found.troubles()),
        missed=tuple(sorted(counted.tally.missed)),
    )


class _Figures:
    """The figures of one tally under one side or two."""

    def __init__(self, tally: Tally, sides: int) -> None:
        self.tally, self.sides = tally, tuple(range(sides))

    def levels(self) -> Iterator[LevelRow]:
        for level in ALERTS:
            yield LevelRow(level, self._rates("all", level), self._shares((NORMAL,), "any", level))

    def rules(self) -> Iterator[RuleRow]:
        keys = {(key.rule, key.level) for key in self.tally.sums if key.what == "rule"}
        for rule, level in sorted(keys, key=self._cost):
            yield RuleRow(rule, level, self._rates("rule", level, rule))

    def troubles(self) -> Iterator[TroubleRow]:
        names = sorted(name for name in self.tally.nights if name != NORMAL)
        if not names:
            return
        yield self._trouble(ALL, tuple(names))
        rows = [self._trouble(name, (name,)) for name in names]
        yield from sorted(rows, key=lambda row: (row.flagged.sides[0].value, row.trouble))

    def _cost(self, key: tuple[str, Level]) -> tuple[object, ...]:
        """Sort key: the rule whose calls and goes are the most, then its watches; go above call."""
        rule, level = key
        of = {
            each: sum(
                self.tally.sums[Measure(NORMAL, side, "rule", each, rule)] for side in self.sides
            )
            for each in ALERTS
        }
        return -(of[Level.CALL] + of[Level.GO]), -of[Level.WATCH], rule, -level

    def _rates(self, what: What, level: Level, rule: str = "") -> Compared:
        nights = self.tally.nights[NORMAL]

        def rate(side: int) -> Figure:
            key = Measure(NORMAL, side, what, level, rule)
            found = mean(
                self.tally.sums[key], self.tally.squares[key], nights, signed=side == DIFFERENCE
            )
            return found or Figure(0)

        return self._compared(
            tuple(rate(side) for side in self.sides),
            rate(DIFFERENCE),
            self.tally.squares[Measure(NORMAL, DIFFERENCE, what, level, rule)],
        )

    def _shares(self, names: tuple[str, ...], what: What, level: Level = Level.PROMPT) -> Compared:
        nights = sum(self.tally.nights[name] for name in names)
        keys = [[Measure(name, side, what, level) for name in names] for side in (0, 1, DIFFERENCE)]
        sums = [sum(self.tally.sums[key] for key in side) for side in keys]
        disagreeing = sum(self.tally.squares[key] for key in keys[DIFFERENCE])
        shares = tuple(share(sums[side], nights) or Figure(0) for side in self.sides)
        apart = shares_apart(sums[DIFFERENCE], disagreeing, nights) or Figure(0)
        return self._compared(shares, apart, disagreeing)

    def _compared(self, sides: tuple[Figure, ...], apart: Figure, disagreeing: int) -> Compared:
        if len(sides) == 1:
            return Compared(sides)
        return Compared(sides, apart, same=not disagreeing)

    def _trouble(self, name: str, names: tuple[str, ...]) -> TroubleRow:
        return TroubleRow(
            trouble=name,
            nights=sum(self.tally.nights[one] for one in names),
            flagged=self._shares(names, "flagged"),
            missed=self._shares(names, "missed"),
            caught=tuple(self._caught(names, side) for side in self.sides),
            sooner=self._sooner(names),
        )

    def _caught(self, names: tuple[str, ...], side: int) -> Caught:
        firsts: dict[str, int] = {}
        for first, count in self.tally.firsts.items():
            if first.side == side and first.trouble in names:
                firsts[first.rule] = firsts.get(first.rule, 0) + count
        return Caught(
            flagged=self._count(names, side, "flagged"),
            already=self._count(names, side, "already"),
            watched=self._count(names, side, "watched"),
            missed=self._count(names, side, "missed"),
            after=quartiles(self._minutes(names, side, "after")),
            before=quartiles(self._minutes(names, side, "before")),
            firsts=tuple(sorted(firsts.items(), key=lambda first: (-first[1], first[0]))),
        )

    def _count(self, names: tuple[str, ...], side: int, what: What) -> int:
        return sum(self.tally.sums[Measure(name, side, what)] for name in names)

    def _minutes(self, names: tuple[str, ...], side: int, what: str) -> dict[int, int]:
        histogram: dict[int, int] = {}
        for bar, count in self.tally.minutes.items():
            if bar.side == side and bar.what == what and bar.trouble in names:
                histogram[bar.minutes] = histogram.get(bar.minutes, 0) + count
        return histogram

    def _sooner(self, names: tuple[str, ...]) -> Figure | None:
        bars = self._minutes(names, DIFFERENCE, "told")
        return mean(
            sum(minutes * count for minutes, count in bars.items()),
            sum(minutes * minutes * count for minutes, count in bars.items()),
            sum(bars.values()),
            signed=True,
        )
