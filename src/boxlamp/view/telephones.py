"""Telephone numbers in somebody's words, and lines that never break one."""

import re
from collections.abc import Iterator

from boxlamp.view.text import width_of, wrap_words

# Our choice: what has fewer figures is an extension, a room, or minutes.
_FEWEST = 5
_NUMBER = re.compile(r"\+?\(?\d(?:[\s().\-/]{0,2}\d)+")
_NIGHT = "night"
"""What stands before the number to ring at night; the two are read together."""


def telephones(words: str) -> Iterator[str]:
    """The telephone numbers in somebody's words, as they stand there."""
    yield from (found[0] for found in _found(words))


def only_numbers(words: str) -> str:
    """The numbers alone, the one at night called so; nothing when there is none."""
    return ", ".join(
        f"{_NIGHT} {found[0]}" if words[: found.start()].rstrip().endswith(_NIGHT) else found[0]
        for found in _found(words)
    )


def dial_lines(words: str, cells: int) -> list[str]:
    """Whom to ring in lines of at most so many cells; a number stays whole on one of them.

    Only a number that is itself wider than a line is broken, at one of its own gaps.
    """
    pieces, done = list[str](), 0
    for found in _found(words):
        pieces += words[done : found.start()].split()
        closing = re.match(r"\S*", words[found.end() :])
        done = found.end() + (closing.end() if closing else 0)
        pieces += _kept_together(pieces, words[found.start() : done], cells)
    return wrap_words([*pieces, *words[done:].split()], cells)


def _kept_together(before: list[str], number: str, cells: int) -> list[str]:
    """The number as one piece, with its ``night`` where the line is wide enough for both."""
    together = f"{_NIGHT} {number}"
    if before[-1:] == [_NIGHT] and width_of(together) <= cells:
        before.pop()
        return [together]
    return [number] if width_of(number) <= cells else number.split()


def _found(words: str) -> Iterator[re.Match[str]]:
    for found in _NUMBER.finditer(words):
        if sum(char.isdigit() for char in found[0]) >= _FEWEST:
            yield found
