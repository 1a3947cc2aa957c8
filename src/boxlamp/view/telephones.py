"""Telephone numbers: which to ring at this hour, and lines that never break one."""

import re
from collections.abc import Iterable, Iterator
from datetime import datetime, tzinfo

from boxlamp.view.text import width_of, wrap_words

# Our choice: what has fewer figures is an extension, a room, or minutes.
_FEWEST = 5
_NUMBER = re.compile(r"\+?\(?\d(?:[\s().\-/]{0,2}\d)+")
_NIGHT, _DAY = "night", "day"
"""What stands before the number to ring at night, or by day; the two are read together."""
# Our choice: in these hours a practice is closed, and what can wait waits for the day.
_EVENING, _MORNING = 19, 7


def at_night(now: datetime, zone: tzinfo) -> bool:
    """Whether it is so late or early that whoever rings wants the number of the night."""
    hour = now.astimezone(zone).hour
    return hour >= _EVENING or hour < _MORNING


def in_order(
    day: str | None, night: str | None, now: datetime, zone: tzinfo
) -> list[tuple[str, str]]:
    """The numbers there are, each with what to call it: first the one to ring at this hour."""
    if day and night and at_night(now, zone):
        return [(f"{_NIGHT} ", night), (f"{_DAY} ", day)]
    return [(label, number) for label, number in (("", day), (f"{_NIGHT} ", night)) if number]


def without_numbers(name: str, numbers: Iterable[str]) -> str:
    """A name without the telephone numbers in it that stand beside it anyway."""
    beside = {_digits(found) for number in numbers for found in telephones(number)}
    left = name
    for found in telephones(name):
        if _digits(found) in beside:
            left = re.sub(rf"{re.escape(found)}\)?", " ", left, count=1)
    return name if left == name else " ".join(left.split()).replace(" ,", ",").strip(" ,;:/-")


def _digits(number: str) -> str:
    return "".join(char for char in number if char.isdigit())


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
    """The number as one piece, with its ``night`` or ``day`` where a line holds both."""
    called = before[-1] if before and before[-1] in {_NIGHT, _DAY} else ""
    together = f"{called} {number}".strip()
    if called and width_of(together) <= cells:
        before.pop()
        return [together]
    return [number] if width_of(number) <= cells else number.split()


def _found(words: str) -> Iterator[re.Match[str]]:
    for found in _NUMBER.finditer(words):
        if sum(char.isdigit() for char in found[0]) >= _FEWEST:
            yield found
