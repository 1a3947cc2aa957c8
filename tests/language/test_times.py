from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boxlamp.language import Context, NotUnderstood, read_line
from boxlamp.model.entry import Draft
from boxlamp.model.happenings import Contraction, Details, Note, Rest, What
from support.happenings import NOW

PRAGUE = "Europe/Prague"
APART = timedelta(days=100)


def at(line: str, now: datetime = NOW, zone: str = PRAGUE) -> str:
    """The wall time a line is taken to mean, with its offset."""
    moment = read_line(line, Context(now, zone)).draft.at
    return moment.astimezone(ZoneInfo(zone)).isoformat()


def codes(line: str, now: datetime = NOW, zone: str = PRAGUE) -> list[str]:
    return [doubt.code for doubt in read_line(line, Context(now, zone)).doubts]


@pytest.mark.parametrize(
    ("typed", "wall"),
    [
        ("", "2026-03-02T02:14:05"),
        ("now", "2026-03-02T02:14:05"),
        ("02:14", "2026-03-02T02:14:00"),
        ("2:14", "2026-03-02T02:14:00"),
        ("0214", "2026-03-02T02:14:00"),
        ("214", "2026-03-02T02:14:00"),
        ("02:13:30", "2026-03-02T02:13:30"),
        ("2:14am", "2026-03-02T02:14:00"),
        ("2:14 a.m.", "2026-03-02T02:14:00"),
        ("11pm", "2026-03-01T23:00:00"),
        ("12am", "2026-03-02T00:00:00"),
        ("23:50", "2026-03-01T23:50:00"),
        ("-5m", "2026-03-02T02:09:05"),
        ("-5", "2026-03-02T02:09:05"),
        ("-1h20m", "2026-03-02T00:54:05"),
        ("-90s", "2026-03-02T02:12:35"),
        ("\u22125m", "2026-03-02T02:09:05"),
        ("5 min ago", "2026-03-02T02:09:05"),
        ("5m ago", "2026-03-02T02:09:05"),
        ("1 h 20 min ago", "2026-03-02T00:54:05"),
        ("half an hour ago", "2026-03-02T01:44:05"),
        ("120 minutes ago", "2026-03-02T00:14:05"),
        ("100 min ago", "2026-03-02T00:34:05"),
        ("yesterday 23:50", "2026-03-01T23:50:00"),
        ("Today 02:10", "2026-03-02T02:10:00"),
        ("2026-03-02 02:14", "2026-03-02T02:14:00"),
        ("2026-03-02T00:14:00Z", "2026-03-02T01:14:00"),
        ("2026-03-01T20:14:00-05:00", "2026-03-02T02:14:00"),
        ("2026-03-02t01:14:59.123456+01:00", "2026-03-02T01:14:59"),
        ("02:14 -", "2026-03-02T02:14:00"),
        ("02:14,", "2026-03-02T02:14:00"),
    ],
)
def test_every_form_of_a_time(typed: str, wall: str) -> None:
    """Each form in the list means one instant, and the words after it are still read."""
    assert at(f"{typed} waters") == f"{wall}+01:00"
    assert codes(f"{typed} waters") == []


@pytest.mark.parametrize(
    "typed",
    ["25:10", "02:60", "0299", "13pm", "2026-02-30", "2026-02-30 02:14", "1066-10-14 09:00",
     "02:14:61", "~", "2026-03-02T02:14+99:00", "-9999d"],
)  # fmt: skip
def test_impossible_times_are_refused(typed: str) -> None:
    """A slip of the finger is refused with a line that works, never bent into another time."""
    with pytest.raises(NotUnderstood) as refused:
        read_line(f"{typed} waters", Context(NOW, PRAGUE))
    assert refused.value.nearest


@pytest.mark.parametrize("typed", ["14", "11/12", "2.1", "next tuesday", "5m", "2026"])
def test_guessable_forms_are_not_guessed(typed: str) -> None:
    """What a free-form reader would bend into a date is either no time at all or a clock."""
    try:
        assert at(f"{typed} waters") == "2026-03-01T20:26:00+01:00"
    except NotUnderstood as refused:
        assert "word" in refused.why or "alone does not say" in refused.why  # noqa: PT017 - either answer keeps the promise


@pytest.mark.parametrize(
    ("line", "typed"),
    [("25:00 push", "25:00"), ("24:00 push", "24:00"), ("2:75 push", "2:75"),
     ("push 25:00", "25:00"), ("push at 99:99", "99:99"), ("13pm push", "13pm"),
     ("2026-03-01 25:10 push", "2026-03-01 25:10")],
)  # fmt: skip
def test_a_clock_that_does_not_exist_keeps_the_words_of_the_line(line: str, typed: str) -> None:
    """What is wrong with it is said; what was seen is offered, and nothing else."""
    with pytest.raises(NotUnderstood) as refused:
        read_line(line, Context(NOW, PRAGUE))
    assert refused.value.why == (
        f"There is no clock time {typed}: hours go from 00 to 23, minutes to 59. "
        "If it has just happened, leave the time out."
    )
    assert refused.value.nearest == "push"


@pytest.mark.parametrize(
    ("line", "span", "nearest"),
    [("5m push", "5m", "5m ago push"), ("5 min push", "5 min", "5 min ago push"),
     ("1h20m push", "1h20m", "1h20m ago push"), ("90s, rest", "90s", "90s ago rest"),
     ("half an hour push", "half an hour", "half an hour ago push"), ("10min", "10min", "")],
)  # fmt: skip
def test_a_while_alone_is_no_time(line: str, span: str, nearest: str) -> None:
    """It may be how long something took; the line that says when is offered."""
    with pytest.raises(NotUnderstood) as refused:
        read_line(line, Context(NOW, PRAGUE))
    if nearest:
        assert refused.value.why == f"{span} alone does not say when. Was it that long ago?"
        read_line(nearest, Context(NOW, PRAGUE))
    assert refused.value.nearest == nearest


def test_a_file_has_no_ago_to_offer() -> None:
    """There a while is told, and no line that could not be read either."""
    with pytest.raises(NotUnderstood) as refused:
        read_line("5m push", Context(NOW, PRAGUE, after=NOW))
    assert refused.value.nearest == ""


def test_a_tilde_marks_an_estimate() -> None:
    """``~`` is kept as the certainty of the entry and shown in the echo."""
    heard = read_line("~02:10 waters", Context(NOW, PRAGUE))

    assert heard.draft.certainty == "estimated"
    assert heard.echo.startswith("about 02:10")


def test_a_clock_a_few_seconds_ahead_is_now() -> None:
    """A kitchen clock may run ahead within the minute; the next minute is questioned."""
    now = NOW.replace(second=50)

    assert at("02:14:55 waters", now) == "2026-03-02T02:14:50+01:00"
    assert at("02:15 waters", now) == "2026-03-01T02:15:00+01:00"
    (doubt,) = read_line("02:15 waters", Context(now, PRAGUE)).doubts
    assert doubt.code == "old"
    assert "02:15" in doubt.sentence
    assert "02:14:50" in doubt.sentence
    assert "2026-03-01 02:15" in doubt.fix


@pytest.mark.parametrize(
    ("line", "wanted"),
    [
        ("today 02:20 waters", ["future"]),
        ("2026-03-02 02:20 waters", ["future"]),
        ("2026-03-02T05:00:00Z waters", ["future"]),
        ("2026-04-02 mated", ["future"]),
        ("14:15 waters", []),
        ("14:14 waters", ["old"]),
        ("-13h waters", ["old"]),
        ("yesterday 02:00 waters", ["old"]),
        ("2026-02-20 02:00 waters", []),
        ("yesterday 02:00 scan 6 pups", []),
        ("-20h set vet Novak", []),
        ("2026-01-02 mated", []),
    ],
)
def test_far_times_are_questioned(line: str, wanted: list[str]) -> None:
    """Future, or more than 12 h back without a whole date, is asked; dated facts are not."""
    assert codes(line) == wanted


def test_a_doubt_says_how_to_type_it_surely() -> None:
    """The line that a doubt offers raises no doubt."""
    (doubt,) = read_line("-13h waters", Context(NOW, PRAGUE)).doubts
    assert "2026-03-01 13:14" in doubt.fix
    assert codes("2026-03-01 13:14 waters") == []


@pytest.mark.parametrize("line", ["2026-03-01 mated", "mated 2026-03-01", "mated yesterday"])
def test_a_day_alone_stands_at_noon(line: str) -> None:
    """Dated facts may be given by the day, before or among the words."""
    draft = read_line(line, Context(NOW, PRAGUE)).draft

    assert draft.certainty == "day"
    assert draft.at == datetime(2026, 3, 1, 11, tzinfo=UTC)


def test_today_by_the_day_already_counts() -> None:
    """A fact of today, typed before noon, does not lie in the future."""
    assert read_line("2026-03-02 mated", Context(NOW, PRAGUE)).draft.at == NOW


def test_a_day_is_not_enough_for_labour() -> None:
    """Where the clock matters a day alone is refused, with the whole form."""
    with pytest.raises(NotUnderstood) as refused:
        read_line("2026-03-02 contraction", Context(NOW, PRAGUE))
    assert refused.value.nearest.startswith("2026-03-02 HH:MM ")


def test_two_times_in_a_line_are_refused() -> None:
    """Nobody has to guess which of two dates counts."""
    with pytest.raises(NotUnderstood):
        read_line("2026-03-01 mated 2026-02-28", Context(NOW, PRAGUE))


SPRING = datetime(2026, 3, 29, 1, 10, tzinfo=UTC)
"""03:10 in Prague; the clocks went from 02:00 to 03:00 ten minutes ago."""


def test_the_skipped_hour_is_questioned() -> None:
    """A time that no clock showed is asked about, with the new time as the fix."""
    (doubt,) = read_line("02:30 waters", Context(SPRING + timedelta(hours=1), PRAGUE)).doubts
    assert doubt.code == "nonexistent-clock"
    assert "03:30" in doubt.fix


def test_the_nearest_past_crosses_the_skipped_hour() -> None:
    """01:55 was 15 minutes before 03:10 that night, not 75."""
    assert at("01:55 waters", SPRING) == "2026-03-29T01:55:00+01:00"
    assert SPRING - read_line("01:55 sac", Context(SPRING, PRAGUE)).draft.at == timedelta(
        minutes=15
    )


@pytest.mark.parametrize(
    ("zone", "hour", "line", "first", "second"),
    [
        (PRAGUE, datetime(2026, 10, 25, 0, tzinfo=UTC), "02:30 waters",
         "2026-10-25T02:30:00+02:00", "2026-10-25T02:30:00+01:00"),
        ("America/New_York", datetime(2026, 11, 1, 5, tzinfo=UTC), "01:30 waters",
         "2026-11-01T01:30:00-04:00", "2026-11-01T01:30:00-05:00"),
    ],
)  # fmt: skip
def test_the_repeated_hour(zone: str, hour: datetime, line: str, first: str, second: str) -> None:
    """While only the first has passed it is meant; once both have, the later one, with a doubt."""
    during, after = hour + timedelta(minutes=50), hour + timedelta(minutes=110)

    assert at(line, during, zone) == first
    assert codes(line, during, zone) == []
    assert at(line, after, zone) == second
    (doubt,) = read_line(line, Context(after, zone)).doubts
    assert doubt.code == "ambiguous-clock"
    assert first in doubt.fix
    for whole in (first, second):
        assert at(f"{whole} waters", after, zone) == whole
        assert codes(f"{whole} waters", after, zone) == []


def test_intervals_are_true_across_the_repeated_hour() -> None:
    """40 minutes from 02:30 (first) to 02:10 (second) stay 40 minutes."""
    first = read_line("2026-10-25T02:30+02:00 c", Context(SPRING + timedelta(days=300), PRAGUE))
    second = read_line("2026-10-25T02:10+01:00 c", Context(SPRING + timedelta(days=300), PRAGUE))

    assert second.draft.at - first.draft.at == timedelta(minutes=40)


def test_the_echo_tells_the_two_passes_apart() -> None:
    """In the repeated hour the echo names the clock."""
    now = datetime(2026, 10, 25, 0, 50, tzinfo=UTC)
    assert "02:30 CEST" in read_line("02:30 sac", Context(now, PRAGUE)).echo


@given(
    st.datetimes(datetime(2000, 1, 1), datetime(2099, 1, 1)),  # noqa: DTZ001 - made aware below
    st.times().map(lambda clock: clock.replace(microsecond=0)),
    st.sampled_from([PRAGUE, "America/New_York", "Australia/Lord_Howe", "Asia/Kathmandu", "UTC"]),
)
def test_a_bare_clock_means_its_nearest_past(now: datetime, clock: object, zone: str) -> None:
    """It lies in the past, at most 25 hours back, and shows what was typed."""
    moment = now.replace(tzinfo=UTC, microsecond=0)
    heard = read_line(f"{clock} waters", Context(moment, zone))
    if any(doubt.code == "nonexistent-clock" for doubt in heard.doubts):
        return
    back = moment - heard.draft.at

    assert timedelta(0) <= back <= timedelta(hours=25)
    shown = heard.draft.at.astimezone(ZoneInfo(zone)).strftime("%H:%M:%S")
    assert shown == str(clock) or heard.draft.at == moment


def test_an_unknown_zone_is_read_as_utc() -> None:
    """A record with a zone that this machine does not know stays readable."""
    assert read_line("01:10 sac", Context(NOW, "Moon/Crater")).draft.at == NOW.replace(
        minute=10, second=0
    )


def litter(*lines: tuple[datetime, What]) -> Context:
    """A litter opened now, with these lines besides."""
    opened: tuple[datetime, What] = (NOW, Details(dam="Ash"))
    return Context.of(
        [Draft(at=when, what=what).numbered(number, "ash", NOW)
         for number, (when, what) in enumerate((opened, *lines), start=1)],
        NOW, PRAGUE,
    )  # fmt: skip


def asked(line: str, context: Context) -> list[str]:
    return [doubt.code for doubt in read_line(line, context).doubts]


@pytest.mark.parametrize(
    "line",
    ["2019-03-01 02:00 push", "push 2019-03-01 02:00", "2019-03-01 given glucose",
     "mated 2019-01-01", "2025-03-02 02:10 push", "2019-03-01T02:00:00Z pup m 300g"],
)  # fmt: skip
def test_a_whole_date_far_from_the_litter_is_asked_about(line: str) -> None:
    """A slip in the year would make every clock of the litter years long."""
    (doubt,) = read_line(line, litter()).doubts
    assert doubt.code == "far-day"
    assert doubt.sentence.endswith("d ago. Did you mean that?")
    assert doubt.fix == "No other line of this litter is near it: check the year and the month."


def test_a_corrected_date_is_asked_about_too() -> None:
    """The clocks follow it in the same way."""
    assert asked("amend 2 2019-03-01 02:00", litter((NOW, Contraction()))) == ["far-day"]


def test_a_whole_date_is_far_from_a_hundred_days_and_a_second_on() -> None:
    """From now, or from any line that tells when the litter is."""
    day = datetime(2025, 11, 22, 2, 14, 5, tzinfo=ZoneInfo(PRAGUE))
    assert NOW - day == timedelta(days=100)
    assert asked("2025-11-22 02:14:05 push", litter()) == []
    assert asked("2025-11-22 02:14:04 push", litter()) == ["far-day"]
    old = datetime(2019, 3, 1, 2, tzinfo=UTC)
    for apart in (-APART, APART):
        near, far = old + apart, old + apart + apart / 8_640_000  # a second more
        assert "far-day" not in asked(f"{near:%Y-%m-%d %H:%M:%S}Z push", litter((old, Rest())))
        assert "far-day" in asked(f"{far:%Y-%m-%d %H:%M:%S}Z push", litter((old, Rest())))


@pytest.mark.parametrize("what", [Details(breed="Boxer"), Note(words="x", unread=True)])
def test_what_says_nothing_of_the_litter_s_time_is_no_neighbour(what: What) -> None:
    """The same date typed twice, or kept as a note, is asked about again."""
    old = datetime(2019, 3, 1, 2, tzinfo=UTC)
    assert asked("2019-03-01 02:00 push", litter((old, what))) == ["far-day"]


def test_where_no_litter_is_known_a_date_is_not_asked_about() -> None:
    """Nor is one still to come asked about twice."""
    assert asked("mated 2019-01-01", Context(NOW, PRAGUE)) == []
    assert asked("2031-03-01 02:00 push", litter()) == ["future"]
