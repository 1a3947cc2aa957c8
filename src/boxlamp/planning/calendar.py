"""The plan as a file for a calendar (RFC 5545), one event a line.

An event keeps its identifier as long as the litter lives, and its stamp is the time at which the
newest line was typed: a file taken in again updates what is there, and one record always gives
the same bytes. No event rings: alarms are what the board is for.
"""

import unicodedata
from collections.abc import Iterable
from datetime import datetime, timedelta
from typing import NamedTuple

from boxlamp.planning.items import PlanItem
from boxlamp.protocol.records import SEEN_WORDS, Protocol

MAKER = "-//Boxlamp//Litter calendar//EN"
"""By this line a calendar file is known as one of ours."""
_DAY = timedelta(days=1)


class Agenda(NamedTuple):
    """Everything a calendar file says: whose it is, its lines, and how new it is.

    ``newest`` is when the newest entry was typed, and ``edition`` its number: it only ever grows.
    """

    litter: str
    dam: str
    items: tuple[PlanItem, ...]
    newest: datetime
    edition: int
    protocol: Protocol
    caution: str = ""
    """What stands below every event."""


def calendar_file(agenda: Agenda) -> bytes:
    """The file. Dates are whole days; nothing in it depends on the day on which it is made."""
    # Loaded only when a calendar is asked for.
    from icalendar import Calendar, Event

    name = _plain(f"{agenda.dam}: whelping")
    calendar = Calendar()
    for key, value in (
        ("PRODID", MAKER), ("VERSION", "2.0"), ("CALSCALE", "GREGORIAN"), ("METHOD", "PUBLISH"),
        ("X-WR-CALNAME", name),
    ):  # fmt: skip
        calendar.add(key, value)
    for item in agenda.items:
        event = Event()
        event.add("UID", f"{_plain(agenda.litter)}.{item.id}@boxlamp")
        event.add("SUMMARY", _plain(f"{agenda.dam}: {item.title}"))
        event.add("DTSTART", item.first)
        event.add("DTEND", item.last + _DAY)
        event.add("DESCRIPTION", _plain("\n".join(_said(item, agenda)), keep="\n"))
        event.add("STATUS", "CANCELLED" if item.state == "off" else "CONFIRMED")
        event.add("TRANSP", "TRANSPARENT")
        event.add("SEQUENCE", agenda.edition)
        event.add("DTSTAMP", agenda.newest)
        event.add("LAST-MODIFIED", agenda.newest)
        calendar.add_component(event)
    return bytes(calendar.to_ical())


def is_ours(content: bytes) -> bool:
    """Whether a file is a calendar that was made here, so that a newer one may replace it."""
    lines = content[:1000].splitlines()
    return lines[:1] == [b"BEGIN:VCALENDAR"] and f"PRODID:{MAKER}".encode() in lines


def _said(item: PlanItem, agenda: Agenda) -> Iterable[str]:
    yield item.note
    yield f"{item.record.says} [{SEEN_WORDS[item.record.seen]}]"
    if item.record.source:
        yield f"Source: {agenda.protocol.sources[item.record.source].title}"
    if agenda.caution:
        yield agenda.caution


def _plain(text: str, keep: str = "") -> str:
    """The text without control characters: a name may be anything, a calendar is read by others."""
    return "".join(" " if _acts(char) and char not in keep else char for char in text)


def _acts(char: str) -> bool:
    """Whether a character does something to a line instead of standing in it."""
    category = unicodedata.category(char)
    return category[0] == "C" or category in {"Zl", "Zp"}
