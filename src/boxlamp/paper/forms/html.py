"""A document as one HTML file that stands alone: nothing in it runs, nothing is fetched."""

import re
from base64 import b64encode
from functools import cache
from hashlib import sha256
from itertools import count
from typing import Literal

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup, escape

from boxlamp.paper.document import BarChart, CurveChart, Document, Table
from boxlamp.paper.forms.held import held, loosed
from boxlamp.paper.forms.plot import bar_picture, curve_picture
from boxlamp.paper.forms.svg import svg
from boxlamp.paper.forms.text_widths import shared, widths_for
from boxlamp.view.text import clean

Page = Literal["a4", "letter"]

_PAGE = {"a4": "A4", "letter": "letter"}
# Our choices. A picture is drawn small, in points, so that its words can be read on a telephone.
_PICTURE = 340.0
_HIGH = 190.0
# About so many letters stand side by side in a printed table.
_LETTERS = 106
# What stands between two columns takes as much room as so many letters.
_GAP = 2
# A word longer than this may be broken where a line is too short for it.
_LONG = 20
# Hebrew, Arabic and their kin, and what stands between two words of them but letters of ours.
_RIGHT = "[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc\U00010800-\U00010fff\U0001e800-\U0001efff]"
_FROM_THE_RIGHT = re.compile(f"{_RIGHT}(?:[^A-Za-z]*{_RIGHT})*")


def html_form(document: Document, *, page: Page = "a4") -> str:
    """The document as a page for a screen and, by its print rules, for paper of that size."""
    environment = _environment()
    style = environment.get_template("summary.css.j2").render(
        size=_PAGE[page],
        foot=Markup(css_string(document.foot)),  # noqa: S704 - escaped for CSS
    )
    numbers = count(1)

    def picture(chart: BarChart | CurveChart) -> Markup:
        """A chart as a drawing; each has a name of its own on the page."""
        drawn = (
            bar_picture(chart, _PICTURE)
            if isinstance(chart, BarChart)
            else curve_picture(chart, _PICTURE, _HIGH)
        )
        return svg(drawn, chart.title, f"chart-{next(numbers)}")

    return environment.get_template("summary.html.j2").render(
        document=document,
        style=Markup(style),  # noqa: S704 - our own rules; the one text in them is escaped
        digest=b64encode(sha256(style.encode()).digest()).decode(),
        picture=picture,
    )


def said(text: str) -> Markup:
    """Words: cleaned, escaped, kept from turning round what stands beside them.

    A paper reads from the left. What is written from the right is isolated by itself, so that
    the number behind such a name stays behind it. A very long word may be broken, so that no
    column grows out of the page.
    """
    inner, end, shown = Markup(), 0, clean(text)
    for found in _FROM_THE_RIGHT.finditer(shown):
        run = _breakable(found[0])
        inner += _breakable(shown[end : found.start()])
        inner += Markup('<bdi dir="rtl">{}</bdi>').format(run)
        end = found.end()
    inner += _breakable(shown[end:])
    return Markup('<bdi dir="ltr">{}</bdi>').format(inner)


def _breakable(text: str) -> Markup:
    """The text escaped, its very long words marked as breakable, telephone numbers as whole."""
    kept = held(text, lambda number: len(number) <= _LONG)
    return Markup(" ").join(_word(word) for word in kept.split(" "))


def _word(word: str) -> Markup:
    number = loosed(word)
    if number != word:
        return Markup('<span class="whole">{}</span>').format(number)
    return (
        Markup('<span class="long">{}</span>').format(word) if len(word) > _LONG else escape(word)
    )


def shares(table: Table) -> list[int]:
    """How much of the width each column takes, in hundredths; nothing when it cannot be said.

    A browser left to itself gives one long cell most of the room, and wraps every time of day.
    """
    rows = [[column.title for column in table.columns]]
    rows += [[cell.text for cell in row] for row in table.rows]
    cleaned = [[clean(text).strip() for text in row] for row in rows]
    if table.ruled:
        widths = shared(cleaned, [column.share for column in table.columns], _LETTERS)
    else:
        widths = widths_for(cleaned, _LETTERS)
    whole = sum(cells + _GAP for cells in widths or [])
    return [max(1, round(100 * (cells + _GAP) / whole)) for cells in widths or []]


def css_string(text: str) -> str:
    """The text as a string of a style sheet, every sign of it but letters and digits coded."""
    coded = (
        sign if sign.isascii() and (sign.isalnum() or sign == " ") else f"\\{ord(sign):x} "
        for sign in clean(text)
    )
    return f'"{"".join(coded)}"'


def _finalize(value: object) -> object:
    """Whatever is put into a page is cleaned, unless it is markup of our own."""
    return value if hasattr(value, "__html__") else clean(str(value))


@cache
def _environment() -> Environment:
    environment = Environment(
        loader=PackageLoader("boxlamp.paper.forms", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=_finalize,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    environment.filters["said"] = said
    environment.filters["shares"] = shares
    environment.filters["kind"] = lambda block: type(block).__name__.lower()
    return environment
