"""Blocks of a document as parts of a printed page."""

from collections.abc import Iterator

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from boxlamp.paper.document import (
    BarChart,
    Block,
    CurveChart,
    Facts,
    Points,
    Role,
    Table,
    Words,
)
from boxlamp.paper.forms.pdf_painter import Painting
from boxlamp.paper.forms.pdf_rows import Look, Row, Rows
from boxlamp.paper.forms.pdf_tables import table_rows
from boxlamp.paper.forms.pdf_text import Typesetter, width_of
from boxlamp.paper.forms.plot import bar_picture, curve_picture

TITLE, SUBTITLE, HEADING, BODY = 15.0, 9.0, 10.5, 8.5
_CHART_TITLE = 8.0
_BULLET = 9.0
_LABEL_SHARE = 0.34  # of the width: a label that is longer is folded
_GUTTER = 14.0
_WORTH = 0.8  # two columns of facts are set where they take this part of the height, or less
_CURVES_HIGH = 190.0
_MOST_BARS = 30  # in one picture; more go into another one below it


class SideBySide(Flowable):
    """Two columns of facts; never parted."""

    def __init__(self, left: Rows, right: Rows) -> None:
        super().__init__()
        self._left, self._right = left, right
        self.width = left.width + _GUTTER + right.width
        self.height = self.beginning = max(left.height, right.height)

    def wrap(self, availWidth: float, availHeight: float) -> tuple[float, float]:  # noqa: N803, ARG002 - named by the library
        """The size, which was settled when it was made."""
        return self.width, self.height

    def draw(self) -> None:
        """Paint both columns, each from the top, the left one first."""
        canvas: Canvas = self.canv
        self._left.drawOn(canvas, 0, self.height - self._left.height)
        right = self.width - self._right.width
        self._right.drawOn(canvas, right, self.height - self._right.height)


Part = Rows | Painting | SideBySide


class Page:
    """A page to be filled: its inner size in points, and who sets its words."""

    def __init__(self, width: float, height: float, setter: Typesetter) -> None:
        self.width, self.height, self.setter = width, height, setter

    def words(self, text: str, size: float, role: Role = "", look: Look | None = None) -> Rows:
        """A paragraph over the whole width."""
        look = look or Look(above=size / 8)
        lines = self.setter.lines(text, self.width - 2 * look.across, size, role)
        return Rows((self.width,), (Row((lines,)),), self.height, look)

    def heading(self, text: str) -> Rows:
        """The heading of a section, with a line under it."""
        return self.words(text, HEADING, "strong", Look(above=1.5, underlined=True))

    def parts(self, block: Block) -> Iterator[Part]:
        """What stands on paper for one block."""
        match block:
            case Words(text=text, role=role):
                if text.strip():
                    barred = Look(across=6, above=1, barred=True) if role == "caution" else None
                    yield self.words(text, BODY, role, barred)
            case Points():
                yield from self._points(block)
            case Facts():
                yield from self._facts(block)
            case Table():
                if block.rows:
                    yield table_rows(block, self.width, self.height, self.setter)
                else:
                    yield self.words(block.empty, BODY, "dim")
            case BarChart():
                yield from self._bars(block)
            case CurveChart():
                yield self.words(block.title, _CHART_TITLE, "strong")
                drawn = curve_picture(block, self.width, _CURVES_HIGH)
                yield Painting(drawn, self._chart_room, self.setter)

    @property
    def _chart_room(self) -> float:
        """What a picture may take of a page: its title and a heading stand above it."""
        return self.height * 0.85

    def _points(self, block: Points) -> Iterator[Rows]:
        rows = [
            Row((
                self.setter.lines("•", _BULLET, BODY),
                self.setter.lines(item.text, self.width - _BULLET, BODY, item.role),
            ))
            for item in block.items
        ]  # fmt: skip
        if rows:
            yield Rows((_BULLET, self.width - _BULLET), rows, self.height, Look(above=0.8))

    def _facts(self, block: Facts) -> Iterator[Part]:
        """One column of labels and values, or two where that is much shorter."""
        if not block.rows:
            return
        whole = self._column(block.rows, self.width)
        half = (self.width - _GUTTER) / 2
        middle = self._middle(block.rows, half)
        left, right = block.rows[:middle], block.rows[middle:]
        if left and right:
            pair = SideBySide(self._column(left, half), self._column(right, half))
            if pair.height <= min(whole.height * _WORTH, self.height / 2):
                yield pair
                return
        yield whole

    def _middle(self, rows: tuple[tuple[str, str], ...], half: float) -> int:
        """Where to break the facts so that both columns are about as high."""
        heights = [self._column((row,), half).height for row in rows]
        total = sum(heights)
        return min(
            range(1, len(rows) + 1),
            key=lambda place: max(sum(heights[:place]), total - sum(heights[:place])),
        )

    def _column(self, rows: tuple[tuple[str, str], ...], width: float) -> Rows:
        widest = max(width_of(self.setter.text(label), "strong", BODY) for label, _ in rows)
        label_room = min(widest + 1, width * _LABEL_SHARE)
        value_room = width - label_room - 6
        set_rows = [
            Row((
                self.setter.lines(label, label_room, BODY, "strong"),
                self.setter.lines(value, value_room, BODY),
            ))
            for label, value in rows
        ]  # fmt: skip
        look = Look(above=0.9)
        return Rows((label_room + 6, value_room), set_rows, self.height, look)

    def _bars(self, block: BarChart) -> Iterator[Part]:
        yield self.words(block.title, _CHART_TITLE, "strong")
        for first in range(0, max(1, len(block.bars)), _MOST_BARS):
            some = block._replace(bars=block.bars[first : first + _MOST_BARS])
            yield Painting(bar_picture(some, self.width), self._chart_room, self.setter)
