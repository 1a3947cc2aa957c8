"""Rows of cells on a printed page: the one thing that text, facts and tables are set with.

A row is never parted by a page break, unless it is taller than a whole page; the titles of the
columns are repeated on every page.
"""

from collections.abc import Sequence
from typing import NamedTuple

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from boxlamp.paper.forms.pdf_text import Lines

_TOGETHER = 2
"""How many rows stand at least under a heading before a page ends."""


class Look(NamedTuple):
    """How rows are set off from one another; measures in points."""

    across: float = 0.0
    """Empty room at the left and at the right of each cell."""
    above: float = 0.0
    """Empty room above and below each cell."""
    hairlines: bool = False
    ruled: bool = False
    """A whole grid, for a pen."""
    barred: bool = False
    """A bar along the left edge, as beside a caution."""
    underlined: bool = False
    """A line under the last row, as under a heading."""


class Row(NamedTuple):
    """Cells beside one another, at least so high."""

    cells: tuple[Lines, ...]
    least: float = 0.0

    def height(self, look: Look) -> float:
        """The room from top to bottom, in points."""
        highest = max((cell.height for cell in self.cells), default=0.0)
        return max(highest + 2 * look.above, self.least)

    def parted(self, room: float, look: Look) -> tuple["Row", "Row"]:
        """What of the row fits into the room, and what is left of it."""
        parts = [cell.parted(room - 2 * look.above) for cell in self.cells]
        return Row(tuple(part for part, _ in parts)), Row(tuple(part for _, part in parts))


class Rows(Flowable):
    """Rows under an optional head. ``page`` is the height of an empty page."""

    def __init__(
        self,
        widths: Sequence[float],
        rows: Sequence[Row],
        page: float,
        look: Look,
        head: Row | None = None,
    ) -> None:
        super().__init__()
        self._widths, self._rows, self._page = tuple(widths), tuple(rows), page
        self._look, self._head = look, head
        self.width, self.height = sum(widths), self._up_to(len(self._rows))

    def _up_to(self, count: int) -> float:
        head = self._head.height(self._look) if self._head else 0.0
        return head + sum(row.height(self._look) for row in self._rows[:count])

    @property
    def beginning(self) -> float:
        """The least room in which it is worth beginning."""
        return min(self._up_to(_TOGETHER), self._page / 2)

    def wrap(self, availWidth: float, availHeight: float) -> tuple[float, float]:  # noqa: N803, ARG002 - named by the library
        """The size, which was settled when it was made."""
        return self.width, self.height

    def split(self, availWidth: float, availHeight: float) -> list[Flowable]:  # noqa: N803, ARG002 - named by the library
        """The part that fits into the room and the rest; nothing when a new page is better."""
        used = self._up_to(0)
        for place, row in enumerate(self._rows):
            used += row.height(self._look)
            if used > availHeight + 1e-6:
                return self._split_at(place, availHeight)
        return [self]

    def _split_at(self, place: int, room: float) -> list[Flowable]:
        first, rest = self._rows[:place], self._rows[place:]
        if self._fits_a_page(rest[0]):
            return [self._with(first), self._with(rest)] if first else []
        here, later = rest[0].parted(room - self._up_to(place), self._look)
        if not any(cell.lines for cell in here.cells):
            # Not even one line fits here; on an empty page one always does.
            return [self._with(first), self._with(rest)] if first else []
        return [self._with((*first, here)), self._with((later, *rest[1:]))]

    def _fits_a_page(self, row: Row) -> bool:
        return self._up_to(0) + row.height(self._look) <= self._page

    def _with(self, rows: Sequence[Row]) -> "Rows":
        return Rows(self._widths, rows, self._page, self._look, self._head)

    def draw(self) -> None:
        """Paint the rows from the top down."""
        canvas: Canvas = self.canv
        top = self.height
        for row in (*([self._head] if self._head else []), *self._rows):
            height = row.height(self._look)
            self._draw_cells(canvas, row, top)
            top -= height
            self._draw_rules(canvas, top, height, heavy=row is self._head)
        if self._look.barred:
            canvas.setFillGray(0)
            canvas.rect(0, 0, 1.5, self.height, stroke=0, fill=1)
        if self._look.underlined:
            _line(canvas, 0, self.width, 0, 0.6)

    def _draw_cells(self, canvas: Canvas, row: Row, top: float) -> None:
        x = 0.0
        for cell, width in zip(row.cells, self._widths, strict=False):
            inside = width - 2 * self._look.across
            cell.draw(canvas, x + self._look.across, top - self._look.above, inside)
            x += width

    def _draw_rules(self, canvas: Canvas, bottom: float, height: float, *, heavy: bool) -> None:
        if heavy:
            _line(canvas, 0, self.width, bottom, 0.9)
        elif self._look.hairlines or self._look.ruled:
            _line(canvas, 0, self.width, bottom, 0.3)
        if self._look.ruled:
            canvas.setLineWidth(0.3)
            x = 0.0
            for width in (0.0, *self._widths):
                x += width
                canvas.line(x, bottom, x, bottom + height)


def _line(canvas: Canvas, left: float, right: float, y: float, width: float) -> None:
    canvas.setStrokeGray(0 if width > 0.5 else 0.35)  # noqa: PLR2004 - a thin line may be lighter
    canvas.setLineWidth(width)
    canvas.line(left, y, right, y)
