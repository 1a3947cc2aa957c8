"""A trial as a person reads it, in eighty columns: what it costs, what it catches and misses."""

from collections.abc import Iterator
from datetime import timedelta

from boxlamp.model.happenings import Limit
from boxlamp.model.levels import ALERTS, Level
from boxlamp.model.spans import in_words
from boxlamp.trial import words
from boxlamp.trial.caught_lines import caught_lines
from boxlamp.trial.one import Side
from boxlamp.trial.report import Compared, Report
from boxlamp.view.board import CAUTION
from boxlamp.view.text import wrap

_HUNDRED = 100
_WHAT_IT_IS = (
    "Invented nights, drawn from published figures; how far apart pups come is our choice, made to "
    "fit published ranges. Each trouble has as many nights as the next, however rare it is. In "
    "brackets the 95 % interval. The figures compare limits; of real dogs they say no more."
)


def trial_lines(found: Report) -> Iterator[str]:
    """The whole report."""
    yield from _opening(found)
    if found.normal:
        yield ""
        yield from _levels(found) if len(found.sides) == 1 else _levels_apart(found)
        yield ""
        yield from _rules(found) if len(found.sides) == 1 else _rules_apart(found)
        yield from words.folded(f"Never raised: {', '.join(found.never)}.")
    if found.troubled:
        yield ""
        yield from caught_lines(found)
    yield ""
    yield from wrap(f"{_WHAT_IT_IS} {CAUTION}", words.ACROSS)


def _opening(found: Report) -> Iterator[str]:
    nights = f"{found.nights:,} imagined nights, seed {found.seed}"
    yield f"What the limits cost and what they catch: {nights}"
    if found.partial:
        yield f"PARTIAL: stopped after {found.nights:,} of {found.planned:,} nights."
    yield f"default: limits {found.sides[0].protocol.version}"
    for side in found.sides[1:]:
        yield from words.folded(f"{side.name}: the same but {_changes(side)}")


def _changes(side: Side) -> str:
    return ", ".join(
        f"{_clock(limit)} {limit.level} at {in_words(timedelta(seconds=limit.seconds))}"
        if limit.seconds
        else f"{_clock(limit)} {limit.level} at once"
        for limit in side.limits
    )


def _clock(limit: Limit) -> str:
    return limit.rule if limit.clock == "main" else f"{limit.rule} {limit.clock}"


def _levels(found: Report) -> Iterator[str]:
    widths = (26, 27, 27)
    head = f"{found.normal:,} normal nights"
    yield words.row(widths, head, "alerts a night", "% of nights with any")
    for row in reversed(found.levels):
        alerts, nights = words.per_night(row.alerts.sides[0]), words.percent(row.nights.sides[0])
        yield words.row(widths, _level(row.level), alerts, nights)


def _rules(found: Report) -> Iterator[str]:
    widths = (29, 17, 17, 17)
    heads = [f"{level.mark} {level.word}" for level in ALERTS]
    yield words.row(widths, "Alerts in 100 normal nights", *heads)
    by_rule: dict[str, dict[Level, str]] = {}
    for row in found.rules:
        cells = by_rule.setdefault(row.rule, {})
        cells[row.level] = words.rate(row.alerts.sides[0], _HUNDRED)
    for rule, cells in by_rule.items():
        yield words.row(widths, rule, *(cells.get(level, "-") for level in ALERTS))


_APART = (31, 14, 14, 21)


def _levels_apart(found: Report) -> Iterator[str]:
    names = [side.name for side in found.sides]
    yield words.row(_APART, f"{found.normal:,} normal nights", *names, "difference")
    yield "In 100 of them, alerts"
    for row in reversed(found.levels):
        yield _apart(_level(row.level), row.alerts)
    yield "In 100 of them, nights with any"
    for row in reversed(found.levels):
        yield _apart(_level(row.level), row.nights)


def _rules_apart(found: Report) -> Iterator[str]:
    yield "In 100 of them, alerts by rule"
    for row in found.rules:
        yield _apart(f"{row.level.mark:<3} {row.rule}", row.alerts)


def _apart(head: str, compared: Compared) -> str:
    sides = [words.rate(side, _HUNDRED) for side in compared.sides]
    return words.row(_APART, head, *sides, words.apart(compared, _HUNDRED))


def _level(level: Level) -> str:
    return f"{level.mark:<3} {level.word}"
