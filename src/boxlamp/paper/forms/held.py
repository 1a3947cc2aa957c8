"""Telephone numbers kept on one line: one that is broken in two is dialled in half."""

import re
from collections.abc import Callable

_HELD = "\ue000"
"""Stands for a blank at which no line ends; no cleaned text has it of its own."""
_NUMBER = re.compile(
    r"(?<![\w.,:/-])(?:\+|\(?0|\(\d|\d{3}(?=[ .-]\d{3}[ .-]\d{3}))[\d ()./-]*\d(?![\w:])"
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


def loosed(text: str) -> str:
    """The text with its blanks as they were."""
    return text.replace(_HELD, " ")
