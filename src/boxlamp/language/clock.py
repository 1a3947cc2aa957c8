"""The time at the front of a line: which forms are read, and nothing else.

Forms that a person may mean in two ways are not guessed at. No free-form date reader is used:
those take ``0215`` for a year.
"""

import re
from collections.abc import Callable
from datetime import UTC, date, datetime, time, timedelta, timezone
from typing import Literal, NamedTuple

from boxlamp.language import sentences
from boxlamp.language.context import NotUnderstood
from boxlamp.language.text import shortened

# Patterns are kept as text: `re` compiles each when it is first used and remembers it, so a
# line that needs none of them does not pay for them at the start.
_FLAGS = re.IGNORECASE | re.ASCII
_ENDS = r"(?=[,;:.]?(?:\s|$)|;)"
A_TIME = r"\d{1,2}:\d{2}(?::\d{2}(?:[.,]\d+)?)?"
_TIME = r"(?P<h>\d{1,2}):(?P<m>\d{2})(?::(?P<s>\d{2})(?:[.,]\d+)?)?(?:\s*(?P<half>[ap])\.?m\.?)?"
_UNIT = r"(?:days?|d|hours?|hrs?|h|minutes?|mins?|m|seconds?|secs?|s)"

_DATED = (
    rf"(?P<day>\d{{4}}-\d\d?-\d\d?)(?:[T\s]\s*{_TIME}(?:\s?(?P<offset>Z|[+-]\d\d:?\d\d))?)?{_ENDS}"
)
_NAMED = rf"(?P<day>yesterday|today)(?:\s+{_TIME})?{_ENDS}"
_CLOCK = rf"{_TIME}{_ENDS}"
# "300 grams" is a weight, whatever clock 3:00 may be.
_NO_AMOUNT = (
    r"(?!\s*(?:g|gr|gms?|grams?|grammes?|kgs?|kilos?|ozs?|ounces?|lbs?|pounds?|mls?|cc|mm)\b)"
)
_BARE = rf"(?P<h>\d{{1,2}})(?P<m>\d\d){_NO_AMOUNT}{_ENDS}"
_HALF = rf"(?P<h>\d{{1,2}})(?P<m>\d\d)?\s*(?P<half>[ap])\.?m\.?{_ENDS}"
# A number without a unit belongs to the time when it is attached (-1h20) or alone (-5); the 2 of
# "-12m 2 limp" is a pup.
_SPAN = rf"(?:(?:\d{{1,4}}\s*{_UNIT}\s*)*\d{{1,4}}\s*{_UNIT}(?:(?<=[a-z])\d{{1,4}})?|\d{{1,4}})"
_MINUS = r"[-\u2212\u2013]"
_BACK = rf"{_MINUS}\s?(?P<span>{_SPAN}){_ENDS}"
BACK = rf"{_MINUS}{_SPAN}"
SOME_WHILE = rf"(?:half an hour|an hour|a minute|(?:\d{{1,4}}\s*{_UNIT}\s*)+)"
_AGO = rf"(?P<span>{SOME_WHILE})\s*ago{_ENDS}"
_NOW = rf"(?:just )?now{_ENDS}"
_PIECES = rf"(\d+)\s*({_UNIT})?"
# Most lines begin with a word; they need not try every form of time.
_FIRST_LETTERS = frozenset("0123456789-\u2212\u2013ythanj")
_SECONDS = {"d": 86400, "h": 3600, "m": 60, "s": 1, "": 60}
_IN_WORDS = {"half an hour": 1800, "an hour": 3600, "a minute": 60}
_FURTHEST_BACK = timedelta(days=400)
_HINTED = 80
_YEARS = range(1990, 2201)


class Spoken(NamedTuple):
    """A time as it was typed. At most one of ``instant`` and ``back`` is set."""

    text: str
    day: date | Literal["today", "yesterday"] | None = None
    clock: time | None = None
    to_the_second: bool = False
    instant: datetime | None = None
    back: timedelta | None = None
    estimated: bool = False

    @property
    def day_only(self) -> bool:
        """Whether a day was given without a time of day."""
        return self.day is not None and self.clock is None and self.instant is None


def cut_when(text: str) -> tuple[Spoken | None, str]:
    """The time at the front of a line, if there is one, and the rest of the line."""
    body = text.lstrip()
    estimated = body.startswith("~")
    body = body[estimated:].lstrip()
    for pattern, read in _FORMS if body[:1].casefold() in _FIRST_LETTERS else ():
        found = re.match(pattern, body, _FLAGS)
        if found:
            typed = body[: found.end()].strip()
            spoken = read(found, typed)._replace(estimated=estimated)
            return spoken, body[found.end() :].lstrip(" ,:.")
    if estimated:
        raise NotUnderstood(sentences.ESTIMATE_OF_WHAT, "~02:14 waters")
    return None, body


def span_seconds(text: str) -> int:
    """The seconds in ``1h20m`` or ``90 s``; a number alone is minutes."""
    in_words = _IN_WORDS.get(text.strip().casefold())
    if in_words is not None:
        return in_words
    pieces = re.findall(_PIECES, text, _FLAGS)
    return sum(int(count) * _SECONDS[unit[:1].casefold()] for count, unit in pieces)


def a_day(text: str) -> date:
    """The day written ``2026-03-02``."""
    example = "2026-03-02 02:14 waters"
    try:
        year, month, day = (int(part) for part in text.split("-"))
        found = date(year, month, day)
    except ValueError:
        raise NotUnderstood(sentences.NO_SUCH_DAY.format(text), example) from None
    if year not in _YEARS:
        raise NotUnderstood(sentences.NO_SUCH_DAY.format(text), example)
    return found


def _a_clock(found: re.Match[str]) -> tuple[time, bool]:
    parts = found.groupdict()
    hour, minute, second = (int(parts.get(name) or 0) for name in ("h", "m", "s"))
    half = (parts.get("half") or "").casefold()
    try:
        if half:
            hour = _hour_of_day(hour, half)
        return time(hour, minute, second), parts.get("s") is not None
    except ValueError:
        rest = shortened(found.string[found.end() :].lstrip(" ,:."), _HINTED)
        raise NotUnderstood(sentences.NO_SUCH_CLOCK.format(found[0].strip()), rest) from None


def _hour_of_day(hour: int, half: str) -> int:
    if hour not in range(1, 13):
        raise ValueError
    return hour % 12 + (12 if half == "p" else 0)


def _now(_found: re.Match[str], typed: str) -> Spoken:
    return Spoken(typed, back=timedelta(0))


def _dated(found: re.Match[str], typed: str) -> Spoken:
    day = a_day(found["day"])
    if found["h"] is None:
        return Spoken(typed, day)
    clock, to_the_second = _a_clock(found)
    if found["offset"] is None:
        return Spoken(typed, day, clock, to_the_second)
    instant = datetime.combine(day, clock, _offset(found["offset"])).astimezone(UTC)
    return Spoken(typed, day, clock, to_the_second, instant=instant)


def _offset(text: str) -> timezone:
    if text in "Zz":
        return UTC
    hours, minutes = int(text[1:3]), int(text[-2:])
    if hours > 23 or minutes > 59:  # noqa: PLR2004 - a clock
        raise NotUnderstood(sentences.NO_SUCH_CLOCK.format(text), "2026-03-02T02:14:00+01:00")
    ahead = timedelta(hours=hours, minutes=minutes)
    return timezone(-ahead if text[0] == "-" else ahead)


def _named(found: re.Match[str], typed: str) -> Spoken:
    day: Literal["today", "yesterday"] = (
        "today" if found["day"].casefold() == "today" else "yesterday"
    )
    if found["h"] is None:
        return Spoken(typed, day)
    return Spoken(typed, day, *_a_clock(found))


def _clock(found: re.Match[str], typed: str) -> Spoken:
    return Spoken(typed, None, *_a_clock(found))


def _ago(found: re.Match[str], typed: str) -> Spoken:
    back = timedelta(seconds=span_seconds(found["span"]))
    if back > _FURTHEST_BACK:
        raise NotUnderstood(sentences.TOO_FAR_BACK.format(typed), "2026-03-02 02:14 waters")
    return Spoken(typed, back=back)


_FORMS: tuple[tuple[str, Callable[[re.Match[str], str], Spoken]], ...] = (
    # "120 minutes ago" is no clock that shows 1:20, so it is tried before the bare figures.
    (_DATED, _dated), (_NAMED, _named), (_AGO, _ago), (_CLOCK, _clock), (_HALF, _clock),
    (_BARE, _clock), (_BACK, _ago), (_NOW, _now),
)  # fmt: skip
