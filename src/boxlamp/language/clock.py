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
_LONG_UNIT = r"(?:days?|hours?|hrs?|minutes?|mins?|seconds?|secs?)"
_COUNTS = {
    "a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7,
    "eight": 8, "nine": 9, "ten": 10, "eleven": 11, "twelve": 12, "fifteen": 15, "twenty": 20,
    "twenty five": 25, "twenty-five": 25, "thirty": 30, "forty": 40, "forty five": 45,
    "forty-five": 45, "fifty": 50,
}  # fmt: skip
_COUNTED = rf"(?:{'|'.join(sorted(_COUNTS, key=len, reverse=True))})"
_IN_WORDS = {
    "half an hour": 1800, "half a hour": 1800, "half hour": 1800, "quarter of an hour": 900,
    "a quarter of an hour": 900, "three quarters of an hour": 2700, "an hour and a half": 5400,
}  # fmt: skip

_DATED = (
    rf"(?P<day>\d{{4}}-\d\d?-\d\d?)(?:[T\s]\s*{_TIME}(?:\s?(?P<offset>Z|[+-]\d\d:?\d\d))?)?{_ENDS}"
)
_NAMED = rf"(?P<day>yesterday|today)(?:\s+{_TIME})?{_ENDS}"
_HOUR = r"(?:2[0-3]|[01]?\d)"
_CLOCK = rf"{_TIME}{_ENDS}"
# "300 grams" is a weight, whatever clock 3:00 may be.
_NO_AMOUNT = (
    r"(?!\s*(?:g|gr|gms?|grams?|grammes?|kgs?|kilos?|ozs?|ounces?|lbs?|pounds?|mls?|cc|mm)\b)"
)
_BARE = rf"(?P<h>\d{{1,2}})(?P<m>\d\d){_NO_AMOUNT}{_ENDS}"
# 1.30 is how a clock is written in much of Europe; 37.1 and 37.20 are none, nor is 1.30 kg.
A_DOTTED = rf"{_HOUR}\.[0-5]\d"
_DOTTED = rf"(?P<h>{_HOUR})\.(?P<m>[0-5]\d)(?:\s*(?P<half>[ap])\.?m\.?)?{_NO_AMOUNT}{_ENDS}"
_DAY_AND_CLOCK = (
    rf"(?P<day>yesterday|today|\d{{4}}-\d\d?-\d\d?)\s+(?:at\s+)?(?P<h>{_HOUR})"
    rf"(?=[:.]?\d\d|\s*[ap]\.?m)(?:[:.]?(?P<m>[0-5]\d))?(?:\s*(?P<half>[ap])\.?m\.?)?"
    rf"{_NO_AMOUNT}{_ENDS}"
)
_HALF = rf"(?P<h>\d{{1,2}})(?P<m>\d\d)?\s*(?P<half>[ap])\.?m\.?{_ENDS}"
# A number without a unit belongs to the time when it is attached (-1h20) or alone (-5); the 2 of
# "-12m 2 limp" is a pup.
_SPAN = rf"(?:(?:\d{{1,4}}\s*{_UNIT}\s*)*\d{{1,4}}\s*{_UNIT}(?:(?<=[a-z])\d{{1,4}})?|\d{{1,4}})"
_MINUS = r"[-\u2212\u2013]"
_BACK = rf"{_MINUS}\s?(?P<span>{_SPAN}){_ENDS}"
BACK = rf"{_MINUS}{_SPAN}"
SOME_WHILE = (
    rf"(?:{'|'.join(sorted(_IN_WORDS, key=len, reverse=True))}|\d{{1,2}}h[0-5]\d(?!\d)"
    rf"|(?:(?:and\s+)?(?:\d{{1,4}}\s*{_UNIT}|{_COUNTED}\s+{_LONG_UNIT})\s*)+)"
)
# "Half past 1" is of either half of the day; the last that has been is meant.
_PAST = rf"(?:half|(?:a\s+)?quarter|(?:{_COUNTED}|\d{{1,2}})(?:\s+(?:minutes|mins?))?)\s+past"
_TO = rf"(?:(?:a\s+)?quarter|{_COUNTED}|(?:{_COUNTED}|\d{{1,2}})\s+(?:minutes|mins?))\s+to"
SPOKEN_CLOCK = rf"(?:{_PAST}|{_TO})\s+(?:{_COUNTED}|\d{{1,2}})(?:\s*[ap]\.?m\.?)?"
_SPOKEN = rf"{SPOKEN_CLOCK}{_ENDS}"
_SPOKEN_PIECES = (
    r"(?:a\s+)?(?P<part>\S+(?:\s+five)?)(?:\s+min\w*)?\s+(?P<way>past|to)\s+"
    r"(?P<h>\d+|[a-z]+)(?:\s*(?P<half>[ap])\.?m\.?)?\Z"
)
_AGO = rf"(?P<span>{SOME_WHILE})\s*ago{_ENDS}"
_NOW = rf"(?:just )?now{_ENDS}"
_PIECES = rf"(\d+)\s*({_UNIT})?"
# Most lines begin with a word; they need not try every form of time.
_FIRST_LETTERS = frozenset("0123456789-\u2212\u2013")
_FIRST_WORDS = frozenset(
    ("yesterday", "today", "half", "quarter", "just", "now", "at")
) | frozenset(word for count in _COUNTS for word in re.split("[ -]", count))
# What is no time of this grammar but surely meant as one.
_MISWRITTEN = (
    rf"(?P<h>{_HOUR})\s?[-,;'_h]\s?(?P<m>[0-5]\d)(?:\s*(?P<half>[ap])\.?m\.?)?{_NO_AMOUNT}"
    r"(?:[:.]?\s+)(?!of\b)(?P<rest>\S.*)"  # 1h20 of pushing
)
_MINUTES_TO = r"(?P<m>5|10|20|25)\s+to\s+(?P<h>1[0-2]|[1-9])[,:.]?\s+(?P<rest>\S.*)"
_LIKE_ONE = r"\d{1,2}\s?[-.,:;'_h]\s?\d\d\b|\d{1,2}\s+(?:to|past)\b|half\b|(?:a )?quarter\b"
_HALF_WHAT = r"half\s+(?P<h>1[0-2]|[1-9])[,:.]?\s+(?P<rest>\S.*)"
_SECONDS = {"d": 86400, "h": 3600, "m": 60, "s": 1, "": 60}
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
    either_half: bool = False
    """Whether the clock time may be twelve hours later: ``half past 1``."""

    @property
    def day_only(self) -> bool:
        """Whether a day was given without a time of day."""
        return self.day is not None and self.clock is None and self.instant is None

    @property
    def typed(self) -> str:
        """The time as a line is written with it: an estimate keeps its mark."""
        return f"~{self.text}" if self.estimated else self.text

    @property
    def maybe_a_date(self) -> bool:
        """Whether ``11.12`` may be a day and a month, in a line that may be about a day."""
        return self.day is None and re.match(rf"{A_DOTTED}\Z", self.text) is not None


def cut_when(text: str) -> tuple[Spoken | None, str]:
    """The time at the front of a line, if there is one, and the rest of the line."""
    body = text.lstrip()
    estimated = body.startswith("~")
    body = body[estimated:].lstrip()
    forms = _FORMS if _may_begin_a_time(body) else ()
    if forms and body[:3].casefold() == "at ":
        body = body[3:].lstrip()
    for pattern, read in forms:
        found = re.match(pattern, body, _FLAGS)
        if found:
            typed = body[: found.end()].strip()
            spoken = read(found, typed)._replace(estimated=estimated)
            return spoken, body[found.end() :].lstrip(" ,:.")
    if estimated:
        raise NotUnderstood(sentences.ESTIMATE_OF_WHAT, "~02:14 waters")
    return None, text.lstrip()


def _may_begin_a_time(body: str) -> bool:
    first = body[:12].split(" ", 1)[0]
    return first[:1] in _FIRST_LETTERS or re.split("[ ,:.-]", first)[0].casefold() in _FIRST_WORDS


def refuse_miswritten(text: str) -> None:
    """Refuse ``2-35 pup`` and ``half 2 pup``, and keep their time in the line that is offered."""
    found = re.match(_MISWRITTEN, text, _FLAGS)
    if found:
        rest = shortened(found["rest"], _HINTED)
        typed = text[: found.start("rest")].strip()
        half = f" {found['half']}m" if found["half"] else ""
        ago = f" or {typed}m ago {rest}" if "h" in typed.casefold() else ""
        clock = f"{found['h']}:{found['m']}{half} {rest}{ago}"
        raise NotUnderstood(sentences.A_CLOCK.format(typed), clock, recorded=True)
    found = re.match(_MINUTES_TO, text, _FLAGS)
    if found and int(found["m"]) > int(found["h"]):  # 5 to 8 may be pups
        typed, rest = text[: found.end("h")], shortened(found["rest"], _HINTED)
        clock = f"{found['m']} minutes to {found['h']} {rest}"
        raise NotUnderstood(sentences.A_CLOCK.format(typed), clock, recorded=True)
    found = re.match(_HALF_WHAT, text, _FLAGS)
    if found:
        rest, hour = shortened(found["rest"], _HINTED), int(found["h"])
        before = (hour - 2) % 12 + 1
        lines = f"half past {before} {rest} or half past {hour} {rest}"
        raise NotUnderstood(sentences.HALF_WHAT.format(hour), lines, recorded=True)


def begins_like_a_time(text: str) -> bool:
    """Whether a line whose time could not be read began with something like one."""
    return re.match(_LIKE_ONE, text, _FLAGS) is not None


def span_seconds(text: str) -> int:
    """The seconds in ``1h20m`` or ``90 s``; a number alone is minutes."""
    in_words = _IN_WORDS.get(text.strip().casefold())
    if in_words is not None:
        return in_words
    text = re.sub(rf"\b{_COUNTED}\b", lambda one: str(_COUNTS[one[0].casefold()]), text,
                  flags=_FLAGS)  # fmt: skip
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


def _named_day(word: str) -> Literal["today", "yesterday"]:
    return "today" if word.casefold() == "today" else "yesterday"


def _named(found: re.Match[str], typed: str) -> Spoken:
    day = _named_day(found["day"])
    if found["h"] is None:
        return Spoken(typed, day)
    return Spoken(typed, day, *_a_clock(found))


def _clock(found: re.Match[str], typed: str) -> Spoken:
    return Spoken(typed, None, *_a_clock(found))


def _day_and_clock(found: re.Match[str], typed: str) -> Spoken:
    named = found["day"].casefold()
    day = a_day(named) if named[0].isdigit() else _named_day(named)
    return Spoken(typed, day, *_a_clock(found))


def _spoken(found: re.Match[str], typed: str) -> Spoken:
    """``half past 1``, ``quarter to three``, ``10 past 2 pm``."""
    pieces = re.match(_SPOKEN_PIECES, " ".join(typed.casefold().split()), _FLAGS)
    if pieces is None:  # pragma: no cover - whatever has this form has these pieces
        raise NotUnderstood(sentences.NO_SUCH_CLOCK.format(typed))
    part = {"half": 30, "quarter": 15}.get(pieces["part"]) or _count(pieces["part"])
    hour, half = _count(pieces["h"]), pieces["half"]
    try:
        minutes = time(_hour_of_day(hour, half) if half else hour, part).hour * 60
    except ValueError:
        rest = shortened(found.string[found.end() :].lstrip(" ,:."), _HINTED)
        raise NotUnderstood(sentences.NO_SUCH_CLOCK.format(typed), rest) from None
    minutes = (minutes + (part if pieces["way"] == "past" else -part)) % 1440
    either = not half and hour in range(1, 13)
    return Spoken(typed, None, time(*divmod(minutes, 60)), either_half=either)


def _count(word: str) -> int:
    return int(word) if word.isdigit() else _COUNTS[word]


def _ago(found: re.Match[str], typed: str) -> Spoken:
    back = timedelta(seconds=span_seconds(found["span"]))
    if back > _FURTHEST_BACK:
        raise NotUnderstood(sentences.TOO_FAR_BACK.format(typed), "2026-03-02 02:14 waters")
    return Spoken(typed, back=back)


_FORMS: tuple[tuple[str, Callable[[re.Match[str], str], Spoken]], ...] = (
    # "120 minutes ago" is no clock that shows 1:20, so it is tried before the bare figures.
    (_DAY_AND_CLOCK, _day_and_clock), (_DATED, _dated), (_NAMED, _named), (_AGO, _ago),
    (_SPOKEN, _spoken), (_CLOCK, _clock), (_DOTTED, _clock), (_HALF, _clock), (_BARE, _clock),
    (_BACK, _ago), (_NOW, _now),
)  # fmt: skip
