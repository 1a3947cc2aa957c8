"""Forms read back: what a page says, part by part, as one who sees only the page would read it."""

from collections.abc import Sequence
from html.parser import HTMLParser
from typing import NamedTuple

from boxlamp.view.text import clean

VOID = {"meta", "rect", "circle", "polyline", "br", "img", "link", "base", "input"}


class Part(NamedTuple):
    """An element: its name, its attributes, the elements around it, the words in it."""

    tag: str
    attributes: dict[str, str]
    around: tuple[str, ...]
    words: list[str]

    @property
    def text(self) -> str:
        """The words as they stand."""
        return "".join(self.words)


class _Reader(HTMLParser):
    """Every element in the order in which it begins; words count for all elements around them."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.parts: list[Part] = []
        self.comments: list[str] = []
        self._open: list[Part] = []

    def handle_starttag(self, tag: str, attrs: Sequence[tuple[str, str | None]]) -> None:
        around = tuple(part.tag for part in self._open)
        part = Part(tag, {key: value or "" for key, value in attrs}, around, [])
        self.parts.append(part)
        if tag not in VOID:
            self._open.append(part)

    def handle_startendtag(self, tag: str, attrs: Sequence[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        if tag not in VOID:
            self._open.pop()

    def handle_endtag(self, tag: str) -> None:
        assert self._open.pop().tag == tag, "every element ends where it should"

    def handle_data(self, data: str) -> None:
        if any(part.attributes.get("class") == "unseen" and part.tag == "span"
               for part in self._open):  # fmt: skip
            return
        for part in self._open:
            part.words.append(data)

    def handle_comment(self, data: str) -> None:
        self.comments.append(data)


class Page(NamedTuple):
    """An HTML page, taken apart."""

    parts: list[Part]
    comments: list[str]

    def every(self, *tags: str) -> list[Part]:
        """All elements of these names, in order."""
        return [part for part in self.parts if part.tag in tags]

    def texts(self, *tags: str) -> list[str]:
        """What all elements of these names say."""
        return [part.text for part in self.every(*tags)]


def page_of(html: str) -> Page:
    """The page as a parser sees it; every element that begins also ends."""
    reader = _Reader()
    reader.feed(html)
    reader.close()
    assert not reader._open
    return Page(reader.parts, reader.comments)


def set_text(text: str) -> str:
    """The text as a form sets it where line breaks and blanks do not count."""
    return " ".join(clean(text).split())


def squeezed(text: str) -> str:
    """The text without any blanks: what must survive every wrapping."""
    return "".join(clean(text).split())
