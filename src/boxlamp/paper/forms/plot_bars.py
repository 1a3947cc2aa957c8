"""Bars from left to right: a label, a bar, its words; limits as dashed lines across all bars."""

from collections.abc import Iterator
from typing import NamedTuple

from boxlamp.paper.document import Bar, BarChart
from boxlamp.paper.forms.lettering import LEADING, Note, note, text_width
from boxlamp.paper.forms.scales import Scale, round_scale
from boxlamp.paper.forms.shapes import Box, Label, Picture, Shape, Stroke

_SIZE = 7.0
_LINE = _SIZE * LEADING
_GAP = 5.0
_BAR = 6.5
_BETWEEN = 2.5
_SIDE = 28.0  # room at either side for half the number under the axis
_LABEL_SHARE, _WORDS_SHARE, _LIMIT_SHARE = 0.28, 0.24, 0.35
_MOST_TICKS = 8
_FEW = 10  # numbers of one digit may need their tenths
_LONG_UNIT = 30.0
_NOTHING = "There is nothing to draw yet."


class _Row(NamedTuple):
    bar: Bar
    label: Note
    words: Note

    @property
    def height(self) -> float:
        return max(_BAR, self.label.height, self.words.height) + _BETWEEN


class _Limit(NamedTuple):
    value: float
    words: Note


def bar_picture(chart: BarChart, width: float) -> Picture:
    """The chart as wide as this, in points, and as high as its bars need. Its title is not in it.

    A value below nothing is drawn as nothing.
    """
    told = told_bars(chart)
    if not chart.bars:
        return nothing_to_draw(width, told)
    rows = [
        _Row(
            bar,
            note(bar.label, width * _LABEL_SHARE, _SIZE),
            note(bar.words, width * _WORDS_SHARE, _SIZE),
        )
        for bar in chart.bars
    ]
    limits = [
        _Limit(value, note(words, width * _LIMIT_SHARE, _SIZE))
        for value, words in sorted(chart.limits)
    ]
    scale = _scale(chart, rows, limits, width)
    top = sum(limit.words.height for limit in limits) + _BETWEEN
    bottom = top + sum(row.height for row in rows)
    shapes: list[Shape] = [*_bars(rows, scale, top, width)]
    shapes += _limits(limits, scale, bottom)
    below, height = _axis(scale, chart.unit, bottom, width)
    return Picture(width, height, (*shapes, *below), told)


def told_bars(chart: BarChart) -> str:
    """What the chart shows, in words."""
    bars = "; ".join(f"{bar.label}: {bar.words}" for bar in chart.bars) or _NOTHING
    limits = "; ".join(words for _, words in chart.limits)
    return f"{chart.title}. {bars}" + (f" (limits: {limits})" if limits else "")


def nothing_to_draw(width: float, told: str) -> Picture:
    """A picture that says that there is nothing to draw."""
    words = note(_NOTHING, width, _SIZE)
    return Picture(width, words.height + _BETWEEN, tuple(words.labels(0, 0, role="dim")), told)


def _scale(chart: BarChart, rows: list[_Row], limits: list[_Limit], width: float) -> Scale:
    """From where to where the bars run: as far as the words beside and above them allow."""
    most = max([*(bar.value for bar in chart.bars), *(limit.value for limit in limits), 0.0])
    start = max(max(row.label.width for row in rows) + _GAP, _SIDE)
    end = width - max(max(row.words.width for row in rows) + _GAP, _SIDE)
    # What a limit says begins at its line; the line must leave it the room.
    rooms = [width - limit.words.width - _BETWEEN - start for limit in limits]
    number = f"{most * 2.5:.0f}.0" if most < _FEW else f"{most * 2.5:.0f}"
    widest = text_width(f"{number} {_short(chart.unit)}", _SIZE)
    ticks = max(1, min(_MOST_TICKS, int(min([end - start, *rooms]) / (widest * 1.4))))
    scale = round_scale(0.0, most or 1.0, ticks, chart.unit)
    for limit, room in zip(limits, rooms, strict=True):
        if limit.value > 0:
            end = min(end, start + room * scale.high / limit.value)
    return scale._replace(start=start, end=end)


def _bars(rows: list[_Row], scale: Scale, top: float, width: float) -> Iterator[Shape]:
    for row in rows:
        middle = top + (row.height - _BETWEEN) / 2
        yield from row.label.labels(0, middle - row.label.height / 2)
        length = scale.at(row.bar.value) - scale.start
        yield Box(scale.start, middle - _BAR / 2, max(length, 0.4), _BAR, row.bar.role)
        first = middle - row.words.height / 2
        yield from row.words.labels(width, first, "end", row.bar.role)
        top += row.height


def _limits(limits: list[_Limit], scale: Scale, bottom: float) -> Iterator[Shape]:
    """The dashed lines. The leftmost has the highest words, so that no line crosses any words."""
    top = 0.0
    for limit in limits:
        x = scale.at(limit.value)
        yield Stroke(((x, top), (x, bottom)), "dim", 0.6, dashed=True)
        yield from limit.words.labels(x + _BETWEEN, top)
        top += limit.words.height


def _axis(scale: Scale, unit: str, top: float, width: float) -> tuple[list[Shape], float]:
    """The line under the bars with its numbers; and how far down the picture goes with it."""
    shapes: list[Shape] = [Stroke(((scale.start, top), (scale.end, top)), "dim", 0.5)]
    short = _short(unit)
    for value in scale.ticks:
        x = scale.at(value)
        shapes.append(Stroke(((x, top), (x, top + 2)), "dim", 0.5))
        text = f"{scale.told(value)} {short}".rstrip() if value else "0"
        shapes.append(Label(x, top + 2 + _SIZE, text, _SIZE, "middle", "dim"))
    bottom = top + 2 + _LINE
    if unit and not short:
        words = note(unit, width, _SIZE)
        shapes += words.labels(width, bottom, "end", "dim")
        bottom += words.height
    return shapes, bottom + _BETWEEN


def _short(unit: str) -> str:
    """The unit where it may stand behind every number; a long one stands below them."""
    return unit if text_width(unit, _SIZE) <= _LONG_UNIT and unit.isprintable() else ""
