"""Curves drawn with characters on round axes. It says everything without colour.

Days may be counted from any moment: what came before it stands left of nought.
"""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from boxlamp.paper.forms.scales import Scale, round_scale
from boxlamp.view.chart import FINE_STROKES, PLAIN_STROKES, SEVERAL, Strokes

# Our choices: how high a chart is, how many lines or cells there are to a label.
_HEIGHT = 15
_LINES_TO_A_LABEL = 3
_CELLS_TO_A_LABEL = 9
# A level further from the points than half their range would press them flat: it is only named.
_BEYOND = 0.5
_LEAST_RANGE = 1.0

Points = Sequence[tuple[float, float]]


class Plot(NamedTuple):
    """The drawn lines, and which of the levels could be drawn among them."""

    lines: list[str]
    drawn: list[float]


def plot(series: Sequence[tuple[str, Points]], levels: Sequence[float], width: int, *,
         fine: bool) -> Plot:  # fmt: skip
    """Each series by its sign of one cell, each level as a dotted line, in so many cells."""
    strokes = FINE_STROKES if fine else PLAIN_STROKES
    values = [value for _, points in series for _, value in points]
    if not values:
        return Plot([], [])
    drawn = _near(levels, min(values), max(values))
    up = round_scale(min(values + drawn), max(values + drawn), _HEIGHT // _LINES_TO_A_LABEL)
    up = up._replace(start=0, end=_HEIGHT - 1)
    margin = max(len(_told(up, tick)) for tick in up.ticks)
    days = [day for _, points in series for day, _ in points]
    across = round_scale(min(days), max(days), max(1, (width - margin) // _CELLS_TO_A_LABEL))
    # The last label stands half beside its tick.
    across = across._replace(start=0, end=width - margin - 4)
    cells = _cells(series, across, up)
    lines = [*_rows(cells, drawn, (across, up), margin, strokes), *_axis(across, margin, strokes)]
    return Plot(lines, drawn)


def _near(levels: Sequence[float], low: float, high: float) -> list[float]:
    """The levels that do not stand too far from the points."""
    room = max(high - low, _LEAST_RANGE) * _BEYOND
    return [level for level in levels if low - room <= level <= high + room]


def _cells(series: Sequence[tuple[str, Points]], across: Scale, up: Scale) -> dict[
    tuple[int, int], str
]:  # fmt: skip
    """The sign of each cell that has a point in it."""
    cells = dict[tuple[int, int], str]()
    for sign, points in series:
        for day, value in points:
            place = round(across.at(day)), round(up.at(value))
            cells[place] = sign if cells.get(place, sign) == sign else SEVERAL
    return cells


def _rows(cells: dict[tuple[int, int], str], levels: Sequence[float], scales: tuple[Scale, Scale],
          margin: int, strokes: Strokes) -> Iterator[str]:  # fmt: skip
    """The lines from the top, each with its label where there is one."""
    across, up = scales
    labels = {round(up.at(tick)): _told(up, tick) for tick in up.ticks}
    dotted = {round(up.at(level)) for level in levels}
    for row in reversed(range(_HEIGHT)):
        ground = strokes.dot if row in dotted else " "
        drawn = "".join(cells.get((column, row), ground) for column in range(round(across.end) + 1))
        side = strokes.mark if row in labels else strokes.side
        yield f"{labels.get(row, ''):>{margin}}{side}{drawn}".rstrip()


def _axis(across: Scale, margin: int, strokes: Strokes) -> Iterator[str]:
    """The line of the days, and under it what its ticks are."""
    labels = {round(across.at(tick)): _told(across, tick) for tick in across.ticks}
    base = "".join(
        strokes.tick if column in labels else strokes.base
        for column in range(round(across.end) + 1)
    )
    yield " " * margin + strokes.corner + base
    row = ""
    for column, label in labels.items():
        begin = max(0, margin + 1 + column - len(label) // 2)
        if not row or begin > len(row):
            row = row.ljust(begin) + label
    yield row


def _told(scale: Scale, tick: float) -> str:
    """A label; nought has no sign."""
    told = scale.told(tick)
    return told.removeprefix("-") if float(told) == 0 else told
