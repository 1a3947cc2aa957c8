"""What is kept on one line: a telephone number broken in two is dialled in half.

A day broken from its month, or a number from its unit, is only hard to read, so it is kept
together where lines are set by hand: in plain text.
"""

import re
from collections.abc import Callable

_HELD = "\ue000"
"""Stands for a blank at which no line ends; no cleaned text has it of its own."""
_NUMBER = re.compile(
    r"(?<![\w.,:/-])(?:\+|\(?0|\(\d|\d{3}(?=[ .-]\d{3}[ .-]\d{3}))[\d ()./-]*\d(?![\w:])"
)
_MEASURE = re.compile(
    r"(?<=\d) (?=(?:Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec|am|pm"
    r"|g|kg|oz|lb|mm|°C|°F|%|s|min|h|d)(?!\w))"
)
# Our choice: fewer digits are a time or an extension, more are several numbers in a row.
_FEWEST, _MOST = 7, 15


def held(text: str, fits: Callable[[str], bool]) -> str:
    """The text with the blanks held inside every telephone number that fits on a line."""

    def whole(found: re.Match[str]) -> str:
        digits = sum(char.isdigit() for char in found[0])
        kept = _FEWEST <= digits <= _MOST and fits(found[0])
        return found[0].replace(" ", _HELD) if kept else found[0]

    return _NUMBER.sub(whole, text)


def together(text: str) -> str:
    """The text with the blanks held between a day and its month, a number and its unit."""
    return _MEASURE.sub(_HELD, text)


def loosed(text: str) -> str:
    """The text with its blanks as they were."""
    return text.replace(_HELD, " ")
