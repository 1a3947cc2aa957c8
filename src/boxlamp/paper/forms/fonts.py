"""The two typefaces of a printed page, and what they cannot show.

They lie in the package, so that a page looks the same wherever it is made.
"""

import unicodedata
from functools import cache
from importlib.resources import files
from typing import NamedTuple

from boxlamp.view.text import clean

REGULAR, BOLD = "Boxlamp-Regular", "Boxlamp-Bold"
_FILES = {REGULAR: "DejaVuSansCondensed.ttf", BOLD: "DejaVuSansCondensed-Bold.ttf"}
MISSING = "\N{WHITE SQUARE}"
_LAST = 0xFFFF
_TURNED = frozenset({"R", "AL", "AN"})
_TURNED_BLOCKS = (range(0x0590, 0x0900), range(0xFB1D, 0xFE00), range(0xFE70, 0xFF00))
"""Letters and figures written from right to left, and the blocks with the points above them. Set
one after the other from left to right they would be read wrongly, and a name that is misread is
worse than one that is seen to be missing."""


@cache
def letters() -> frozenset[int]:
    """Register both typefaces; the characters that both can show."""
    from reportlab.pdfbase.pdfmetrics import registerFont, registerFontFamily
    from reportlab.pdfbase.ttfonts import TTFont

    shown = list[set[int]]()
    for name, file in _FILES.items():
        path = files("boxlamp.paper.forms") / "fonts" / file
        with path.open("rb") as stream:
            font = TTFont(name, stream, shapable=False)
        registerFont(font)
        shown.append(set(font.face.charToGlyph))
    registerFontFamily(REGULAR, REGULAR, BOLD, REGULAR, BOLD)
    # Beyond four digits a letter is drawn right but copied wrong, and could not be searched for.
    both = shown[0] & shown[1]
    return frozenset(code for code in both if code <= _LAST and not _turned(code))


def _turned(code: int) -> bool:
    return unicodedata.bidirectional(chr(code)) in _TURNED or any(
        code in block for block in _TURNED_BLOCKS
    )


class Printable(NamedTuple):
    """Text as it can be printed, and whether anything in it had to be left to a white square."""

    text: str
    whole: bool


def printable(text: str) -> Printable:
    """The text in letters that the typefaces have; what they lack is a white square.

    Nothing that is left can turn a line round or move anything on the page.
    """
    shown = letters()
    cleaned = unicodedata.normalize("NFC", clean(text))
    drawn = "".join(char if ord(char) in shown else MISSING for char in cleaned)
    return Printable(drawn, drawn == cleaned)
