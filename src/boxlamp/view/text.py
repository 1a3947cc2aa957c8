"""Small tools for setting text: cell widths, safe characters, times of day."""

import unicodedata
from collections.abc import Iterable
from datetime import date, datetime, timedelta, tzinfo
from functools import lru_cache

REPLACEMENT = "\N{REPLACEMENT CHARACTER}"
_YESTERDAY = timedelta(days=1)
_ACTING = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})
_JOINER = "\N{ZERO WIDTH JOINER}"
_VARIATION = "\N{VARIATION SELECTOR-16}"


def clean(text: str) -> str:
    """The text without anything that could move a cursor or turn a line round.

    Control characters, format characters (bidirectional overrides among them) and lone
    surrogates are replaced visibly; line breaks and tabs become spaces. Of pictures that were
    joined into one each stands by itself: terminals do not agree how wide the joined one is.
    """
    parted = _parted(text) if _JOINER in text else text
    return "".join(
        " " if char in "\n\r\t" else REPLACEMENT if unicodedata.category(char) in _ACTING else char
        for char in parted
    )


def _parted(text: str) -> str:
    """The text without the joiners between two pictures."""
    return "".join(
        char
        for place, char in enumerate(text)
        if char != _JOINER or not (_picture(text[:place][-1:]) and _picture(text[place + 1 :][:1]))
    )


def _picture(char: str) -> bool:
    return bool(char) and (char == _VARIATION or unicodedata.category(char) in {"So", "Sk"})


def escaped(text: str) -> str:
    """JSON in which the same characters stand escaped: it reads back unchanged.

    JSON itself only asks for that below U+0020; a terminal also obeys some that come after.
    """
    if text.isprintable():
        return text
    import json  # only an answer in JSON needs it

    return "".join(
        json.dumps(char)[1:-1] if unicodedata.category(char) in _ACTING else char for char in text
    )


def width_of(text: str) -> int:
    """How many cells the text takes on a terminal."""
    if text.isascii():
        return len(text)
    # Loaded only when there is something wider than ASCII to set.
    from wcwidth import wcswidth

    return max(0, wcswidth(text))


def fit(text: str, cells: int) -> str:
    """The text cut or padded to exactly so many cells. A cut is shown by a trailing ``~``."""
    width = width_of(text)
    if width <= cells:
        return text + " " * (cells - width)
    kept = ""
    for char in text:
        # Measured together: some signs change the width of the one before them.
        if width_of(kept + char) > cells - 1:
            break
        kept += char
    return kept + "~" + " " * (cells - 1 - width_of(kept)) if cells > 0 else ""


def wrap(text: str, cells: int) -> list[str]:
    """The text in lines of at most so many cells, broken at spaces; nothing is ever dropped."""
    return [*_wrapped(text, cells)]


@lru_cache(maxsize=500)
def _wrapped(text: str, cells: int) -> tuple[str, ...]:
    # The board says nearly the same every second: a few hundred texts at most.
    return tuple(wrap_words(text.split(), cells))


def wrap_indented(text: str, cells: int) -> list[str]:
    """The same with the blanks at the beginning of the text before each line."""
    indent = len(text) - len(text.lstrip())
    return [" " * indent + line for line in wrap(text, max(10, cells - indent))]


def wrap_words(words: Iterable[str], cells: int) -> list[str]:
    """The same for words already parted; one that holds a space is kept together."""
    lines, line = list[str](), ""
    for word in words:
        for piece in _pieces(word, cells):
            if line and width_of(line) + 1 + width_of(piece) > cells:
                lines.append(line)
                line = piece
            else:
                line = f"{line} {piece}" if line else piece
    return [*lines, line] if line or not lines else lines


def _pieces(word: str, cells: int) -> list[str]:
    """A word that is wider than a line, in pieces that are not."""
    if width_of(word) <= cells:
        return [word]
    pieces, piece = list[str](), ""
    for char in word:
        if piece and width_of(piece + char) > cells:
            pieces.append(piece)
            piece = ""
        piece += char
    return [*pieces, piece]


def clock_text(at: datetime, now: datetime, zone: tzinfo, *, seconds: bool = False) -> str:
    """A time of day as read off the wall clock, with the day when it is not today's.

    ``02:14``; ``yesterday 23:50``; ``tomorrow 00:20``; ``Sun 1 Mar 23:50`` further away.
    """
    local, today = at.astimezone(zone), now.astimezone(zone).date()
    time = local.strftime("%H:%M:%S" if seconds else "%H:%M")
    if local.date() == today:
        return time
    if local.date() == today - _YESTERDAY:
        return f"yesterday {time}"
    if local.date() == today + _YESTERDAY:
        return f"tomorrow {time}"
    year = "" if local.year == today.year else f" {local.year}"
    return f"{_DAYS[local.weekday()]} {day_text(at, zone)}{year} {time}"


def day_text(at: datetime, zone: tzinfo) -> str:
    """The day of a moment without its year: ``1 Mar``."""
    local = at.astimezone(zone)
    return f"{local.day} {_MONTHS[local.month - 1]}"


def date_text(day: date, *, year: bool = False) -> str:
    """A calendar day: ``Thu 5 Mar``, with its year when that is asked for."""
    text = f"{_DAYS[day.weekday()]} {day.day} {_MONTHS[day.month - 1]}"
    return f"{text} {day.year}" if year else text


def dates_text(first: date, last: date) -> str:
    """A stretch of days without their names: ``4-6 Mar``, ``27 Feb-2 Mar``, ``5 Mar``."""
    end = f"{last.day} {_MONTHS[last.month - 1]}"
    if first == last:
        return end
    if (first.year, first.month) == (last.year, last.month):
        return f"{first.day}-{end}"
    return f"{first.day} {_MONTHS[first.month - 1]}-{end}"


def away_text(day: date, today: date) -> str:
    """How far off a day is: ``today``, ``tomorrow``, ``in 12 days``, ``3 days ago``."""
    days = (day - today).days
    near = {0: "today", 1: "tomorrow", -1: "yesterday"}
    if days in near:
        return near[days]
    return f"in {days} days" if days > 0 else f"{-days} days ago"


_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def counted(number: int, one: str, many: str) -> str:
    """``1 litter``, ``2 litters``."""
    return f"{number} {one if number == 1 else many}"
