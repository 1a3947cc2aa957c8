"""What a printed page is made of. A document is built once and set in any form.

All text is plain text, already in the reader's words and units; a form escapes it, cleans it and
never interprets it. A newcomer finds here every kind of block that a form must be able to set.
"""

from typing import Literal, NamedTuple

Role = Literal["", "strong", "dim", "struck", "caution", "watch", "call", "go", "good"]
"""How a row or a paragraph is to be set. Never the only carrier of a meaning: words say it too."""


class Cell(NamedTuple):
    """The text of one cell and how it is set. ``struck`` is drawn through where that can be."""

    text: str
    role: Role = ""


class Column(NamedTuple):
    """One column: its title, which side it keeps to, its share of the width.

    ``share`` is relative to the other columns; a form may give a column more when its words need
    it. Text is wrapped between words, never cut.
    """

    title: str
    share: float = 1.0
    side: Literal["left", "right"] = "left"


class Facts(NamedTuple):
    """Labels with what is known: ``Dam``, ``Bramble, Beagle, 3 years``."""

    rows: tuple[tuple[str, str], ...]


class Table(NamedTuple):
    """Rows under column titles. No row is ever parted by a page break; titles are repeated.

    ``empty`` is said instead of a table without rows. ``ruled`` asks for a grid with room for a
    pen, as on a blank sheet.
    """

    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    empty: str = "Nothing was written down."
    ruled: bool = False


class Words(NamedTuple):
    """A paragraph."""

    text: str
    role: Role = ""


class Points(NamedTuple):
    """A list of short sentences, each with how it is set."""

    items: tuple[Cell, ...]


class Bar(NamedTuple):
    """One bar: its label, its length, the same in words, and how it is set."""

    label: str
    value: float
    words: str
    role: Role = ""


class BarChart(NamedTuple):
    """Bars from left to right with the limits they are held against, in the same unit."""

    title: str
    unit: str
    bars: tuple[Bar, ...]
    limits: tuple[tuple[float, str], ...] = ()
    """Where a line is drawn across the bars, and what it says."""


class Curve(NamedTuple):
    """Points ``(x, y)`` of one thing over time, in order of x, with its name and a one-cell sign.

    ``sign`` tells curves apart without colour: a digit or a letter.
    """

    name: str
    sign: str
    points: tuple[tuple[float, float], ...]


class CurveChart(NamedTuple):
    """Curves over days. ``levels`` are lines of reference across it: where, and what they say."""

    title: str
    x_title: str
    y_title: str
    curves: tuple[Curve, ...]
    levels: tuple[tuple[float, str], ...] = ()


Block = Facts | Table | Words | Points | BarChart | CurveChart


class Section(NamedTuple):
    """A heading with what stands under it. ``new_page`` begins it on a page of its own."""

    title: str
    blocks: tuple[Block, ...]
    new_page: bool = False


class Document(NamedTuple):
    """A whole paper: a title, a line under it, the sections, and what stands at every foot."""

    title: str
    subtitle: str
    sections: tuple[Section, ...]
    foot: str
    language: str = "en"
