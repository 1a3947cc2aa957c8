"""Times as they are said and written by hand: read, or refused with a line that keeps them."""

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boxlamp.language import Context, NightError, NotUnderstood, read_line, read_night
from boxlamp.language.several import heard
from boxlamp.model.entry import Draft
from boxlamp.model.happenings import Birth, Contraction, Temperature, What
from support.happenings import NOW

MINUTE = timedelta(minutes=1)


def said(line: str, now: datetime = NOW) -> tuple[str, What]:
    """What a line means and when, with no question about it; it is 02:14:05."""
    told = read_line(line, Context(now, "UTC"))
    assert told.doubts == (), line
    return f"{told.draft.at:%H:%M:%S}", told.draft.what


def here(clock: str, day: int = 2) -> datetime:
    hour, minute, second = (int(part) for part in clock.split(":"))
    return datetime(2026, 3, day, hour, minute, second, tzinfo=UTC)


NIGHT = here("02:14:05")
PUSH = Contraction()


@pytest.mark.parametrize(
    ("typed", "wall"),
    [
        ("1.30", "01:30:00"), ("01.30", "01:30:00"), ("0.05", "00:05:00"), ("2.00", "02:00:00"),
        ("1.45am", "01:45:00"), ("1.45 a.m.", "01:45:00"), ("1.30:", "01:30:00"),
        ("1.30.", "01:30:00"), ("11.59pm", "23:59:00"), ("130", "01:30:00"), ("0130", "01:30:00"),
        ("at 1:30", "01:30:00"), ("at 1.30", "01:30:00"), ("At half past 1", "01:30:00"),
        ("half past 1", "01:30:00"), ("half past one", "01:30:00"), ("Half  past 1,", "01:30:00"),
        ("quarter past 2", "14:15:00"), ("quarter to 2", "01:45:00"),
        ("a quarter to two", "01:45:00"), ("ten past 2", "02:10:00"), ("10 past 2", "02:10:00"),
        ("10 minutes past 2", "02:10:00"), ("ten to 2", "01:50:00"), ("ten mins to 2", "01:50:00"),
        ("twenty five past one", "01:25:00"), ("twenty-five to two", "01:35:00"),
        ("half past 12", "00:30:00"), ("quarter to 1", "00:45:00"), ("quarter to 12", "23:45:00"),
        ("half past 1 am", "01:30:00"), ("half past 11 pm", "23:30:00"),
        ("half past 22", "22:30:00"), ("half past 0", "00:30:00"), ("quarter to 0", "23:45:00"),
        ("yesterday 23.50", "23:50:00"), ("yesterday 11pm", "23:00:00"),
        ("yesterday 23:50:30", "23:50:30"),
        ("yesterday at 11.15 pm", "23:15:00"), ("today 1am", "01:00:00"),
        ("yesterday 2350", "23:50:00"), ("2026-03-02 1am", "01:00:00"),
        ("2026-03-02 1.30", "01:30:00"),
        ("ten minutes ago", "02:04:05"), ("twenty mins ago", "01:54:05"),
        ("an hour ago", "01:14:05"), ("an hour and a half ago", "00:44:05"),
        ("half hour ago", "01:44:05"), ("one hour and ten minutes ago", "01:04:05"),
        ("1 hour and 20 mins ago", "00:54:05"), ("a quarter of an hour ago", "01:59:05"),
        ("forty five minutes ago", "01:29:05"),
    ],
)  # fmt: skip
def test_a_time_in_front(typed: str, wall: str) -> None:
    """Each is one instant, asked about only where it may as well be still to come."""
    told = read_line(f"{typed} push", Context(NIGHT, "UTC"))
    assert (f"{told.draft.at:%H:%M:%S}", told.draft.what) == (wall, PUSH)
    near = NIGHT - told.draft.at <= timedelta(hours=6)
    assert not told.doubts or not near
    assert told.draft.at <= NIGHT


@pytest.mark.parametrize(
    ("line", "wall"),
    [
        ("push at 1.30", "01:30:00"), ("push since 1.30", "01:30:00"),
        ("pushing hard from 1.30", "01:30:00"), ("pushing since 1:30", "01:30:00"),
        ("pushing since half past 1", "01:30:00"), ("push half past one", "01:30:00"),
        ("push since 130", "01:30:00"), ("push quarter to two", "01:45:00"),
        ("pushing from 1am", "01:00:00"), ("push, 10 past 2.", "02:10:00"),
        ("push ten minutes ago", "02:04:05"), ("push yesterday 11pm", "23:00:00"),
        ("push @ 1.30", "01:30:00"), ("push @1.30", "01:30:00"), ("push 1.30", None),
    ],
)  # fmt: skip
def test_a_time_behind(line: str, wall: str | None) -> None:
    """Where the words lead to it; a bare 1.30 may be a measure, and the line offered keeps it."""
    if wall is None:
        with pytest.raises(NotUnderstood) as refused:
            read_line(line, Context(NIGHT, "UTC"))
        line, wall = refused.value.nearest, "01:30:00"
    at, what = said(line, NIGHT)
    assert at == wall
    assert isinstance(what, Contraction)


@pytest.mark.parametrize(
    ("line", "what"),
    [
        ("temp 37.10", {"celsius": "37.1"}), ("37.1", {"celsius": "37.1"}),
        ("37.20", {"celsius": "37.2"}), ("1.30 temp 37.15", {"celsius": "37.15"}),
        ("temp 37.15 at 1.30", {"celsius": "37.15"}),
    ],
)  # fmt: skip
def test_a_reading_is_no_time(line: str, what: dict[str, str]) -> None:
    """No clock shows 37.10."""
    assert said(line, NIGHT)[1] == Temperature.model_validate(what)


@pytest.mark.parametrize("line", ["weigh 1 340g from 300", "weigh dam 12.50kg from 12.30",
                                  "temp 37.1 from 22.50"])  # fmt: skip
def test_what_a_measure_was_before_is_no_time(line: str) -> None:
    """Up from 300 g is not since three o'clock."""
    context = Context.of(
        [Draft(at=NIGHT, what=Birth(pup=1)).numbered(1, "a", NIGHT)], NIGHT + MINUTE, "UTC"
    )
    with pytest.raises(NotUnderstood):
        read_line(line, context)


def test_a_weight_is_no_time() -> None:
    """``1.30 kg`` has a unit."""
    context = Context.of(
        [Draft(at=NIGHT, what=Birth(pup=1)).numbered(1, "a", NIGHT)], NIGHT + MINUTE, "UTC"
    )
    for line in ("1.30 kg 1", "weigh 1 1.30kg", "weigh dam 12.30kg"):
        try:
            assert read_line(line, context).draft.at == NIGHT + MINUTE
        except NotUnderstood as refused:
            assert "1.30" not in refused.nearest  # noqa: PT017 - either answer keeps the promise


@pytest.mark.parametrize(
    ("line", "nearest"),
    [
        ("2-35 pup", "2:35 pup"), ("1,30 pup limp", "1:30 pup limp"), ("1;30 push", "1:30 push"),
        ("2'05 push", "2:05 push"), ("1 - 30 push", "1:30 push"), ("1-30 pm push", "1:30 pm push"),
        ("1h30 push", "1:30 push or 1h30m ago push"), ("5 to 3 push", "5 minutes to 3 push"),
        ("half 2 pup", "half past 1 pup or half past 2 pup"),
        ("half 1 pup", "half past 12 pup or half past 1 pup"),
        ("pup 1:50 red", "1:50 pup red"), ("pup 1.50 red", "1:50 pup red"),
        ("pup 2.05 blue", "2:05 pup blue"), ("pup half past 1 red", "half past 1 pup red"),
        ("pup 10 past 2 red", "10 past 2 pup red"), ("pup 20m red", "20m ago pup red"),
        ("pup 20 mins red", "20 mins ago pup red"), ("pup around 2 red", "2:00 pup red"),
        ("push since 2", "2:00 push"), ("push for 20 min", "20 min ago push"),
        ("push for half an hour", "half an hour ago push"), ("push 5m", "5m ago push"),
        ("pushing since half past 1 hard", "half past 1 pushing hard"),
        ("24/11 03:00 temp 37", "2026-11-24 03:00 temp 37"),
        ("24.11. 03:00 temp 37", "2026-11-24 03:00 temp 37"),
        ("3.4 1.30 temp 37", "2026-04-03 1.30 temp 37 or 2026-03-04 1.30 temp 37"),
        ("02:10 dicharge green", "02:10 discharge green"),
        ("dicharge green 02:10", "02:10 discharge green"),
        ("2.10 contracton", "2.10 contraction"),
        ("~2.10 contracton", "~2.10 contraction"),
        ("half past 25 push", "push"), ("half past 13 pm push", "push"),
        ("amend 1 12:99", "amend 1 HH:MM"), ("amend 1 12:99 rest", "amend 1 rest"),
        ("amend 1 2-35 rest", "amend 1 2:35 rest"),
        ("24.30 push", "HH:MM contraction"), ("pup 1:75 red", "HH:MM pup"),
        ("push earlier", "HH:MM push"),
        ("02:10 push for 5 min", "02:10 push; for 5 min"),
    ],
)  # fmt: skip
def test_what_is_no_time_is_refused_and_its_hint_keeps_it(line: str, nearest: str) -> None:
    """A copied hint without the time would start a clock too late, or correct another entry."""
    entries = [Draft(at=NIGHT, what=PUSH).numbered(1, "a", NIGHT)]
    with pytest.raises(NotUnderstood) as refused:
        read_line(line, Context.of(entries, NIGHT, "UTC"))
    assert refused.value.nearest == nearest
    for offered in nearest.split(" or ") if "HH:MM" not in nearest else ():
        assert read_line(offered, Context.of(entries, NIGHT, "UTC")).draft.what.kind != "note"


def test_what_may_be_a_clock_or_either_day_is_offered_as_each() -> None:
    """With a stop behind it ``2.10.`` is a date to some; ``1.30.`` is none to anybody."""
    with pytest.raises(NotUnderstood) as refused:
        read_line("2.10. pup", Context(NIGHT, "UTC"))
    assert refused.value.nearest == "2026-10-02 pup or 2026-02-10 pup or 2:10 pup"
    assert said("1.30. push", NIGHT) == ("01:30:00", PUSH)


def test_a_day_and_a_month_are_not_taken_for_a_clock() -> None:
    """In a line about a day ``11.12`` may be either, and no example stands in for it."""
    with pytest.raises(NotUnderstood, match="day and which the month") as refused:
        read_line("11.12 mated", Context(NIGHT, "UTC"))
    assert refused.value.nearest == ""


def test_pups_side_by_side_are_no_time() -> None:
    """``1-12`` and ``1,12`` may be pups, where such pups are there."""
    pups = [
        Draft(at=NIGHT + 5 * number * MINUTE, what=Birth(pup=number)).numbered(number, "a", NIGHT)
        for number in range(1, 13)
    ]
    context = Context.of(pups, NIGHT + timedelta(hours=2), "UTC")
    assert len(heard("1-12 suckling", context)) == 12
    assert len(heard("10,12 suckling", context)) == 2
    with pytest.raises(NotUnderstood):
        heard("1-12 push", context)


@pytest.mark.parametrize("second", [0, 1, 59])
def test_a_spoken_clock_is_the_last_that_has_been(second: int) -> None:
    """Of both halves of the day; the minute that has just begun counts as now."""
    now = here("13:30:00") + timedelta(seconds=second)
    assert read_line("half past 1 push", Context(now, "UTC")).draft.at == here("13:30:00")
    early = read_line("half past 1 push", Context(here("13:29:59"), "UTC"))
    assert early.draft.at == here("01:30:00")
    assert [doubt.code for doubt in early.doubts] == ["old"]


def test_a_spoken_clock_more_than_six_hours_ago_is_asked_about() -> None:
    """The other half of the day is nearer then, and just may not have come yet."""
    for now, asked in ((here("07:30:00"), []), (here("07:30:01"), ["old"])):
        told = read_line("half past 1 push", Context(now, "UTC"))
        assert told.draft.at == here("01:30:00")
        assert [doubt.code for doubt in told.doubts] == asked


def test_a_corrected_spoken_clock_is_the_nearest() -> None:
    """Of both halves the one nearest to the time that is put right."""
    entry = Draft(at=here("13:20:00"), what=PUSH).numbered(1, "a", NIGHT)
    told = read_line("amend 1 half past 1", Context.of([entry], here("14:00:00"), "UTC"))
    assert told.draft.at == here("13:30:00")
    entry = Draft(at=here("01:20:00"), what=PUSH).numbered(1, "a", NIGHT)
    told = read_line("amend 1 half past 1", Context.of([entry], here("14:00:00"), "UTC"))
    assert told.draft.at == here("01:30:00")


def test_in_a_night_file_a_spoken_clock_is_refused() -> None:
    """There it might be of either half of the day; a dotted one is one time."""
    with pytest.raises(NightError, match="Write the clock time"):
        read_night("date: 2026-03-02\n\nhalf past 1 push\n")
    night = read_night("date: 2026-03-02\n\n1.30 push\n1.45 rest\n")
    assert [f"{entry.at:%H:%M}" for entry in night.entries] == ["01:30", "01:45"]


@given(st.integers(0, 29), st.integers(0, 99), st.integers(0, 86_399))
def test_a_dotted_clock_is_the_same_as_with_a_colon(hour: int, minute: int, second: int) -> None:
    """Whenever it is typed; where one is no time, the other is none."""
    now = here("00:00:00") + timedelta(seconds=second)
    context = Context(now, "UTC")
    colon, dotted = f"{hour:02}:{minute:02} push", f"{hour}.{minute:02} push"
    try:
        wanted = read_line(colon, context).draft.at
    except NotUnderstood:
        with pytest.raises(NotUnderstood):
            read_line(dotted, context)
    else:
        assert read_line(dotted, context).draft.at == wanted


@given(
    st.integers(1, 12),
    st.sampled_from([5, 10, 20, 25]),
    st.sampled_from(["past", "to"]),
    st.integers(0, 86_399),
)
def test_a_spoken_clock_shows_what_was_said(
    hour: int,
    part: int,
    way: str,
    second: int,
) -> None:
    """At most twelve hours ago, never still to come."""
    now = here("00:00:00") + timedelta(seconds=second)
    at = read_line(f"{part} minutes {way} {hour} push", Context(now, "UTC")).draft.at
    minutes = (hour * 60 + (part if way == "past" else -part)) % 720
    assert timedelta(0) <= now - at < timedelta(hours=12)
    assert at == now or (at.hour * 60 + at.minute) % 720 == minutes
