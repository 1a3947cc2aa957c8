"""The printed form: a PDF that looks the same everywhere and is the same bytes every time.

Nothing in it acts: no links, no scripts, no forms. Its typefaces are inside it.
"""

import io
import re
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any, Literal

from boxlamp.paper.document import Document, Section, Words
from boxlamp.view.text import clean

if TYPE_CHECKING:
    from reportlab.platypus import Flowable

    from boxlamp.paper.forms.pdf_blocks import Page
    from boxlamp.paper.forms.pdf_text import Lines

PageSize = Literal["a4", "letter"]

_MILLIMETRE = 72 / 25.4
_SIZES: dict[PageSize, tuple[float, float]] = {
    "a4": (210 * _MILLIMETRE, 297 * _MILLIMETRE),
    "letter": (612.0, 792.0),
}
_MARGIN = 14 * _MILLIMETRE
_FOOT = 6.5
_FOOT_SHARE = 0.8  # of the width; the number of the page has the rest
_FOOT_LINES = 6  # more than that is no foot any more
# Our choices, in parts of a page. A section that asks for a new page gets one where so much of the
# page before it is filled; a section smaller than the second is never parted.
_FILLED, _SMALL = 0.4, 0.25
_GAP, _WIDE_GAP = 9, 22  # points above a section, and above one that asked for a new page
_BETWEEN, _CLOSE = 4, 2.5  # points between the groups of a section, and within a group
_LEAD = 30  # points: a paragraph of two lines
_LEADS = 6  # not more of them than this are kept together
_LACKING = (
    "Some characters could not be printed here: each stands as a white square (\N{WHITE SQUARE}). "
)


def pdf_form(
    document: Document,
    page: PageSize = "a4",
    *,
    elsewhere: str = "The HTML form of this paper has them whole.",
) -> bytes:
    """The document on pages of this size. The same document always gives the same bytes.

    ``elsewhere`` says what to do about characters that cannot be printed, when there are any.
    """
    from boxlamp.paper.forms.pdf_blocks import Page
    from boxlamp.paper.forms.pdf_text import Typesetter

    across, up = _SIZES[page]
    setter = Typesetter()
    width = across - 2 * _MARGIN
    foot = setter.lines(document.foot, width * _FOOT_SHARE, _FOOT)
    foot = foot._replace(lines=foot.lines[:_FOOT_LINES])
    below = _MARGIN + max(foot.leading, foot.height) + 5
    inner = Page(width, up - _MARGIN - below, setter)
    story = list(_story(document, inner))
    if setter.lacking:
        # Said at the top: whoever reads a white square must know at once what it is.
        head = 2 if document.subtitle.strip() else 1
        story[head:head] = _spaced([inner.words(_LACKING + elsewhere, _FOOT + 1, "caution")], 4)
    return _built(document, story, inner, (across, up), foot)


def _story(document: Document, page: "Page") -> Iterator["Flowable"]:
    """Everything on the pages, in order."""
    from reportlab.platypus import CondPageBreak

    from boxlamp.paper.forms.pdf_blocks import SUBTITLE, TITLE

    yield page.words(document.title, TITLE, "strong")
    if document.subtitle.strip():
        yield page.words(document.subtitle, SUBTITLE, "dim")
    for place, section in enumerate(document.sections):
        if section.new_page and place:
            yield CondPageBreak((1 - _FILLED) * page.height)
        gap = _WIDE_GAP if section.new_page else _GAP
        groups = list(_groups(section, page))
        whole = sum(_needed(group) for group in groups)
        if whole < page.height * _SMALL:
            yield CondPageBreak(whole + gap)
        for number, group in enumerate(groups):
            before = _BETWEEN if number else gap
            needed = _needed(group) - group[-1].height + group[-1].beginning
            yield CondPageBreak(min(needed + before, page.height))
            yield from _spaced(group, before)


def _needed(group: list[Any]) -> float:
    """The room that all parts of a group take, with what is between them and a little above."""
    return float(sum(part.height + _CLOSE for part in group) + _BETWEEN)


def _groups(section: Section, page: "Page") -> Iterator[list[Any]]:
    """Parts that must begin on one page: a heading with what follows, a title with its chart.

    A short paragraph leads to what stands under it, as a heading does.
    """
    waiting: list[Any] = [page.heading(section.title)] if section.title.strip() else []
    for block in section.blocks:
        parts = list(page.parts(block))
        if not parts:
            continue
        if isinstance(block, Words) and parts[0].height < _LEAD:
            waiting += parts
            if len(waiting) < _LEADS:
                continue
            parts = []
        yield [*waiting, *parts[:2]]
        yield from ([part] for part in parts[2:])
        waiting = []
    if waiting:
        yield waiting


def _spaced(parts: list[Any], before: float) -> list[Any]:
    """The parts with room before the first and a little between them."""
    for place, part in enumerate(parts):
        part.spaceBefore = _CLOSE if place else before
    return parts


def _built(
    document: Document,
    story: list[Any],
    page: "Page",
    size: tuple[float, float],
    foot: "Lines",
) -> bytes:
    from reportlab.platypus import BaseDocTemplate, Frame, PageTemplate

    from boxlamp.paper.forms.pdf_numbers import numbered

    stream = io.BytesIO()
    title = clean(document.title)
    made = BaseDocTemplate(
        stream,
        pagesize=size,
        title=title,
        subject=clean(document.subtitle),
        author="Boxlamp",
        creator="Boxlamp",
        lang=re.sub(r"[^A-Za-z-]", "", document.language) or "en",
        invariant=1,
        pageCompression=1,
    )
    frame = Frame(
        _MARGIN, size[1] - _MARGIN - page.height, page.width, page.height,
        leftPadding=0, rightPadding=0, topPadding=0, bottomPadding=0,
    )  # fmt: skip
    made.addPageTemplates(PageTemplate(frames=[frame]))
    made.build(story, canvasmaker=numbered(foot, page.width, _MARGIN))
    return stream.getvalue()
