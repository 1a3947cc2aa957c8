"""Tables on a printed page: how wide each column is, and in what size its words are set."""

from collections.abc import Sequence
from itertools import product

from boxlamp.paper.document import Role, Table
from boxlamp.paper.forms.pdf_rows import Look, Row, Rows
from boxlamp.paper.forms.pdf_text import Typesetter, width_of

_SIZES = (7.5, 7.0, 6.5)
"""Tried one after the other until no word need be parted."""
_PEN_ROW = 8 * 72 / 25.4
"""8 mm: a line of handwriting."""
_LOOK = Look(across=3.0, above=1.5, hairlines=True)
_RULED = Look(across=3.0, above=1.5, ruled=True)
_GREEDY = 1.8
"""A long word may widen its column to so many times an equal share, and is parted beyond."""
_SHORT = 12
"""A cell of so few characters stays on one line where the page has room for that."""
_TALL_HEAD = 0.3
"""Titles that take more of a page than this stand above the table once and are not repeated."""


def table_rows(table: Table, width: float, page: float, setter: Typesetter) -> Rows:
    """The table set to a width in points, with its titles repeated on every page."""
    look = _RULED if table.ruled else _LOOK
    size, widths = _fitted(table, width, setter, 2 * look.across)
    inside = [each - 2 * look.across for each in widths]
    head = Row(
        tuple(
            setter.lines(column.title, room, size, "strong", column.side)
            for column, room in zip(table.columns, inside, strict=True)
        )
    )
    rows = [
        Row(
            tuple(
                setter.lines(cell.text, room, size, cell.role, column.side)
                for cell, column, room in zip(row, table.columns, inside, strict=False)
            ),
            _PEN_ROW if table.ruled else 0.0,
        )
        for row in table.rows
    ]
    if head.height(look) > page * _TALL_HEAD:
        return Rows(widths, [head, *rows], page, look)
    return Rows(widths, rows, page, look, head)


def _fitted(
    table: Table, width: float, setter: Typesetter, padding: float
) -> tuple[float, list[float]]:
    """The largest size in which every word stays whole, and the widths of the columns in it."""
    shares = [column.share for column in table.columns]
    cap = width / len(shares) * _GREEDY
    size, least = _SIZES[0], list[float]()
    for size, short in product(_SIZES, (_SHORT, 0)):
        least = [min(each + padding, cap) for each in _needs(table, setter, size, short)]
        if sum(least) <= width:
            break
    most = [each + padding for each in _needs(table, setter, size, None)]
    if table.ruled:
        most = [width] * len(most)  # a pen needs room wherever the sheet has it
    return size, column_widths(shares, least, most, width)


def _needs(table: Table, setter: Typesetter, size: float, short: int | None) -> list[float]:
    """For each column the width of its longest word; of its longest text when ``short`` is None.

    A cell of at most ``short`` characters counts as one word: ``! watch``, ``1 h 36 min``.
    """
    needs = list[float]()
    for place, column in enumerate(table.columns):
        cells: list[tuple[str, Role]] = [(column.title, "strong")]
        cells += [(row[place].text, row[place].role) for row in table.rows if place < len(row)]
        widest = 0.0
        for text, role in cells:
            shown = setter.text(text)
            whole = short is None or (len(shown) <= short and text is not column.title)
            for part in [shown] if whole else shown.split():
                widest = max(widest, width_of(part, role, size))
        needs.append(widest + 0.1)
    return needs


def column_widths(
    shares: Sequence[float], least: Sequence[float], most: Sequence[float], width: float
) -> list[float]:
    """Widths that sum to ``width``: by share, never under ``least`` where that is possible.

    A column that needs less than its share gives the rest to those that need more.
    """
    floor = _levelled(least, width)
    wished = [
        max(low, share * width / sum(shares)) for low, share in zip(floor, shares, strict=True)
    ]
    over, slack = sum(wished) - width, [w - low for w, low in zip(wished, floor, strict=True)]
    if over > 0 and sum(slack) > 0:
        part = min(1.0, over / sum(slack))
        wished = [w - loose * part for w, loose in zip(wished, slack, strict=True)]
    spare = [max(0.0, w - max(high, low)) for w, high, low in zip(wished, most, floor, strict=True)]
    lack = [max(0.0, high - w) for w, high in zip(wished, most, strict=True)]
    moved = min(sum(spare), sum(lack))
    if moved > 0:
        wished = [
            w - gives * moved / sum(spare) + gets
            for w, gives, gets in zip(wished, spare, _levelled(lack, moved), strict=True)
        ]
    return wished


def _levelled(least: Sequence[float], width: float) -> list[float]:
    """What each one needs, with the greediest cut down until all of it fits."""
    if sum(least) <= width:
        return list(least)
    cap, left, open_ = 0.0, width, sorted(least)
    for place, need in enumerate(open_):
        cap = left / (len(open_) - place)
        if need > cap:
            break
        left -= need
    return [min(need, cap) for need in least]
