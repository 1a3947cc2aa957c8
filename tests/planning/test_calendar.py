"""The calendar file read back by another library: every event, its days, its words."""

from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from icalendar import Calendar, Event

from boxlamp.engine import assess
from boxlamp.model.entry import Entry
from boxlamp.model.story import Story
from boxlamp.planning.calendar import MAKER, Agenda, calendar_file, is_ours
from boxlamp.planning.outlook import Outlook, outlook
from support.happenings import HOSTILE, records
from support.nights import DEFAULT
from support.weeks import MATED, OVULATED, Told, born, day, entries, seen_on

TODAY = day(60)
TYPED = datetime(2026, 2, 1, 20, 15, 30, tzinfo=UTC)
CAUTION = "A memory aid, not a diagnosis. In doubt ring the vet."
HOSTILE_NAMES = (
    'Ash, Oak; Elm \\ Co: "the" dam', "A\r\nEND:VCALENDAR\r\nBEGIN:VEVENT", "A\nB",
    "\x00\x07\x1b[2J",
    "\u202egnp", "\u2028\u2029", "Žluťoučká 🐕", "=" * 300, "é" * 200, "", "DTSTART:20260101",
)  # fmt: skip


def agenda(view: Outlook, **changes: Any) -> Agenda:  # noqa: ANN401 - any of its fields
    plain = Agenda(
        litter="ash-2026-01-01", dam="Ash", items=(*view.plan, *view.follow), newest=TYPED,
        edition=7, protocol=DEFAULT, caution=CAUTION,
    )  # fmt: skip
    return plain._replace(**changes)


def file_of(*told: Told, **changes: Any) -> bytes:  # noqa: ANN401 - as above
    return calendar_file(agenda(seen_on(TODAY, *told), **changes))


def said(part: Calendar | Event, name: str) -> Any:  # noqa: ANN401 - a property has many types
    """One property as the library reads it."""
    return part[name]


def events(content: bytes) -> dict[str, Event]:
    """The events by identifier. The file must be one calendar, and identifiers unique."""
    calendar = Calendar.from_ical(content)
    found = [part for part in calendar.subcomponents if isinstance(part, Event)]
    assert len(found) == len(calendar.subcomponents)
    by_uid = {str(said(event, "UID")): event for event in found}
    assert len(by_uid) == len(found)
    return by_uid


def days(event: Event) -> tuple[date, date]:
    """First and last day; the end in the file is the day after."""
    return said(event, "DTSTART").dt, said(event, "DTEND").dt - timedelta(days=1)


PLAN: tuple[Told, ...] = ((0, OVULATED),)
BORN: tuple[Told, ...] = ((0, OVULATED), (62, born()))


@pytest.mark.parametrize("told", [PLAN, BORN, ((0, MATED), (3, MATED))])
def test_every_line_comes_back_with_its_days(told: tuple[Told, ...]) -> None:
    """One event for each line of the plan and of what follows, whole days, nothing else."""
    view = seen_on(TODAY, *told)
    found = events(file_of(*told))

    items = {f"ash-2026-01-01.{item.id}@boxlamp": item for item in (*view.plan, *view.follow)}
    assert set(found) == set(items)
    for uid, event in found.items():
        item = items[uid]
        assert days(event) == (item.first, item.last)
        assert type(said(event, "DTSTART").dt) is type(said(event, "DTEND").dt) is date
        assert (
            said(event, "DTSTART").params["VALUE"] == said(event, "DTEND").params["VALUE"] == "DATE"
        )
        assert str(said(event, "SUMMARY")) == f"Ash: {item.title}"
        assert str(said(event, "DESCRIPTION")).startswith(item.note)
        assert str(said(event, "DESCRIPTION")).endswith(CAUTION)
        assert item.record.says in str(said(event, "DESCRIPTION"))
        assert str(said(event, "STATUS")) == ("CANCELLED" if item.state == "off" else "CONFIRMED")
        assert (said(event, "DTSTAMP").dt, said(event, "LAST-MODIFIED").dt) == (TYPED, TYPED)
        assert said(event, "SEQUENCE") == 7
        assert not event.subcomponents  # nothing rings


def test_the_file_is_what_the_standard_asks_for() -> None:
    """RFC 5545: CRLF at every line, at most 75 octets in each, the four required properties."""
    content = file_of(*BORN)
    lines = content.split(b"\r\n")

    assert lines[-1] == b""
    assert not any(b"\n" in line or b"\r" in line for line in lines)
    assert all(len(line) <= 75 for line in lines)
    calendar = Calendar.from_ical(content)
    assert (str(said(calendar, "VERSION")), str(said(calendar, "PRODID"))) == ("2.0", MAKER)
    assert str(said(calendar, "METHOD")) == "PUBLISH"
    assert is_ours(content)


def test_one_record_gives_the_same_bytes() -> None:
    """Whenever the file is made: it does not depend on the day."""
    one, other = (calendar_file(agenda(seen_on(today, *BORN))) for today in (day(1), day(500)))

    assert one == other


def test_a_changed_date_keeps_its_identifier() -> None:
    """What another calendar took in is updated, not doubled: same names, a higher sequence."""
    before = events(file_of((0, OVULATED)))
    after = events(file_of((0, OVULATED), (10, MATED), (2, OVULATED), edition=9))

    assert set(before) == set(after)
    moved = {uid for uid in before if days(before[uid]) != days(after[uid])}
    assert not moved  # an evidence that is less trusted moves nothing
    later = events(file_of((2, OVULATED), edition=9))
    assert set(later) == set(before)
    for uid, event in later.items():
        assert days(event) == tuple(one + timedelta(days=2) for one in days(before[uid]))
        assert said(event, "SEQUENCE") > said(before[uid], "SEQUENCE")


def test_after_the_birth_the_rest_of_the_plan_is_cancelled() -> None:
    """Still in the file, under the same name, so that another calendar takes it back."""
    before, after = events(file_of(*PLAN)), events(file_of(*BORN))
    cancelled = {uid for uid, event in after.items() if str(said(event, "STATUS")) == "CANCELLED"}

    assert set(before) <= set(after)
    assert cancelled == {
        f"ash-2026-01-01.{name}@boxlamp" for name in ("due", "overdue-watch", "overdue-call")
    }


def test_two_litters_never_share_an_identifier() -> None:
    """The litter's own id is in it."""
    one, other = (set(events(file_of(*BORN, litter=name))) for name in ("ash-1", "ash-2"))

    assert one
    assert not one & other


@pytest.mark.parametrize("name", HOSTILE_NAMES)
def test_a_hostile_name_is_only_a_name(name: str) -> None:
    """Separators survive, line breaks and control characters make no line of their own."""
    content = file_of(*PLAN, dam=name)
    found = events(content)

    assert len(found) == len(events(file_of(*PLAN)))
    assert content.count(b"BEGIN:VCALENDAR") == content.count(b"END:VCALENDAR\r\n") == 1
    summary = str(said(found["ash-2026-01-01.due@boxlamp"], "SUMMARY"))
    assert summary.endswith(": She is due, by ovulation")
    if name.isprintable():
        assert summary.startswith(name)
    assert all(char.isprintable() for char in summary)


@given(HOSTILE, HOSTILE)
def test_any_name_gives_a_calendar_that_parses(name: str, litter: str) -> None:
    """And every event is still there."""
    found = events(file_of(*PLAN, dam=name, litter=litter))

    assert len(found) == 9


@settings(max_examples=150, deadline=None)
@given(records(), st.dates(date(2020, 1, 1), date(2040, 1, 1)))
def test_any_record_gives_a_calendar_that_parses(told: tuple[Entry, ...], today: date) -> None:
    """Whatever was written down, the file has an event for every line and reads back."""
    dated = (*told, *(one.model_copy(update={"id": 90 + one.id}) for one in entries((0, MATED))))
    found = assess(Story(dated), DEFAULT)
    view = outlook(found.story, found.litter, found.book, today)
    dam_name = found.litter.details.dam or "x"
    content = calendar_file(agenda(view, dam=dam_name, litter=dated[0].litter))

    assert len(events(content)) == len(view.plan) + len(view.follow)


@pytest.mark.parametrize(
    ("content", "ours"),
    [(b"", False), (b"BEGIN:VCALENDAR\r\nPRODID:-//Other//EN\r\n", False), (b"hello", False),
     (f"PRODID:{MAKER}".encode(), False),
     (f"BEGIN:VCALENDAR\r\nPRODID:-//Other//EN\r\nX-NOTE:was {MAKER}\r\n".encode(), False)],
)  # fmt: skip
def test_other_files_are_not_taken_for_ours(content: bytes, *, ours: bool) -> None:
    """Only a calendar with our own line in it may be replaced."""
    assert is_ours(content) == ours
