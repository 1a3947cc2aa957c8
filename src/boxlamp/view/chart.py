"""A chart drawn with characters: points over days, a dotted line of reference, both axes.

It says everything without colour. Cells that two series share show ``+``.
"""

from collections.abc import Callable, Iterable, Sequence
from math import ceil, floor, log10
from typing import NamedTuple

from boxlamp.view.layout import Line


class Series(NamedTuple):
    """Points of one kind, each at an age in days."""

    symbol: str
    points: tuple[tuple[float, float], ...]


class Reference(NamedTuple):
    """A line to look at beside the points; it ends after some days."""

    value: Callable[[float], float]
    until: float


class Strokes(NamedTuple):
    """The characters of the axes and of the dotted line."""

    side: str = "│"
    mark: str = "┤"
    base: str = "─"
    tick: str = "┴"
    corner: str = "└"
    dot: str = "·"


FINE_STROKES = Strokes()
PLAIN_STROKES = Strokes(side="|", mark="|", base="-", tick="'", corner="|", dot=".")

SEVERAL = "+"
_ROWS_PER_LABEL = 3
_STEPS = (1, 2, 5, 10)
_DAYS = (1, 2, 7, 14, 28)
_MOST_LABELS = 12
# Points that are all alike are drawn in the middle of this much, in their own unit.
_LEAST_RANGE = 1.0
# Above the points the line of reference is followed for half their range and then leaves.
_HEADROOM = 0.5

Cells = dict[tuple[int, int], str]


class _Scale(NamedTuple):
    """Values from ``low`` to ``high`` spread over so many cells, labelled every ``step``."""

    low: float
    high: float
    step: float
    cells: int

    def cell(self, value: float) -> int:
        """The cell nearest to a value."""
        return round((value - self.low) / (self.high - self.low) * (self.cells - 1))

    def labels(self) -> dict[int, str]:
        """The labels by the cell they stand at."""
        places = max(0, -floor(log10(self.step)))
        first, last = ceil(self.low / self.step), floor(self.high / self.step)
        values = [self.step * number for number in range(first, last + 1)]
        return {self.cell(value): f"{value:.{places}f}" for value in values}


def chart(
    series: Sequence[Series],
    reference: Reference | None,
    size: tuple[int, int],
    strokes: Strokes = FINE_STROKES,
) -> list[Line]:
    """The chart in at most ``size`` cells across and lines down. No points, no chart."""
    width, height = size
    points = [point for one in series for point in one.points]
    if not points:
        return []
    last = max(1.0, *(days for days, _ in points))
    up = _values([value for _, value in points], _end(reference, last), height - 2)
    labels = up.labels()
    margin = max((len(label) for label in labels.values()), default=0)
    across = _days(last, width - margin - 1)
    cells = _drawn(series, reference, across, up, strokes)
    return [
        *_rows(cells, labels, margin, up, strokes),
        *_axis(across, margin, width, strokes),
    ]


def _end(reference: Reference | None, last: float) -> float:
    """How high the line of reference climbs within so many days."""
    return 0.0 if reference is None else reference.value(min(last, reference.until))


def _values(values: Sequence[float], reference: float, rows: int) -> _Scale:
    low, high = min(values), max(values)
    if high - low < _LEAST_RANGE:
        low, high = low - _LEAST_RANGE, high + _LEAST_RANGE
    high = max(high, min(reference, high + (high - low) * _HEADROOM))
    # The step is rounded up, to twice this and more: then labels stand some rows apart.
    step = _round_step((high - low) * _ROWS_PER_LABEL / rows / 2)
    return _Scale(low, high, step, rows)


def _round_step(least: float) -> float:
    """The smallest of 1, 2, 5, 10, 20, 50 ... that is at least so much."""
    power = 10.0 ** floor(log10(least))
    return next((power * step for step in _STEPS if power * step >= least), power * 10)


def _days(last: float, cells: int) -> _Scale:
    most = max(1, min(_MOST_LABELS, cells // (len(str(ceil(last))) + 2)))
    step = next((days for days in _DAYS if last / days <= most), None)
    return _Scale(0, last, step or ceil(_round_step(last / most)), cells)


def _drawn(
    series: Sequence[Series],
    reference: Reference | None,
    across: _Scale,
    up: _Scale,
    strokes: Strokes,
) -> Cells:
    cells: Cells = {}
    if reference is not None:
        for column in range(across.cells):
            days = across.high * column / (across.cells - 1)
            if days <= reference.until and reference.value(days) <= up.high:
                cells[column, up.cell(reference.value(days))] = strokes.dot
    points: Cells = {}
    for one in series:
        for days, value in one.points:
            place = across.cell(days), up.cell(value)
            points[place] = one.symbol if points.get(place, one.symbol) == one.symbol else SEVERAL
    return cells | points


def _rows(
    cells: Cells,
    labels: dict[int, str],
    margin: int,
    up: _Scale,
    strokes: Strokes,
) -> Iterable[Line]:
    for row in reversed(range(up.cells)):
        drawn = [cells.get((column, row), " ") for column in range(_width(cells))]
        side = strokes.mark if row in labels else strokes.side
        lead = f"{labels.get(row, ''):>{margin}}{side}"
        yield [("dim", lead), ("text", "".join(drawn).rstrip())]


def _width(cells: Cells) -> int:
    return max((column for column, _ in cells), default=0) + 1


def _axis(across: _Scale, margin: int, width: int, strokes: Strokes) -> Iterable[Line]:
    labels = across.labels()
    base = "".join(
        strokes.tick if column in labels else strokes.base for column in range(across.cells)
    )
    yield [("dim", " " * margin + strokes.corner + base)]
    row = [" "] * width
    for column, label in sorted(labels.items()):
        # The last label ends with the chart; the others stand in the middle of their tick.
        begin = min(margin + 1 + column - len(label) // 2, width - len(label))
        if all(sign == " " for sign in row[begin - 1 : begin + len(label) + 1]):
            row[begin : begin + len(label)] = label
    yield [("dim", "".join(row).rstrip())]
