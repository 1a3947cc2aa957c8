"""Dates as people write them: a month by name is read; an order of figures is never guessed."""

import re
from datetime import date

from boxlamp.language import sentences
from boxlamp.language.clock import A_DOTTED
from boxlamp.language.context import Context, NotUnderstood
from boxlamp.language.zones import wall_of
from boxlamp.model.zones import zone_named

_FLAGS = re.IGNORECASE | re.ASCII
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_MONTH = (
    r"(?P<month>january|february|march|april|may|june|july|august|september|october|november"
    r"|december|jan|feb|mar|apr|jun|jul|aug|sept?|oct|nov|dec)\.?"
)
_NUMBER = r"(?P<day>\d{1,2})(?:st|nd|rd|th)?"
_YEAR = r"(?:,?\s+(?P<year>\d{4}))?"
_ENDS = r"(?=[\s,;]|\Z)"
_NAMED = (
    rf"(?<!\S){_NUMBER}\s+(?:of\s+)?{_MONTH}{_YEAR}{_ENDS}",
    rf"(?<!\S){_MONTH}\s+{_NUMBER}{_YEAR}{_ENDS}",
)
_FIGURES = rf"(?<!\S)(\d{{1,2}})([/.])(\d{{1,2}})\2(\d{{4}}|\d\d)?{_ENDS}"
_SLASHED = rf"(?<!\S)(\d{{1,2}})/(\d{{1,2}}){_ENDS}"
_DAY_BEFORE_A_CLOCK = rf"(\d{{1,2}})([/.])(\d{{1,2}})()\.?(?=\s+\d{{1,2}}[:.]\d\d{_ENDS})"
_MONTHS_OF_A_YEAR = len(_MONTHS)
_CENTURY = 2000


def with_plain_dates(text: str, context: Context, *, anywhere: bool) -> str:
    """The line with a date written by the name of its month turned into year-month-day.

    Unless ``anywhere``, only a date that begins the line is looked for.
    """
    if not any(letter.isdigit() for letter in text[: None if anywhere else 20]):
        return text
    look = re.search if anywhere else re.match
    for pattern in _NAMED:
        found = look(pattern, text, _FLAGS)
        if found:
            day = _named(found, context).isoformat()
            return f"{text[: found.start()]}{day}{text[found.end() :]}"
    figures = look(_FIGURES, text, _FLAGS)
    if figures and not figures[4] and figures[2] == "." and int(figures[3]) > _MONTHS_OF_A_YEAR:
        return text  # 1.30. is a clock
    figures = figures or look(_SLASHED if anywhere else _DAY_BEFORE_A_CLOCK, text, _FLAGS)
    if figures:
        _refuse(figures, text, context)
    return text


def _named(found: re.Match[str], context: Context) -> date:
    month = _MONTHS.index(found["month"][:3].casefold()) + 1
    today = wall_of(context.now, zone_named(context.zone)).date()
    try:
        if found["year"]:
            return date(int(found["year"]), month, int(found["day"]))
        day = date(today.year, month, int(found["day"]))
        return day if day <= today else date(today.year - 1, month, int(found["day"]))
    except ValueError:
        raise NotUnderstood(sentences.NO_SUCH_DAY.format(found[0]), "mated 2026-03-02") from None


def _refuse(found: re.Match[str], text: str, context: Context) -> None:
    """Say how the date is written: one way when only one can be meant, else both."""
    parts = found.groups()
    first, second = int(parts[0]), int(parts[2] if len(parts) > 2 else parts[1])  # noqa: PLR2004
    year = int(parts[3]) if len(parts) > 2 and parts[3] else context.now.year  # noqa: PLR2004
    year += 0 if year > 99 else _CENTURY  # noqa: PLR2004 - a year of two figures
    days = []
    for month, day in dict.fromkeys(((second, first), (first, second))):
        try:
            days.append(date(year, month, day).isoformat())
        except ValueError:
            continue
    if not days:
        raise NotUnderstood(sentences.NO_SUCH_DAY.format(found[0]), "mated 2026-03-02")
    if parts[1] == "." and not parts[-1] and re.match(rf"{A_DOTTED}\.", text, re.ASCII):
        days.append(f"{first}:{parts[2]}")
    lines = [f"{text[: found.start()]}{day}{text[found.end() :]}".strip() for day in days]
    raise NotUnderstood(sentences.A_DATE, " or ".join(lines), recorded=True)
