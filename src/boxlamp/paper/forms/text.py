"""A document as plain text: for a screen, a printer, the body of an e-mail."""

from collections.abc import Iterator

from boxlamp.paper.document import (
    BarChart,
    Block,
    Cell,
    CurveChart,
    Document,
    Facts,
    Points,
    Section,
    Table,
    Words,
)
from boxlamp.paper.forms import text_charts, text_tables
from boxlamp.paper.forms.text_tables import cell_text, paragraph
from boxlamp.view.text import width_of

MARK = "Written by Boxlamp."
"""The last line of every text."""

# Our choice: below this columns and bars have no sense; a narrower screen wraps by itself.
_NARROWEST = 24


def text_form(document: Document, width: int = 80, *, fine: bool = True) -> str:
    """The document in lines of at most ``width`` cells (24 at the least), with one newline last.

    ``fine`` allows drawing characters; without it everything but people's own words is ASCII.
    """
    lines = list(_lines(document, max(width, _NARROWEST), fine=fine))
    return "\n".join(lines) + "\n"


def _lines(document: Document, width: int, *, fine: bool) -> Iterator[str]:
    yield from _underlined(document.title, width, "=")
    yield from paragraph(document.subtitle, width)
    for section in document.sections:
        yield from _section(section, width, fine=fine)
    yield from ("", ("─" if fine else "-") * width)
    yield from paragraph(document.foot, width)
    yield MARK


def _section(section: Section, width: int, *, fine: bool) -> Iterator[str]:
    yield ""
    yield ""
    yield from _underlined(section.title, width, "-")
    for block in section.blocks:
        if lines := block_lines(block, width, fine=fine):
            yield ""
            yield from lines


def _underlined(title: str, width: int, stroke: str) -> list[str]:
    """A heading with a line under it that is as long as the longest of its own."""
    lines = paragraph(title, width)
    return [*lines, stroke * max((width_of(line) for line in lines), default=0)] if lines else []


def block_lines(block: Block, width: int, *, fine: bool) -> list[str]:
    """One block in lines of at most so many cells."""
    match block:
        case Facts():
            return text_tables.facts(block, width)
        case Table():
            return text_tables.table(block, width, "─" if fine else "-")
        case Words(text, role):
            return paragraph(cell_text(Cell(text, role)), width)
        case Points():
            return text_tables.points(block, width)
        case BarChart():
            return text_charts.bars(block, width, fine=fine)
        case CurveChart():
            return text_charts.curves(block, width, fine=fine)
