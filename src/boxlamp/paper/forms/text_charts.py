"""Charts drawn with characters, for a screen, a printer, an e-mail: whole without colour."""

from boxlamp.paper.document import Bar, BarChart, CurveChart
from boxlamp.paper.forms.plot_curves import named
from boxlamp.paper.forms.text_plot import Plot, plot
from boxlamp.paper.forms.text_tables import hanging, padded, paragraph
from boxlamp.view.chart import SEVERAL
from boxlamp.view.text import clean, width_of

# Our choices: a bar shorter than this says little; a wider chart says no more.
_LEAST_BAR = 12
_LONGEST_BAR = 40
_WIDEST = 100
_KEY_COLUMNS = 3
_GAP = "  "
_NO_POINTS = "Nothing to draw yet."


def bars(block: BarChart, width: int, *, fine: bool) -> list[str]:
    """Bars under each other, each with its words; limits are upright strokes across them."""
    lines = paragraph(f"{block.title} ({block.unit})" if block.unit else block.title, width)
    if not block.bars:
        return [*lines, *paragraph(_NO_POINTS, width)]
    most = max(*(bar.value for bar in block.bars), *(at for at, _ in block.limits), 0.0) or 1.0
    labels = max(width_of(clean(bar.label).strip()) for bar in block.bars)
    words = max(width_of(clean(bar.words).strip()) for bar in block.bars)
    room = width - labels - words - 2 * len(_GAP)
    length = min(_LONGEST_BAR, max(room, _LEAST_BAR))
    for bar in block.bars:
        drawn = _drawn(bar, block, most, length, fine=fine)
        if room < _LEAST_BAR:
            lines += [*paragraph(f"{bar.label}: {bar.words}", width), (_GAP + drawn).rstrip()]
        else:
            label = padded(clean(bar.label).strip(), labels)
            line = _GAP.join((label, padded(drawn, length), clean(bar.words).strip()))
            lines.append(line.rstrip())
    return [*lines, *_limits(block, width, fine=fine)]


def _drawn(bar: Bar, block: BarChart, most: float, length: int, *, fine: bool) -> str:
    """One bar with the strokes of the limits through it."""
    full, stroke = ("█", "│") if fine else ("=", "|")
    cells = list(full * round(bar.value / most * length) + " " * length)[:length]
    for at, _ in block.limits:
        cells[min(length - 1, round(at / most * length))] = stroke
    return "".join(cells).rstrip()


def _limits(block: BarChart, width: int, *, fine: bool) -> list[str]:
    """What the strokes say, in the order in which they stand."""
    if not block.limits:
        return []
    said = "; ".join(clean(words) for _, words in sorted(block.limits))
    lead = "│" if fine else "|"
    many = len({at for at, _ in block.limits}) > 1
    return hanging(f"{lead} ", f"from left to right: {said}" if many else said, width)


def curves(block: CurveChart, width: int, *, fine: bool) -> list[str]:
    """Points over days, each curve by its sign; levels are dotted lines."""
    series = [(_sign(curve.sign), curve.points) for curve in block.curves]
    levels = [value for value, _ in block.levels]
    drawn = plot(series, levels, min(width, _WIDEST), fine=fine)
    head = paragraph(_head(block), width)
    if not drawn.lines:
        return [*head, *paragraph(_NO_POINTS, width)]
    return [*head, *drawn.lines, *_legend(block, drawn, width, "·" if fine else ".")]


def _head(block: CurveChart) -> str:
    """The title with what stands upwards and across."""
    axes = [f"{way}: {clean(title).strip()}"
            for way, title in (("up", block.y_title), ("across", block.x_title))
            if title.strip()]  # fmt: skip
    return f"{block.title} ({'; '.join(axes)})" if axes else block.title


def _legend(block: CurveChart, drawn: Plot, width: int, dot: str) -> list[str]:
    """Whose sign is whose, and what the dotted lines are."""
    told = [] if named(block.title, block.curves) else _key(block, width)
    if any(SEVERAL in line for line in drawn.lines):
        told += hanging(f"{SEVERAL} = ", "more than one of them", width)
    for value, words in sorted(block.levels):
        told += hanging(f"{dot * 3} ", f"{words}{_remark(value, drawn)}", width)
    return told


def _remark(value: float, drawn: Plot) -> str:
    """What a reader could not see of a level: that it is not there, or that a point is below."""
    if value not in drawn.drawn:
        return " (beyond this chart)"
    below = drawn.touching.get(value)
    return "" if below is None else f" ({below:.4g}, drawn on this line, is below it)"


def _key(block: CurveChart, width: int) -> list[str]:
    """``sign = name``, in up to three columns where several names fit beside one another."""
    said = [f"{_sign(curve.sign)} = {' '.join(clean(curve.name).split())}"
            for curve in block.curves]  # fmt: skip
    room = max(map(width_of, said), default=0) + len(_GAP)
    across = min(_KEY_COLUMNS, (width + len(_GAP)) // room) if said else 1
    if across < 2:  # noqa: PLR2004 - names one below the other need no columns
        return [line for curve in block.curves
                for line in hanging(f"{_sign(curve.sign)} = ", curve.name, width)]  # fmt: skip
    return [
        "".join(padded(one, room) for one in said[first : first + across]).rstrip()
        for first in range(0, len(said), across)
    ]


def _sign(sign: str) -> str:
    """A sign of exactly one cell."""
    shown = clean(sign)
    return shown if len(shown) == 1 and width_of(shown) == 1 and shown != " " else "*"
