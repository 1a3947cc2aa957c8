"""The foot of every page, with ``page 2 of 5``: known only when the last page is done."""

from typing import Any

from reportlab.pdfgen.canvas import Canvas

from boxlamp.paper.forms.pdf_text import DIM, Lines, width_of, write


def numbered(foot: Lines, width: float, margin: float) -> type[Canvas]:
    """A canvas that keeps its pages until the end, and then gives each one its foot."""

    class Numbered(Canvas):
        def __init__(self, *args: Any, **kwargs: Any) -> None:  # noqa: ANN401 - the library's own
            super().__init__(*args, **kwargs)
            self._pages = list[dict[str, Any]]()

        def showPage(self) -> None:  # noqa: N802 - named by the library
            self._pages.append(dict(self.__dict__))
            self._startPage()  # type: ignore[attr-defined]  # the library's own way to begin a page

        def save(self) -> None:
            pages = self._pages
            for number, page in enumerate(pages, start=1):
                self.__dict__.update(page)
                _draw_foot(self, foot, width, margin, f"Page {number} of {len(pages)}")
                super().showPage()
            super().save()

    return Numbered


def _draw_foot(canvas: Canvas, foot: Lines, width: float, margin: float, number: str) -> None:
    top = margin + max(foot.height, foot.leading)
    canvas.setStrokeGray(DIM)
    canvas.setLineWidth(0.3)
    canvas.line(margin, top + 2, margin + width, top + 2)
    foot.draw(canvas, margin, top, width)
    long = width_of(number, foot.role, foot.size)
    write(canvas, (margin + width - long, top - 0.95 * foot.size), number, foot.size, foot.role)
