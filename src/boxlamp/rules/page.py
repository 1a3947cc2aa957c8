"""A rule's page: its module's docstring, taken apart into its headings."""

import re
from textwrap import dedent
from typing import NamedTuple

HEADINGS = ("What it watches", "Why it matters", "What to do", "Example")


class Page(NamedTuple):
    """What a rule's page says, heading by heading.

    ``example`` is a short night log, lines and expectations, ready to be run.
    """

    title: str
    watches: str
    matters: str
    todo: str
    example: str


class PageError(ValueError):
    """A docstring that is no page: a heading is missing, empty or out of order."""


def read_page(docstring: str) -> Page:
    """Take a rule module's docstring apart, or say which heading is wrong."""
    title, _, rest = docstring.strip().partition("\n")
    places = [rest.find(f"\n{heading}:") for heading in HEADINGS]
    for heading, place in zip(HEADINGS, places, strict=True):
        if place < 0:
            raise PageError(f"{title}: the heading {heading!r} is missing.")
    if places != sorted(places):
        raise PageError(f"{title}: the headings are out of order.")
    parts = [
        rest[start:end].partition(":")[2]
        for start, end in zip(places, [*places[1:], len(rest)], strict=True)
    ]
    for heading, part in zip(HEADINGS, parts, strict=True):
        if not part.strip():
            raise PageError(f"{title}: nothing stands under {heading!r}.")
    *prose, example = parts
    watches, matters, todo = (_one_line(part) for part in prose)
    return Page(title.strip().rstrip("."), watches, matters, todo, dedent(example).strip() + "\n")


def _one_line(text: str) -> str:
    """Prose without its line breaks; a blank line still parts two paragraphs."""
    paragraphs = re.split(r"\n\s*\n", text.strip())
    return "\n\n".join(" ".join(paragraph.split()) for paragraph in paragraphs)
