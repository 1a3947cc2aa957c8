"""How much room words take in a picture, before anybody knows in which font they will be set."""

import unicodedata
from collections.abc import Iterator
from typing import NamedTuple

from boxlamp.paper.document import Role
from boxlamp.paper.forms.shapes import Anchor, Label
from boxlamp.view.text import clean

# Parts of the letter size, a little more than the widest of the usual fonts needs: a label that
# is narrower than reckoned leaves a gap, one that is wider would run into its neighbour.
_NARROW, _USUAL, _CAPITAL, _WIDE, _FOREIGN = 0.46, 0.68, 0.85, 1.06, 1.4
_THIN = frozenset(" !'(),./:;I[]ijl|")
_BROAD = frozenset("%@MWmw")
_LATIN_ENDS = 0x250
LEADING = 1.25
"""From one baseline to the next, in parts of the letter size."""


def text_width(text: str, size: float) -> float:
    """The most room that the text takes, in points."""
    return sum(map(_share, text)) * size


def _share(char: str) -> float:
    base = unicodedata.normalize("NFD", char)[0]
    if base in _THIN:
        return _NARROW
    if base in _BROAD:
        return _WIDE
    if base.isascii():
        return _CAPITAL if base.isupper() or not base.isalnum() else _USUAL
    return _WIDE if ord(base) < _LATIN_ENDS else _FOREIGN


def folded(text: str, width: float, size: float) -> list[str]:
    """The text in lines of at most this width; a word that is wider is parted, nothing is lost."""
    lines, line = list[str](), ""
    for word in clean(text).split():
        for piece in _pieces(word, width, size):
            longer = f"{line} {piece}" if line else piece
            if line and text_width(longer, size) > width:
                lines.append(line)
                longer = piece
            line = longer
    return [*lines, line] if line else lines


def _pieces(word: str, width: float, size: float) -> Iterator[str]:
    piece, used = "", 0.0
    for char in word:
        room = _share(char) * size
        if piece and used + room > width:
            yield piece
            piece, used = "", 0.0
        piece, used = piece + char, used + room
    yield piece


class Note(NamedTuple):
    """Some lines of words that belong together, all of one letter size."""

    lines: tuple[str, ...]
    size: float

    @property
    def width(self) -> float:
        """The room across, in points."""
        return max((text_width(line, self.size) for line in self.lines), default=0)

    @property
    def height(self) -> float:
        """The room from top to bottom, in points."""
        return len(self.lines) * self.size * LEADING

    def labels(
        self, x: float, top: float, anchor: Anchor = "start", role: Role = ""
    ) -> Iterator[Label]:
        """The lines as labels, the first just below ``top``."""
        for place, line in enumerate(self.lines):
            baseline = top + (place * LEADING + 1) * self.size
            yield Label(x, baseline, line, self.size, anchor, role)


def note(text: str, width: float, size: float) -> Note:
    """The text folded to a width."""
    return Note(tuple(folded(text, width, size)), size)


def extent(label: Label) -> tuple[float, float, float, float]:
    """What a label covers: left, top, right, bottom."""
    width = text_width(label.text, label.size)
    left = label.x - {"start": 0.0, "middle": width / 2, "end": width}[label.anchor]
    top = label.y - label.size
    return left, top, left + width, top + label.size * LEADING
