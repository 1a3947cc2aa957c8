"""The dam's temperatures as a small curve: before labour against her own mean, and after it.

The numbers come from the protocol; what counts as low is judged by the rule that watches it.
"""

from collections.abc import Sequence
from datetime import datetime, tzinfo
from decimal import ROUND_DOWN, Decimal
from typing import NamedTuple

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Caesarean, Finished, Temperature
from boxlamp.model.litter import Litter
from boxlamp.model.quantities import rounded
from boxlamp.model.spans import in_words
from boxlamp.model.story import Story
from boxlamp.protocol.book import Book
from boxlamp.rules.spell import span
from boxlamp.rules.temperature_drop import OWNER, Readings, course
from boxlamp.rules.temperature_due import ID as DUE
from boxlamp.view.text import clock_text, day_text, wrap

_CELL = 7
_LEAST = 2
_FINE, _PLAIN = "▁▂▃▄▅▆▇█", "_.:-=+%#"
_LEAST_RANGE = Decimal(1)
_TENTH = Decimal("0.1")


class Reading(NamedTuple):
    """One reading of the dam, to the tenth, and whether it counts as low."""

    day: str
    time: str
    celsius: Decimal
    low: bool


class Temperatures(NamedTuple):
    """Her readings, oldest first, and one sentence about them."""

    readings: tuple[Reading, ...]
    sentence: str


def temperatures(
    story: Story, litter: Litter, book: Book, now: datetime, zone: tzinfo
) -> Temperatures | None:
    """What there is to draw: before labour, or in the first weeks after it; else nothing."""
    if litter.phase == "labour":
        return None
    end = story.last(Birth, Caesarean) or story.last(Finished)
    if end is None:
        return _before(story, book, now, zone)
    until = span(book, DUE, "until")
    return _after(story, end.at, now, zone) if now - end.at <= until else None


def _before(story: Story, book: Book, now: datetime, zone: tzinfo) -> Temperatures | None:
    gathered = Readings(book)
    low = {step.entry.id for step in course(story, book, gathered) if step.low}
    found = _of_dam(story)
    if len(found) < _LEAST:
        return None
    newest = found[-1]
    last = f"Her temperature: {_shown(newest)} at {clock_text(newest.at, now, zone)}"
    sentence = f"{last}; {_usual(gathered, book)}."
    return Temperatures(_readings(found, low, zone), sentence)


def _usual(gathered: Readings, book: Book) -> str:
    """``her own mean 38.1 (9 readings, 4 d); a drop is 37.2 or less (1.0 under ...)``."""
    limit = next(
        band.value for band in book.protocol.bands[OWNER, "low"] if band.when == "at or below"
    )
    count, over = len(gathered.ordinary), in_words(gathered.spread_over)
    if gathered.mean is None:
        days = in_words(span(book, OWNER, "mean-days"))
        return (
            f"a drop is {limit:.1f} or less; her own mean needs readings over {days} "
            f"(so far {count} over {over})"
        )
    drop = book.number(OWNER, "drop")
    own = (gathered.mean - drop).quantize(_TENTH, ROUND_DOWN)
    said = f"her own mean {rounded(gathered.mean):.1f} ({count} readings, {over}); a drop is"
    if own > limit:
        return f"{said} {own:.1f} or less for her ({limit:.1f} for any dam)"
    return f"{said} {limit:.1f} or less ({drop:.1f} under her mean is {own:.1f})"


def _after(story: Story, end: datetime, now: datetime, zone: tzinfo) -> Temperatures | None:
    found = [entry for entry in _of_dam(story) if entry.at >= end]
    if len(found) < _LEAST:
        return None
    newest = found[-1]
    highest = max(_value(entry) for entry in found)
    sentence = (
        f"Her temperature: {_shown(newest)} at {clock_text(newest.at, now, zone)}; "
        f"highest since the last pup {highest:.1f} ({len(found)} readings)."
    )
    return Temperatures(_readings(found, set(), zone), sentence)


def temperature_lines(
    drawn: Temperatures, width: int, *, fine: bool = True
) -> list[list[tuple[str, str]]]:
    """Day, time, value and a bar for as many of the latest readings as there is room for."""
    room = max(1, width // _CELL)
    shown = drawn.readings[-room:]
    days = [
        one.day if not place or one.day != shown[place - 1].day else ""
        for place, one in enumerate(shown)
    ]
    rows = (
        ("dim", days),
        ("dim", [one.time for one in shown]),
        ("text", [f"{one.celsius:.1f}{'*' if one.low else ''}" for one in shown]),
        ("text", _bars(shown, _FINE if fine else _PLAIN)),
    )
    lines = [[(role, "".join(f"{cell:<{_CELL}}" for cell in row).rstrip())] for role, row in rows]
    star = "* low. " if any(one.low for one in shown) else ""
    return lines + [[("text", part)] for part in wrap(f"{star}{drawn.sentence}", width)]


def _bars(shown: Sequence[Reading], ladder: str) -> list[str]:
    """A sign for each reading, higher for a higher one; a flat course is not blown up."""
    least = min(one.celsius for one in shown)
    most = max(least + _LEAST_RANGE, *(one.celsius for one in shown))
    step = (most - least) / (len(ladder) - 1)
    return [ladder[round((one.celsius - least) / step)] * 4 for one in shown]


def _readings(found: Sequence[Entry], low: set[int], zone: tzinfo) -> tuple[Reading, ...]:
    return tuple(
        Reading(
            day_text(entry.at, zone),
            f"{entry.at.astimezone(zone):%H:%M}",
            _value(entry),
            entry.id in low,
        )
        for entry in found
    )


def _of_dam(story: Story) -> list[Entry]:
    return [entry for entry in story.of(Temperature) if _is_dam(entry)]


def _is_dam(entry: Entry) -> bool:
    return isinstance(entry.what, Temperature) and entry.what.where == "dam"


def _value(entry: Entry) -> Decimal:
    """The reading to the tenth, as thermometers show it and as the rule reads it."""
    return rounded(entry.what.celsius) if isinstance(entry.what, Temperature) else Decimal(0)


def _shown(entry: Entry) -> str:
    return f"{_value(entry):.1f} °C"
