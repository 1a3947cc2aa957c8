from datetime import UTC, datetime, timedelta
from time import perf_counter

import pytest
from hypothesis import HealthCheck, given, settings

from boxlamp.language import Expected, NightError, read_night, write_night
from boxlamp.model.entry import Draft, Entry
from boxlamp.model.happenings import (
    Amend,
    Birth,
    Contraction,
    Details,
    Expect,
    Mating,
    Note,
    Ovulation,
    Sac,
    Step,
)
from support.happenings import NOW, records

FILE = """\
# A quiet night.

dam: Bella
breed: Boxer
weight: 30kg
first-litter: yes
zone: Europe/Prague
date: 2026-03-01
expected: 6 xray
mated: 2025-12-28
mated: 2025-12-30
ovulation: 2025-12-29
travel: 25 min

21:00 sign restless panting
23:55 waters clear
~00:20 contraction weak   # not a comment here
"""


def utc(day: int, hour: int, minute: int = 0, second: int = 0) -> datetime:
    return datetime(2026, 3, day, hour, minute, second, tzinfo=UTC)


def night_of(*lines: str) -> str:
    return "\n".join(("dam: Ash", "date: 2026-03-01", "", *lines, ""))


def times(*lines: str) -> list[str]:
    """The times of entry lines in a UTC night of 2026-03-01."""
    entries = read_night(night_of(*lines)).entries[1:]
    return [f"{entry.at:%d %H:%M:%S}" for entry in entries]


@given(records())
@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_a_written_record_reads_back_exactly(entries: tuple[Entry, ...]) -> None:
    """Ids, both times, who, zone, certainty, raw text, note, words: nothing is lost or changed."""
    written = write_night(entries)

    assert read_night(written).entries == entries
    assert not any(ord(sign) < 32 and sign != "\n" for sign in written)
    assert "\u202e" not in written


def test_the_header_becomes_the_first_entries() -> None:
    """Facts first, at the day's midnight in the zone; dated facts on their own day."""
    with pytest.raises(NightError, match="'#' does not fit here"):
        read_night(FILE)
    night = read_night(FILE.replace("   # not a comment here", ""))
    details, expect, mated, again, ovulation, sign, *_rest = night.entries

    assert details.what == Details(
        dam="Bella", breed="Boxer", weight=30_000, first_litter=True, zone="Europe/Prague",
        travel_minutes=25,
    )  # fmt: skip
    assert (details.id, details.at, details.certainty) == (1, utc(1, 0) - timedelta(hours=1), "day")
    assert expect.what == Expect(count=6, method="xray")
    assert mated.what == again.what == Mating()
    assert mated.at == datetime(2025, 12, 28, 11, tzinfo=UTC)
    assert ovulation.what == Ovulation(basis="ovulation")
    assert (sign.id, sign.at, sign.zone) == (6, utc(1, 20), "Europe/Prague")
    assert night.header["mated"] == "2025-12-28, 2025-12-30"
    assert night.entries[-1].certainty == "estimated"


def test_an_earlier_clock_means_the_next_day() -> None:
    """Midnight is crossed without a date, and so is the one after."""
    assert times("23:50 c", "00:10 c", "00:10 c", "00:09 c") == [
        "01 23:50:00", "02 00:10:00", "02 00:10:00", "03 00:09:00",
    ]  # fmt: skip


def test_the_same_minute_without_seconds_is_the_same_minute() -> None:
    """02:14 below 02:14:30 is not tomorrow, and it does not turn the night back."""
    assert times("02:14:30 c", "02:14 rest", "02:14:31 c", "02:14:30 c") == [
        "01 02:14:30", "01 02:14:00", "01 02:14:31", "02 02:14:30",
    ]  # fmt: skip


def test_a_whole_date_moves_the_night_and_a_day_alone_does_not() -> None:
    """Late additions and dated facts may stand anywhere."""
    assert times(
        "02:30 c", "2026-03-01 02:20 waters", "02:45 c", "2026-02-20 scan 6 pups",
        "xray 6 pups 2026-02-25", "02:50 c", "c weak",
    ) == [
        "01 02:30:00", "01 02:20:00", "01 02:45:00", "20 12:00:00", "25 12:00:00", "01 02:50:00",
        "01 02:50:00",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("day", "lines", "wanted"),
    [
        ("2026-10-25", ("02:30 c", "02:40 c", "02:10 c", "03:10 c"),
         ["00:30", "00:40", "01:10", "02:10"]),
        ("2026-03-29", ("01:50 c", "03:10 c", "01:40 c"), ["00:50", "01:10", "23:40"]),
    ],
)  # fmt: skip
def test_clock_changes_keep_the_order(day: str, lines: list[str], wanted: list[str]) -> None:
    """In the repeated hour the second pass is taken when the first would go back in time."""
    text = "\n".join((f"date: {day}", "zone: Europe/Prague", "", *lines, ""))
    assert [f"{entry.at:%H:%M}" for entry in read_night(text).entries[1:]] == wanted


def test_a_skipped_clock_is_a_problem() -> None:
    """02:30 of the night the clocks went forward was never shown."""
    with pytest.raises(NightError, match=r":5: 02:30 did not exist"):
        read_night("date: 2026-03-29\nzone: Europe/Prague\n\n01:10 c\n02:30 c\n")


def test_a_correction_is_typed_at_the_front_and_holds_inside() -> None:
    """``03:30 amend 2 03:10``: known from 03:30, true at 03:10; the night goes on from 03:30."""
    entries = read_night(night_of("03:15 waters", "03:30 amend 2 03:10", "03:20 sac")).entries

    assert entries[2].what == Amend(target=2, retimed=True)
    assert (entries[2].at, entries[2].recorded) == (utc(1, 3, 10), utc(1, 3, 30))
    assert entries[3].at == utc(2, 3, 20)


def test_names_follow_the_lines_above() -> None:
    """Pups are numbered and marked as the file goes, corrections included."""
    entries = read_night(
        night_of(
            "01:00 pup red", "01:10 pup", "01:11 mark 2 blue", "01:12 milk blue", "01:13 strike 3",
            "01:14 pup 2 green", "01:15 amend 2 pup yellow", "01:16 milk yellow",
            "01:17 amend 5 pup m", "01:18 milk green",
        )
    ).entries  # fmt: skip

    assert entries[4].what == Step(step="milk", pup=2)
    assert entries[6].what == Birth(pup=2, mark="green")
    assert entries[8].what == Step(step="milk", pup=1)
    assert entries[10].what == Step(step="milk", pup=2)


def test_expected_alerts_stand_beside_the_lines() -> None:
    """Their clocks count from the line above and never move the night itself."""
    night = read_night(
        night_of(
            "23:50 c",
            "#= 00:05 watch contraction-no-pup",
            "#= 00:20:30 go contraction-no-pup pup 3",
            "23:55 pup",
            "#= 23:55 cleared contraction-no-pup [dam]",
            "#= 2026-03-04 01:00 call gap litter",
            "#= none go",
            "#= none watch gap",
        )
    )

    assert night.expected == (
        Expected(utc(2, 0, 5), "watch", "contraction-no-pup", line=5),
        Expected(utc(2, 0, 20, 30), "go", "contraction-no-pup", "pup 3", line=6),
        Expected(utc(1, 23, 55), None, "contraction-no-pup", "dam", "cleared", 8),
        Expected(utc(4, 1), "call", "gap", "litter", line=9),
        Expected(None, "go", None, change="none", line=10),
        Expected(None, "watch", "gap", change="none", line=11),
    )
    assert night.entries[-1].at == utc(1, 23, 55)


@pytest.mark.parametrize(
    "line",
    ["#= foo", "#= 02:31 loud x", "#= 02:31 go", "#= none", "#= none loud", "#= 02:31 cleared",
     "#= 02:31 go x pup red", "#= none go x y", "#= 25:10 go x"],
)  # fmt: skip
def test_an_unclear_expectation_is_a_problem(line: str) -> None:
    """A file that is its own test must not expect something that nobody checks."""
    with pytest.raises(NightError, match=":5: "):
        read_night(night_of("02:00 c", line))


def test_every_problem_is_named_with_its_line() -> None:
    """All at once, so that a file is mended in one go; numbers stay what was meant."""
    lines = [
        "dam: B", "bred: x", "date: 2026-03-01", "weight: heavy", "", "02:14 c", "02:15 blorg",
        "02:16 strike 3", "#= foo", "#@ x=1", "02:20 milk 1", "#@ id=3", "#@ id=9",
    ]  # fmt: skip
    with pytest.raises(NightError) as error:
        read_night("\n".join(lines), source="a.night")
    numbers = [problem.split(":")[1] for problem in error.value.problems]

    assert numbers == ["2", "4", "7", "8", "9", "10", "11", "12", "13"]
    assert "breed" in error.value.problems[0]


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("02:14 c\n", ":1: No day is known yet"),
        ("dam: B\n\n02:14 c\n", ":1: No day is known yet"),
        ("#= 02:14 go x\n", ":1: No day is known yet"),
        ("date: 2026-02-30\n\n02:14 c\n", "There is no day 2026-02-30"),
        ("date: 2026-03-01\nzone: Moon/Crater\n\n02:14 c\n", "There is no time zone"),
        ("date: 2026-03-01\ndam: A\ndam: B\n\n", ":3: 'dam' is given twice"),
        ("date: 2026-03-01\nmated: yes\n\n", ":2: "),
        ("date: 2026-03-01\nmated:\n\n", ":2: 'mated' needs a date"),
        ("date: 2026-03-01\n\n-5m c\n", ":3: A file has no 'now'"),
        ("date: 2026-03-01\n\n02:14 c\n#@ id=1\n02:15 c\n", ":5: There are two entries"),
        ("date: 2026-03-01\n\n" + "02:14 note " + "x" * 5000 + "\n", ":3: This line has"),
        ("date: 2026-03-01\n\n#@ recorded=2026-03-01T02:00:00\n02:14 c\n", ":4: "),
    ],
)
def test_what_a_file_cannot_say(text: str, problem: str) -> None:
    """Each mistake is told in its own sentence."""
    with pytest.raises(NightError) as error:
        read_night(text)
    assert problem in str(error.value)


def test_too_large_a_file_is_refused_at_once() -> None:
    """5 MB or 50,000 lines is more than any litter has."""
    for text in ("x" * 5_000_001, "\n" * 50_001):
        with pytest.raises(NightError, match="too large"):
            read_night(text)


def test_a_hostile_file_is_read_in_time() -> None:
    """Corrections upon corrections do not make each line cost more than the last without end."""
    birth = '#@ what={"kind":"birth","pup":1}\n00:01 x\n'
    text = "date: 2026-03-01\n\n" + "".join(
        f"{birth}00:01 strike {2 * number - 1}\n" for number in range(1, 800)
    )
    began = perf_counter()
    with pytest.raises(NightError, match="too many births"):
        read_night(text)
    assert perf_counter() - began < 15


def test_windows_line_ends_and_a_byte_order_mark_are_nothing() -> None:
    """A file saved by any editor reads the same."""
    text = night_of("02:14 c", "02:15 rest")
    assert read_night("\ufeff" + text.replace("\n", "\r\n")) == read_night(text)


def test_the_litter_named_by_the_caller_wins() -> None:
    """An import decides where entries go, whatever the file says."""
    text = '#@ all litter="other"\n2026-03-01 02:14 c\n'
    assert read_night(text).entries[0].litter == "other"
    assert read_night(text, litter="mine").entries[0].litter == "mine"
    assert read_night("2026-03-01 02:14 c").entries[0].litter == "night"


def test_a_night_typed_at_the_console_exports_as_it_was_typed() -> None:
    """Raw lines stay readable; only what they cannot say stands in a directive."""
    typed = [
        (NOW, NOW, Contraction(), "c"),
        (NOW + timedelta(minutes=1), NOW + timedelta(minutes=1), Sac(), "sac"),
        (NOW, NOW + timedelta(minutes=2), Note(words="-2m blorg", unread=True), "-2m blorg"),
    ]
    entries = tuple(
        Draft(at=at, zone="Europe/Prague", what=what, text=text).numbered(n, "ash", recorded, "Jo")
        for n, (at, recorded, what, text) in enumerate(typed, start=1)
    )

    assert write_night(entries) == (
        '#@ all litter="ash" zone="Europe/Prague" by="Jo" text=words\n'
        "\n"
        "2026-03-02 02:14:05 c\n"
        "02:15:05 sac\n"
        '#@ what={"kind":"note","words":"-2m blorg","unread":true} recorded=2026-03-02T01:16:05Z'
        ' text="-2m blorg"\n'
        "2026-03-02 02:14:05 note -2m blorg\n"
    )


def test_a_night_file_exports_as_it_stood() -> None:
    """Lines that were read from a file come back unchanged."""
    lines = ("2026-03-01 23:50 c strong", "00:10 pup m 312g red; quick", "~00:12 milk red")
    text = "\n".join((*lines, ""))
    assert write_night(read_night(text).entries) == text


def test_nothing_is_written_as_nothing() -> None:
    """An empty record is an empty file."""
    assert write_night(()) == ""
    assert read_night("").entries == ()


def test_a_lesson_is_of_the_file_and_makes_no_entry() -> None:
    """What a night teaches is kept with it, over several lines, and says nothing of the dam."""
    plain = read_night(night_of("21:00 sign panting"))
    night = read_night("lesson: Wait.\n" + night_of("21:00 sign panting").replace(
        "date:", "lesson: Then ring.\ndate:"
    ))  # fmt: skip

    assert night.lesson == "Wait. Then ring."
    assert [entry.what for entry in night.entries] == [entry.what for entry in plain.entries]
    assert plain.lesson == ""


def test_terminal_codes_leave_no_debris_in_a_header() -> None:
    """They go whole, as they do from an entry line: neither a name nor a lesson keeps a piece."""
    night = read_night(
        "dam: E\x1b[31mvil\x1b]0;pwn\x07\nvet: Dr\x07 \u202eHale\ndate: 2026-03-02\n"
        "mated: \x1b[1m2026-01-01\nlesson: \x1b[2Jgone\n\n02:00 pup \x1b[31mred\n"
    )
    details = next(one.what for one in night.entries if isinstance(one.what, Details))

    assert (details.dam, details.vet) == ("Evil", "Dr Hale")
    assert night.header["lesson"] == "gone"
    assert {one.text for one in night.entries[:-1]} == {
        "dam: Evil\nvet: Dr Hale",
        "mated: 2026-01-01",
    }
