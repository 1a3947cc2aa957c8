"""Tables, facts and lists as lines of plain text: wrapped, never cut, no trailing blanks."""

from collections.abc import Iterator, Sequence

from boxlamp.paper.document import Cell, Column, Facts, Points, Table
from boxlamp.paper.forms.held import held, loosed, together
from boxlamp.paper.forms.text_widths import shared, widths_for
from boxlamp.view.text import clean, width_of, wrap

STRUCK = "[struck]"
STRUCK_LINE = "[line struck]"

_GAP = "  "
_BULLET = "- "
_INDENT = "  "


def _wrapped(text: str, width: int) -> list[str]:
    """The text in lines of at most so many cells, no telephone number or day over two of them."""
    kept = together(held(text, lambda number: width_of(number) <= width))
    return [loosed(line) for line in wrap(kept, width)]


def paragraph(text: str, width: int) -> list[str]:
    """The text in lines of at most so many cells; no text, no line."""
    return [line for line in _wrapped(clean(text), width) if line]


def hanging(lead: str, text: str, width: int) -> list[str]:
    """A paragraph behind a lead; further lines stand under its beginning."""
    margin = width_of(lead)
    first, *rest = _wrapped(clean(text), width - margin)
    return [(lead + first).rstrip(), *(" " * margin + line for line in rest)]


def points(block: Points, width: int) -> list[str]:
    """A list, each item behind a dash."""
    return [line for item in block.items for line in hanging(_BULLET, cell_text(item), width)]


def facts(block: Facts, width: int) -> list[str]:
    """Labels in one column, what is known in another; a long label stands on its own line."""
    labels = [f"{clean(label).strip()}:" for label, _ in block.rows]
    column = max((width_of(label) for label in labels if width_of(label) <= width // 3), default=0)
    lines = list[str]()
    for label, (_, value) in zip(labels, block.rows, strict=True):
        if width_of(label) > column:
            lines += [*_wrapped(label, width), *hanging(_INDENT, value, width)]
        else:
            lines += hanging(padded(label, column) + _GAP, value, width)
    return lines


def cell_text(cell: Cell) -> str:
    """What a cell says, cleaned; a struck one says so first."""
    text = clean(cell.text).strip()
    return f"{STRUCK} {text}" if cell.role == "struck" and text else text


def row_texts(row: Sequence[Cell]) -> list[str]:
    """What the cells of a row say. One that is struck altogether says so once, at its start."""
    if any(cell.text for cell in row) and all(cell.role == "struck" for cell in row):
        first, *rest = (clean(cell.text).strip() for cell in row)
        return [f"{STRUCK_LINE} {first}".rstrip(), *rest]
    return [cell_text(cell) for cell in row]


def table(block: Table, width: int, rule: str) -> list[str]:
    """Columns side by side; where they cannot stand so, each row as a small labelled list."""
    if not block.rows:
        return paragraph(block.empty, width)
    titles = [clean(column.title).strip() for column in block.columns]
    rows = [row_texts(row) for row in block.rows]
    room = width - len(_GAP) * (len(titles) - 1)
    shares = [column.share for column in block.columns]
    texts = [[together(text) for text in row] for row in (titles, *rows)]
    widths = shared(texts, shares, room) if block.ruled else widths_for(texts, room)
    if widths is None:
        return _labelled(titles, rows, width)
    if block.ruled:
        rows = [[said or "_" * cells for said, cells in zip(row, widths, strict=True)]
                for row in rows]  # fmt: skip
    under = [_GAP.join(rule * cells for cells in widths)]
    set_rows = [_row(row, block.columns, widths) for row in rows]
    crowded = sum(len(lines) > 1 for lines in set_rows) > len(set_rows) / 2
    apart = [block.ruled or crowded or width_of(row[0]) > widths[0] for row in rows]
    return [*_row(titles, block.columns, widths), *under, *_spaced(set_rows, apart)]


def _spaced(groups: Sequence[list[str]], apart: Sequence[bool]) -> Iterator[str]:
    """Rows with a blank line around those that would run into their neighbours."""
    for number, lines in enumerate(groups):
        if number and (apart[number] or apart[number - 1]):
            yield ""
        yield from lines


def _row(texts: Sequence[str], columns: Sequence[Column], widths: Sequence[int]) -> list[str]:
    """One row in as many lines as its longest cell takes."""
    wrapped = [_wrapped(text, cells) for text, cells in zip(texts, widths, strict=True)]
    lines = list[str]()
    for at in range(max(len(cell) for cell in wrapped)):
        pieces = (
            _set(cell[at] if at < len(cell) else "", column, cells)
            for cell, column, cells in zip(wrapped, columns, widths, strict=True)
        )
        lines.append(_GAP.join(pieces).rstrip())
    return lines


def _set(text: str, column: Column, cells: int) -> str:
    return padded(text, cells, right=column.side == "right")


def padded(text: str, cells: int, *, right: bool = False) -> str:
    """The text filled with blanks to so many cells; a longer one is left as it is."""
    blanks = " " * max(0, cells - width_of(text))
    return blanks + text if right else text + blanks


def _labelled(titles: Sequence[str], rows: Sequence[Sequence[str]], width: int) -> list[str]:
    """Each row as its first cell, and under it the others with their titles, in a grid."""
    items = [[f"{title}: {said}".rstrip() for title, said in zip(titles, row, strict=True)]
             for row in rows]  # fmt: skip
    half = (width - len(_INDENT) - len(_GAP)) // 2
    grid = max((width_of(item) for row in items for item in row[1:] if width_of(item) <= half),
               default=half)  # fmt: skip
    across = max(1, (width - len(_INDENT) + len(_GAP)) // (grid + len(_GAP)))
    groups = [[*_wrapped(row[0], width), *_grid(row[1:], grid, across, width)] for row in items]
    return list(_spaced(groups, [True] * len(groups)))


def _grid(items: Sequence[str], grid: int, across: int, width: int) -> Iterator[str]:
    """Items side by side, so many to a line; one that is too wide has lines of its own."""
    waiting = list[str]()
    for item in items:
        wide = width_of(item) > grid
        if waiting and (wide or len(waiting) == across):
            yield _side_by_side(waiting, grid)
            waiting.clear()
        if wide:
            yield from hanging(_INDENT, item, width)
        else:
            waiting.append(item)
    if waiting:
        yield _side_by_side(waiting, grid)


def _side_by_side(items: Sequence[str], cells: int) -> str:
    return (_INDENT + _GAP.join(padded(item, cells) for item in items)).rstrip()
