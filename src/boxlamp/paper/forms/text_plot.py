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
    """The drawn lines, and which of the levels could be drawn among them.

    ``touching`` holds levels that share their line with a point below them, and that point.
    """

    lines: list[str]
    drawn: list[float]
    touching: dict[float, float]


def plot(series: Sequence[tuple[str, Points]], levels: Sequence[float], width: int, *,
         fine: bool) -> Plot:  # fmt: skip
    """Each series by its sign of one cell, each level as a dotted line, in so many cells."""
    strokes = FINE_STROKES if fine else PLAIN_STROKES
    values = [value for _, points in series for _, value in points]
    if not values:
        return Plot([], [], {})
    drawn = _near(levels, min(values), max(values))
    up = round_scale(min(values + drawn), max(values + drawn), _HEIGHT // _LINES_TO_A_LABEL)
    up = up._replace(start=0, end=_HEIGHT - 1)
    margin = max(len(_told(up, tick)) for tick in up.ticks)
    days = [day for _, points in series for day, _ in points]
    across = round_scale(min(days), max(days), max(1, (width - margin) // _CELLS_TO_A_LABEL))
    # The last label stands half beside its tick.
    across = across._replace(start=0, end=width - margin - 4)
    cells = _cells(series, across, up)
    rows = {level: _row_of(level, values, up) for level in drawn}
    lines = [
        *_rows(cells, set(rows.values()), (across, up), margin, strokes),
        *_axis(across, margin, strokes),
    ]
    return Plot(lines, drawn, dict(_touching(rows, values, up)))


def _row_of(level: float, values: Sequence[float], up: Scale) -> int:
    """The line of a level: over every point below it, and under none of the others.

    Where points on both sides share a line, it is the line nearest to the level.
    """
    nearest = round(up.at(level))
    below = [round(up.at(value)) for value in values if value < level]
    others = [round(up.at(value)) for value in values if value >= level]
    if below and others and max(below) >= min(others):
        return nearest
    return min([max([nearest, *(row + 1 for row in below)]), *others])


def _touching(
    rows: dict[float, int], values: Sequence[float], up: Scale
) -> Iterator[tuple[float, float]]:
    """Each level with the highest point below it that had to be drawn on its line."""
    for level, row in rows.items():
        below = [value for value in values if value < level and round(up.at(value)) >= row]
        if below:
            yield level, max(below)


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


def _rows(cells: dict[tuple[int, int], str], dotted: set[int], scales: tuple[Scale, Scale],
          margin: int, strokes: Strokes) -> Iterator[str]:  # fmt: skip
    """The lines from the top, each with its label where there is one."""
    across, up = scales
    labels = {round(up.at(tick)): _told(up, tick) for tick in up.ticks}
    # A level above the highest points may need a line more.
    for row in reversed(range(max([_HEIGHT, *(1 + row for row in dotted)]))):
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
