"""Cells of a CSV table: numbers stay numbers, times carry their offset, text is never a formula."""

import re
import unicodedata
from collections.abc import Iterable
from datetime import datetime, timedelta, tzinfo
from decimal import Decimal

from boxlamp.model.quantities import plain
from boxlamp.view.text import clean

Single = str | bool | int | Decimal | datetime | timedelta | None
Value = Single | Iterable[Single]
"""What a cell may hold; of several values each is written, ``; `` between them."""

BETWEEN = "; "

_SIGNS = ("=", "+", "-", "@")
_QUOTES = "\"'`\u00b4\u2018\u2019\u201a\u201c\u201d\u201e\u00ab\u00bb\u2039\u203a"
_MINUS = "\u2212"


def cell(value: Value, zone: tzinfo) -> str:
    """A value as the text of its cell. Unknown is empty; a length of time is whole seconds."""
    match value:
        case None:
            text = ""
        case bool():
            text = "true" if value else "false"
        case datetime():
            text = value.astimezone(zone).isoformat()
        case timedelta():
            text = str(int(value.total_seconds()))
        case Decimal():
            text = plain(value)
        case int():
            text = str(value)
        case str():
            text = harmless(value)
        case _:
            text = BETWEEN.join(cell(one, zone) for one in value)
    return text


def harmless(text: str) -> str:
    """Text that no spreadsheet takes for a formula, on one line, with nothing unseen in it.

    What looks like the start of a formula gets a ``'`` before it. So does what follows a
    semicolon, because where a comma is the decimal sign a spreadsheet parts cells there.
    """
    return "".join(
        f"'{part}" if starts_formula(part) else part for part in re.split("(;)", clean(text))
    )


def starts_formula(text: str) -> bool:
    """Whether a cell that begins so might be computed: also behind blanks and quotes.

    Full-width and other spellings of the signs count, since some programs fold them.
    """
    folded = unicodedata.normalize("NFKC", text).replace(_MINUS, "-")
    return re.sub(rf"^[\s{re.escape(_QUOTES)}]+", "", folded).startswith(_SIGNS)
