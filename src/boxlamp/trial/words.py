"""How a figure is written: a value with its interval in brackets, short enough for a column."""

from collections.abc import Iterator

from boxlamp.model.levels import Level
from boxlamp.trial.intervals import Figure, Quartiles
from boxlamp.trial.report import Compared
from boxlamp.view.text import clean, fit, width_of, wrap

ACROSS = 80
_WHOLE_FROM = 10
"""From here on a figure is told without decimals; nobody counts tenths of fifty alerts."""
_HOUR = 60
_LONG = 10 * _HOUR
_WIDE = 0.05
"""A share that is only known to so much is told in whole per cent."""
_INDENT = "    "
_SEEDS = 8
LOOK = (
    "To look at one: boxlamp imagine --seed SEED --trouble NAME -o one.night, then boxlamp replay "
    "one.night"
)


def rate(figure: Figure, over: int = 1) -> str:
    """A mean: ``2.1 (1.8-2.4)``, ``52 (50-54)``; of so many nights instead of one."""
    values = [None if part is None else part * over for part in figure]
    decimals = 1 if max(part or 0 for part in values) < _WHOLE_FROM else 0
    return _bracketed([None if part is None else f"{part:.{decimals}f}" for part in values], "-")


def per_night(figure: Figure) -> str:
    """A mean per night, with two decimals: ``2.13 (2.09-2.17)``."""
    return _bracketed([None if part is None else f"{part:.2f}" for part in figure], "-")


def percent(figure: Figure) -> str:
    """A share in per cent: ``98.2 (97.0-99.0)``, ``96 (91-98)`` where less is known."""
    _value, low, high = figure
    decimals = 0 if low is None or high is None or high - low > _WIDE else 1
    return _bracketed([None if part is None else _part(part, decimals) for part in figure], "-")


def signed(figure: Figure, over: int = 1) -> str:
    """A difference with its sign: ``-4.0 (-4.6 to -3.4)``."""
    values = [None if part is None else part * over for part in figure]
    decimals = 1 if max(abs(part or 0) for part in values) < _WHOLE_FROM else 0
    told = [None if part is None else _signed(part, decimals) for part in values]
    return _bracketed(told, " to ")


def apart(compared: Compared, over: int = 1) -> str:
    """What sets two sides apart; ``same`` where no single night does."""
    if compared.same or compared.apart is None:
        return "same"
    return signed(compared.apart, over)


def sooner(figure: Figure) -> str:
    """By how much one is sooner on average: ``12 min sooner (9 to 15)``; negative is later."""
    value, low, high = figure
    word = "sooner"
    if value < 0:
        word, value = "later", -value
        low, high = (None if end is None else -end for end in (high, low))
    ends = [None if end is None else str(round(end)) for end in (low, high)]
    return _bracketed([f"{value:.0f} min {word}", *ends], " to ")


def times(found: Quartiles | None) -> str:
    """The median and the quartiles: ``0:25 (0:10-1:05)``, ``34 h (18 h-39 h)``."""
    if found is None:
        return "-"
    return f"{clock(found.middle)} ({clock(found.low)}-{clock(found.high)})"


def clock(minutes: int) -> str:
    """A length of time as hours and minutes, ``2:05``; long ones in hours: ``34 h``."""
    if minutes >= _LONG:
        return f"{minutes // _HOUR} h"
    return f"{minutes // _HOUR}:{minutes % _HOUR:02d}"


def rounded(percentage: float) -> str:
    """A share without its interval, to the whole per cent; what is there is never told as 0."""
    return "under 1" if 0 < percentage < 1 else f"{percentage:.0f}"


def level(one: Level) -> str:
    """A level by its mark and its word: ``!!  call``."""
    return f"{one.mark:<3} {one.word}"


def nights(many: int) -> str:
    """How many there were: ``2,000 imagined nights``."""
    return f"{many:,} imagined {'night' if many == 1 else 'nights'}"


def counted(many: int) -> str:
    """``1 night``, ``12 nights``."""
    return f"{many:,} {'night' if many == 1 else 'nights'}"


def seeds(found: list[int]) -> str:
    """The first few seeds, and how many more there are."""
    shown = " ".join(str(seed) for seed in found[:_SEEDS])
    more = len(found) - _SEEDS
    return f"{shown} and {more:,} more; --plain lists all" if more > 0 else shown


def row(widths: tuple[int, ...], head: str, *cells: str) -> str:
    """One row of a table: the head to the left, every cell to the right of its column."""
    first, *others = widths
    told = (
        " " * max(1, width - width_of(cell)) + cell
        for width, cell in zip(others, cells, strict=True)
    )
    return fit(clean(head), first) + "".join(told)


def folded(text: str) -> Iterator[str]:
    """A sentence or a list that may be long: what does not fit is set in on the next line."""
    first, *others = wrap(clean(text), ACROSS - len(_INDENT))
    yield first
    yield from (_INDENT + line for line in others)


def _part(part: float, decimals: int) -> str:
    return f"{100 * part:.0f}" if part in {0, 1} else f"{100 * part:.{decimals}f}"


def _signed(value: float, decimals: int) -> str:
    told = f"{value:+.{decimals}f}"
    return told.lstrip("+-") if float(told) == 0 else told


def _bracketed(parts: list[str | None], between: str) -> str:
    value, low, high = parts
    return f"{value}" if low is None else f"{value} ({low}{between}{high})"
