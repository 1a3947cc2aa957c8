"""The weight table set in columns: a row a pup, the newest rounds that fit, newest on the right.

What stands of a pup is said at the end of its row, or beneath it when the rounds take the room.
"""

from collections.abc import Callable, Iterator
from datetime import tzinfo
from decimal import Decimal
from typing import NamedTuple

from boxlamp.growth.spread import Spread
from boxlamp.growth.table import Column, PupGrowth, WeightTable
from boxlamp.view.layout import Line
from boxlamp.view.text import clean, clock_text, day_text, fit, width_of, wrap
from boxlamp.view.weights_words import (
    grams_words,
    pace_words,
    since_words,
    stands_of,
    state_words,
)

_PUP, _SEX, _CELL, _SINCE, _GRAMS, _PERCENT = 3, 5, 7, 8, 7, 7
_LEAST_MARK, _MOST_MARK = 6, 10
_ENOUGH_ROUNDS = 4
_GAP = 2


class _Plan(NamedTuple):
    """How the table is laid out."""

    mark: int
    columns: tuple[Column, ...]
    """The rounds that are shown."""
    beside: bool
    """Whether there is room at the end of a row for what stands of its pup."""

    @property
    def lead(self) -> int:
        """The width of everything before the weights."""
        return _PUP + 1 + self.mark + 1 + _SEX

    @property
    def used(self) -> int:
        """The width of everything but what stands."""
        return self.lead + _CELL * (1 + len(self.columns)) + _SINCE + _GRAMS + _PERCENT


def table_lines(table: WeightTable, width: int, zone: tzinfo) -> Iterator[Line]:
    """The whole table, 70 columns or wider."""
    plan = _plan(table, width)
    yield from _titles(plan, zone)
    for pup in table.pups:
        yield from _row(pup, plan, width, zone)
    yield from _together("mean", table, plan, lambda found: found.mean)
    yield from _together("together", table, plan, lambda found: found.total)


def _plan(table: WeightTable, width: int) -> _Plan:
    mark = max([_LEAST_MARK, *(width_of(clean(pup.pup.mark or "")) for pup in table.pups)])
    plan = _Plan(min(mark, _MOST_MARK), (), beside=False)
    said = [width_of(words) for pup in table.pups for _, words in stands_of(pup)]
    stands = max(said) + _GAP if said else 0
    fitting = min((width - plan.used) // _CELL, len(table.columns))
    beside = min((width - plan.used - stands) // _CELL, len(table.columns))
    if beside >= min(_ENOUGH_ROUNDS, fitting):
        return plan._replace(columns=table.columns[len(table.columns) - beside :], beside=True)
    return plan._replace(columns=table.columns[len(table.columns) - fitting :])


def _titles(plan: _Plan, zone: tzinfo) -> Iterator[Line]:
    days = "".join(f"{'d' + str(column.days):>{_CELL}}" for column in plan.columns)
    dates = "".join(f"{text:>{_CELL}}" for text in _dates(plan.columns, zone))
    per_day = _GRAMS + _PERCENT
    first = f"{'birth':>{_CELL}}{days}{'since':>{_SINCE}}{'per day':>{per_day}}"
    second = f"{'g':>{_CELL}}{dates}{'birth %':>{_SINCE}}{'g':>{_GRAMS}}{'%':>{_PERCENT}}"
    yield [("dim", " " * plan.lead + first)]
    yield [("dim", f"pup {fit('mark', plan.mark)} {'sex':<{_SEX}}{second}")]


def _dates(columns: tuple[Column, ...], zone: tzinfo) -> Iterator[str]:
    """The date of each round; the hour for a second round on one day."""
    before = ""
    for column in columns:
        at = column.round.start
        date = day_text(at, zone)
        yield clock_text(at, at, zone) if date == before else date
        before = date


def _row(pup: PupGrowth, plan: _Plan, width: int, zone: tzinfo) -> Iterator[Line]:
    said = stands_of(pup)
    rounds, state = _rounds(pup, plan), state_words(pup, zone)
    if state and len(state) + _GAP <= len(rounds) and rounds.isspace():
        rounds = f"{'':<{_GAP}}{state:<{len(rounds) - _GAP}}"
    elif state:
        said.append(("text", state))
    lead = f"{pup.number:>{_PUP}} {fit(clean(pup.pup.mark or ''), plan.mark)} "
    row = f"{lead}{pup.pup.sex or '':<{_SEX}}{grams_words(pup.birth):>{_CELL}}{rounds}"
    figures = _figures(pup)
    beside = plan.beside and all(plan.used + _GAP + width_of(one) <= width for _, one in said)
    if beside and said:
        yield [("text", row + figures + " " * _GAP), said.pop(0)]
    else:
        yield [("text", (row + figures).rstrip())]
    indent = plan.used + _GAP if beside else _PUP + 1
    for role, words in said:
        for part in wrap(words, width - indent):
            yield [("text", " " * indent), (role, part)]


def _rounds(pup: PupGrowth, plan: _Plan) -> str:
    weights = (column.round.grams.get(pup.number) for column in plan.columns)
    return "".join(f"{grams_words(grams):>{_CELL}}" for grams in weights)


def _figures(pup: PupGrowth) -> str:
    """Growth since birth and what it puts on in a day."""
    grams, percent = pace_words(pup.pace)
    # A star stands behind its figure, so that the figures stay in their column.
    since = f"{since_words(pup).rstrip('*'):>{_SINCE}}"
    star = "*" if since_words(pup).endswith("*") else " "
    return f"{since}{star}{grams:>{_GRAMS - 1}}{percent:>{_PERCENT}}"


def _together(
    title: str, table: WeightTable, plan: _Plan, of: Callable[[Spread], Decimal | None]
) -> Iterator[Line]:
    """A last row that takes the pups of each round together; none when it would be empty."""
    spreads = (table.births, *(column.spread for column in plan.columns))
    cells = [grams_words(None if found is None else of(found)) for found in spreads]
    if any(cells):
        lead = " " * (_PUP + 1) + fit(title, plan.lead - _PUP - 1)
        yield [("dim", lead + "".join(f"{cell:>{_CELL}}" for cell in cells).rstrip())]
