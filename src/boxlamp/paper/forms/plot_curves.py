"""Curves over days: each of several ends in its sign, and the signs are explained below.

A curve that is alone needs no sign, and its name only where the title does not hold it.
"""

from collections.abc import Iterator, Sequence
from math import ceil
from typing import NamedTuple

from boxlamp.paper.document import Curve, CurveChart
from boxlamp.paper.forms.lettering import LEADING, Note, extent, note, text_width
from boxlamp.paper.forms.plot_bars import nothing_to_draw
from boxlamp.paper.forms.scales import Scale, round_scale
from boxlamp.paper.forms.shapes import Dot, Label, Picture, Shape, Stroke
from boxlamp.view.text import clean

_SIZE = 7.0
_LINE = _SIZE * LEADING
_GAP = 4.0
_CLEAR = 2.5  # from a dot to the line that leads to its sign: the curve ends with the dot
_TICK = 4.5  # the numbers under the axis keep clear of the lowest one beside it
_LEAST_PLOT = 70.0  # points: below that the curves would lie on one another
_LEVEL_SHARE, _LEGEND_SHARE, _SIGN_SHARE = 0.24, 0.45, 0.1
_MOST_X, _MOST_Y = 14, 6


_LegendRow = tuple[float, list[tuple[float, Note]]]
"""Its height, and where which words begin."""


class _Field(NamedTuple):
    """The part of the picture in which the curves run."""

    x: Scale
    y: Scale

    @property
    def left(self) -> float:
        return self.x.start

    @property
    def right(self) -> float:
        return self.x.end

    @property
    def top(self) -> float:
        return self.y.end

    @property
    def bottom(self) -> float:
        return self.y.start


def curve_picture(chart: CurveChart, width: float, height: float) -> Picture:
    """The chart as wide as this; higher than asked for only when its words need it.

    The title of the chart is not in the picture.
    """
    curves = [curve._replace(sign=clean(curve.sign)[:2]) for curve in chart.curves if curve.points]
    told = told_curves(chart)
    if not curves:
        return nothing_to_draw(width, told)
    heading = note(chart.y_title, width, _SIZE)
    below = note(chart.x_title, width * 0.8, _SIZE)
    levels = [
        (value, note(words, width * _LEVEL_SHARE, _SIZE)) for value, words in sorted(chart.levels)
    ]
    legend = list(_legend(chart.title, curves, width))
    above = heading.height + _LINE * 0.75
    under = _TICK + _LINE + below.height + _GAP + sum(row[0] for row in legend)
    least = max(_LEAST_PLOT, sum(words.height for _, words in levels))
    plot = max(height - above - under, least)
    field = _field(curves, levels, width, above, plot)
    shapes: list[Shape] = [*heading.labels(0, 0, role="dim"), *_grid(field, width)]
    shapes += _levels(levels, field, width)
    shapes += _curves(curves, field, _sign_columns(curves, plot))
    top = field.bottom + _TICK + _LINE
    half = below.width / 2
    middle = min(max((field.left + field.right) / 2, half), width - half)
    shapes += below.labels(middle, top, "middle", "dim")
    top += below.height + _GAP
    for row_height, entries in legend:
        for x, words in entries:
            shapes += words.labels(x, top)
        top += row_height
    return Picture(width, max(height, top), tuple(shapes), told)


def told_curves(chart: CurveChart) -> str:
    """What the chart shows, in words."""
    told = [
        f"{curve.name}: from {curve.points[0][1]:.4g} to {curve.points[-1][1]:.4g}"
        for curve in chart.curves
        if curve.points
    ]
    return f"{chart.title} ({chart.y_title} over {chart.x_title}). {'; '.join(told)}".rstrip()


def named(title: str, curves: Sequence[Curve]) -> bool:
    """Whether the title of a chart already says whose curve it is."""
    return len(curves) == 1 and clean(curves[0].name).casefold() in clean(title).casefold()


def _legend(title: str, curves: Sequence[Curve], width: float) -> Iterator[_LegendRow]:
    """Rows of ``sign = name`` with their heights, as many to a row as fit."""
    if named(title, curves):
        return
    alone = len(curves) == 1
    notes = [
        note(curve.name if alone or curve.name == curve.sign else f"{curve.sign} = {curve.name}",
             width * _LEGEND_SHARE, _SIZE)
        for curve in curves
    ]  # fmt: skip
    widest = max(words.width for words in notes) + 3 * _GAP
    across = max(1, int(width / widest))
    for first in range(0, len(notes), across):
        row = notes[first : first + across]
        entries = [(place * width / across, words) for place, words in enumerate(row)]
        yield max(words.height for words in row), entries


def _sign_columns(curves: Sequence[Curve], plot: float) -> int:
    """In how many columns the signs at the right edge must stand, so that none hides another."""
    return ceil(len(curves) * _LINE / plot) if len(curves) > 1 else 0


def _sign_width(curves: Sequence[Curve], width: float) -> float:
    return min(max(text_width(curve.sign, _SIZE) for curve in curves), width * _SIGN_SHARE) + 2


def _field(
    curves: Sequence[Curve],
    levels: Sequence[tuple[float, Note]],
    width: float,
    top: float,
    plot: float,
) -> _Field:
    xs = [x for curve in curves for x, _ in curve.points]
    ys = [y for curve in curves for _, y in curve.points] + [value for value, _ in levels]
    y = round_scale(min(ys), max(ys), _MOST_Y)
    numbers = max(text_width(y.told(value), _SIZE) for value in y.ticks)
    signs = _sign_columns(curves, plot) * _sign_width(curves, width) + _GAP
    words = max((words.width for _, words in levels), default=0.0)
    end = width - signs - (words + 2 * _GAP if words else 0.0)
    start = numbers + _GAP
    widest = text_width(f"{max(map(abs, xs)):.0f}.0", _SIZE)
    x = round_scale(min(xs), max(xs), max(1, min(_MOST_X, int((end - start) / (widest * 1.7)))))
    return _Field(
        x._replace(start=start, end=end - widest / 2), y._replace(start=top + plot, end=top)
    )


def _grid(field: _Field, width: float) -> Iterator[Shape]:
    left, right = field.left, field.right
    yield Stroke(((left, field.top), (left, field.bottom), (right, field.bottom)), "dim", 0.6)
    for value in field.y.ticks:
        y = field.y.at(value)
        yield Stroke(((left - 2, y), (left, y)), "dim", 0.5)
        yield Label(left - 3, y + _SIZE * 0.35, field.y.told(value), _SIZE, "end", "dim")
    for value in field.x.ticks:
        x = field.x.at(value)
        yield Stroke(((x, field.bottom), (x, field.bottom + 2)), "dim", 0.5)
        text = field.x.told(value)
        half = text_width(text, _SIZE) / 2
        middle = min(max(x, half), width - half)
        yield Label(middle, field.bottom + _TICK + _SIZE, text, _SIZE, "middle", "dim")


def _levels(levels: Sequence[tuple[float, Note]], field: _Field, width: float) -> Iterator[Shape]:
    """Dashed lines, each led to its words at the right edge of the picture."""
    wanted = [(field.y.at(value) - words.height / 2, words.height) for value, words in levels]
    places = spread(wanted, field.top - _LINE / 2, field.bottom)
    widest = max((words.width for _, words in levels), default=0.0)
    for (value, words), top in zip(levels, places, strict=True):
        y, x = field.y.at(value), width - widest
        line = ((field.left, y), (field.right, y), (x - _GAP / 2, top + words.height / 2))
        yield Stroke(line, "dim", 0.6, dashed=True)
        yield from words.labels(x, top)


def spread(wanted: Sequence[tuple[float, float]], low: float, high: float) -> list[float]:
    """Tops for things that want to be at ``(top, height)``, moved so that none covers another.

    All lie between ``low`` and ``high`` where that is possible at all.
    """
    order = sorted(range(len(wanted)), key=lambda place: wanted[place][0])
    tops = [0.0] * len(wanted)
    edge = low
    for place in order:
        tops[place] = max(wanted[place][0], edge)
        edge = tops[place] + wanted[place][1]
    edge = high
    for place in reversed(order):
        tops[place] = min(tops[place], edge - wanted[place][1])
        edge = tops[place]
    return tops


def _curves(curves: Sequence[Curve], field: _Field, columns: int) -> Iterator[Shape]:
    ends = list[tuple[Curve, tuple[float, float]]]()
    for curve in curves:
        points = tuple((field.x.at(x), field.y.at(y)) for x, y in curve.points)
        if len(points) > 1:
            yield Stroke(points, "", 0.7)
        yield from (Dot(x, y, 1.2) for x, y in points)
        ends.append((curve, points[-1]))
    if len(ends) == 1:
        return
    early = [each for each in ends if each[1][0] < field.right - 3 * _LINE]
    placed = list[Label]()
    at_edge = [each for each in ends if each not in early]
    for curve, (x, y) in early:
        free = _free_place(curve.sign, x, y, field, placed)
        if free is None:
            at_edge.append((curve, (x, y)))
        else:
            placed.append(free)
    yield from placed
    yield from _edge_signs(at_edge, field, columns)


def _free_place(
    sign: str, x: float, y: float, field: _Field, placed: Sequence[Label]
) -> Label | None:
    """Just right of the end of a curve, or as near as no other sign stands."""
    limit = field.right - text_width(sign, _SIZE)
    for off in (0.0, -_LINE, _LINE, -2 * _LINE, 2 * _LINE):
        label = Label(x + 3, y + off + _SIZE * 0.35, sign, _SIZE, "start", "strong")
        left, top, right, bottom = extent(label)
        inside = left < limit and field.top - 1 <= top and bottom <= field.bottom
        clear = all(
            right <= other[0] or other[2] <= left or bottom <= other[1] or other[3] <= top
            for other in map(extent, placed)
        )
        if inside and clear:
            return label
    return None


def _edge_signs(
    ends: Sequence[tuple[Curve, tuple[float, float]]], field: _Field, columns: int
) -> Iterator[Shape]:
    """Signs beside the right edge, each led to from the end of its curve."""
    ordered = sorted(ends, key=lambda each: each[1][1])
    widest = max((text_width(curve.sign, _SIZE) for curve, _ in ends), default=0.0) + 2
    for column in range(columns):
        mine = ordered[column::columns]
        tops = spread(
            [(y - _LINE / 2, _LINE) for _, (_, y) in mine],
            field.top - _LINE / 2,
            field.bottom,
        )
        at = field.right + _GAP * 2 + column * widest
        for (curve, (x, y)), top in zip(mine, tops, strict=True):
            yield Stroke(((x + _CLEAR, y), (at - 1, top + _LINE / 2)), "dim", 0.3)
            yield Label(at, top + _SIZE, curve.sign, _SIZE, "start", "strong")
