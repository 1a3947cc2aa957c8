"""How the width of a page is given out to the columns of a table set with characters."""

from collections import Counter
from collections.abc import Sequence
from math import ceil

from boxlamp.view.text import width_of

# Our choices. A word longer than this is broken rather than the whole table given up.
_LONGEST_WORD = 16
# Where there is room, a cell as short as this is not wrapped: ``! watch``, ``4 h 39 min``.
_SHORT = 12
_LEAST = 4
# Lines end at words: text that is wrapped takes about so much more than its letters.
_RAGGED = 1.12
# What a line saved in a cell is worth while a cell beside it is as high as before.
_BESIDE = 0.1

Rows = Sequence[tuple[Sequence[int], int]]
"""How wide the cells of a row are, and how many rows are just so."""


def widths_for(rows: Sequence[Sequence[str]], room: int) -> list[int] | None:
    """The columns' widths in cells, such that the table takes few lines.

    ``None`` when the columns cannot stand side by side in so much room without breaking words.
    """
    columns = list(zip(*rows, strict=True))
    tried = ([_least(texts, whole) for texts in columns] for whole in (_SHORT, 0))
    widths = next((widths for widths in tried if sum(widths) <= room), None)
    if widths is None:
        return None
    sizes = Counter(tuple(width_of(text) for text in row) for row in rows)
    wanted = [max(column) for column in zip(*sizes, strict=True)]
    if sum(wanted) <= room:
        return [max(pair) for pair in zip(wanted, widths, strict=True)]
    widths = _fewest_lines(widths, list(sizes.items()), room)
    return _spent(widths, [min(cells, room) for cells in wanted], room)


def shared(rows: Sequence[Sequence[str]], shares: Sequence[float], room: int) -> list[int] | None:
    """The whole room given out by share, as a sheet for a pen needs it."""
    widths = [_least(texts, 0) for texts in zip(*rows, strict=True)]
    if sum(widths) > room:
        return None
    while sum(widths) < room:
        widths[max(range(len(widths)), key=lambda at: shares[at] / widths[at])] += 1
    return widths


def _least(texts: Sequence[str], whole: int) -> int:
    """The width below which words, or cells up to ``whole`` cells, of a column would be broken."""
    words = (width_of(word) for text in texts for word in text.split())
    short = (cells for text in texts if (cells := width_of(text)) <= whole)
    return max(_LEAST, *short, *(min(cells, _LONGEST_WORD) for cells in words), _LEAST)


def _fewest_lines(widths: list[int], rows: Rows, room: int) -> list[int]:
    """Room is given, step by step, to the column that saves most lines for its cells."""
    times = [count for _, count in rows]
    sizes = list(zip(*(row for row, _ in rows), strict=True))
    heights = [_heights(column, cells) for column, cells in zip(sizes, widths, strict=True)]
    while spare := room - sum(widths):
        saved, at, more = max(
            (_saved(heights, at, _heights(column, widths[at] + more), times) / more, at, more)
            for at, column in enumerate(sizes)
            for more in range(1, spare + 1)
        )
        if saved <= 0:
            break
        widths[at] += more
        heights[at] = _heights(sizes[at], widths[at])
    return widths


def _saved(heights: list[list[int]], at: int, tried: list[int], times: Sequence[int]) -> float:
    """How many lines are saved when one column takes fewer.

    A row is as high as its highest cell; a cell that is lower than that counts a little, since
    another may follow it.
    """
    now = zip(*heights, strict=True)
    then = zip(*heights[:at], tried, *heights[at + 1 :], strict=True)
    saved: float = sum(
        (max(before) - max(after) + _BESIDE * (sum(before) - sum(after))) * count
        for before, after, count in zip(now, then, times, strict=True)
    )
    return saved


def _heights(sizes: Sequence[int], cells: int) -> list[int]:
    """About how many lines cells of these sizes take in a column so wide."""
    return [1 if size <= cells else ceil(size * _RAGGED / cells) for size in sizes]


def _spent(widths: list[int], wanted: Sequence[int], room: int) -> list[int]:
    """What is left over goes where the widest cell is furthest from standing in one line."""
    while sum(widths) < room:
        at = max(range(len(widths)), key=lambda at: wanted[at] / widths[at])
        if wanted[at] <= widths[at]:
            break
        widths[at] += 1
    return widths
