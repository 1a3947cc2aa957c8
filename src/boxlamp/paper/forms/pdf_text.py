"""Words set in lines for a printed page: measured, folded, never cut."""

from collections.abc import Iterator
from functools import lru_cache
from typing import TYPE_CHECKING, Literal, NamedTuple

from boxlamp.paper.document import Role
from boxlamp.paper.forms.fonts import BOLD, REGULAR, letters, printable
from boxlamp.paper.forms.held import held, loosed

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

DIM = 0.33
"""Grey as a share of white; lighter text is lost in a copy of a copy."""
_LEADING = 1.24
_RISE = 0.95  # from the top of a line to its baseline, in parts of the letter size
_STRIKE = 0.3  # how high a line through the words lies above their baseline
_BOLD_ROLES = frozenset({"strong", "watch", "call", "go"})


class Lines(NamedTuple):
    """Words already folded to a width, all of one size and role."""

    lines: tuple[str, ...]
    size: float
    role: Role = ""
    side: Literal["left", "right"] = "left"

    @property
    def leading(self) -> float:
        """From one line to the next, in points."""
        return self.size * _LEADING

    @property
    def height(self) -> float:
        """The room from top to bottom, in points."""
        return len(self.lines) * self.leading

    def parted(self, room: float) -> tuple["Lines", "Lines"]:
        """The lines that fit into the room, and those that are left."""
        count = max(0, int(room / self.leading + 1e-6))
        return self._replace(lines=self.lines[:count]), self._replace(lines=self.lines[count:])

    def draw(self, canvas: "Canvas", x: float, top: float, width: float) -> None:
        """Paint the lines below ``top`` (counted upwards, as a page does)."""
        for place, line in enumerate(self.lines):
            baseline = top - place * self.leading - _RISE * self.size
            long = width_of(line, self.role, self.size)
            start = x + width - long if self.side == "right" else x
            write(canvas, (start, baseline), line, self.size, self.role)


class Typesetter:
    """Makes words printable and remembers whether any character had to be left out."""

    def __init__(self) -> None:
        self.lacking = False

    def text(self, text: str) -> str:
        """The text as it can be printed."""
        shown = printable(text)
        self.lacking = self.lacking or not shown.whole
        return shown.text

    def lines(
        self,
        text: str,
        width: float,
        size: float,
        role: Role = "",
        side: Literal["left", "right"] = "left",
    ) -> Lines:
        """The text folded to a width in points."""
        return Lines(tuple(folded(self.text(text), width, size, role)), size, role, side)


def write(canvas: "Canvas", at: tuple[float, float], line: str, size: float, role: Role) -> None:
    """Paint one line of words from a point on its baseline."""
    x, y = at
    canvas.setFillGray(DIM if role == "dim" else 0)
    canvas.setFont(font_of(role), size)
    canvas.drawString(x, y, line)
    if role == "struck":
        canvas.setStrokeGray(0)
        canvas.setLineWidth(size / 12)
        height = y + size * _STRIKE
        canvas.line(x, height, x + width_of(line, role, size), height)


def font_of(role: Role) -> str:
    """The typeface in which words of this role are set."""
    return BOLD if role in _BOLD_ROLES else REGULAR


def width_of(text: str, role: Role, size: float) -> float:
    """How wide printable text is, in points."""
    return _width(text, font_of(role)) * size


@lru_cache(maxsize=20_000)
def _width(text: str, font: str) -> float:
    from reportlab.pdfbase.pdfmetrics import stringWidth

    letters()  # the typefaces are known from here on
    return float(stringWidth(text, font, 1))


def folded(text: str, width: float, size: float, role: Role = "") -> Iterator[str]:
    """Printable text in lines of at most this width; a word that is wider is parted.

    A telephone number is one word, unless it is wider than a line.
    """
    space = width_of(" ", role, size)
    line, used = list[str](), 0.0
    for word in held(text, lambda number: width_of(number, role, size) <= width).split():
        for piece in _pieces(loosed(word), width, size, role):
            long = width_of(piece, role, size)
            if line and used + space + long > width:
                yield " ".join(line)
                line, used = [], 0.0
            used += long + (space if line else 0.0)
            line.append(piece)
    if line:
        yield " ".join(line)


def _pieces(word: str, width: float, size: float, role: Role) -> Iterator[str]:
    if width_of(word, role, size) <= width:
        yield word
        return
    piece, used = "", 0.0
    for char in word:
        long = width_of(char, role, size)
        if piece and used + long > width:
            yield piece
            piece, used = "", 0.0
        piece, used = piece + char, used + long
    yield piece
