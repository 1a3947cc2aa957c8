"""Night files at their edges: what cannot be held is refused with its line, the rest is kept."""

import json
from datetime import UTC, datetime

import pytest

from boxlamp.language import NightError, directive, read_night, write_night
from boxlamp.model.entry import Draft, Entry
from boxlamp.model.happenings import Amend, Birth, Note, Waters, Weight


def night_of(*lines: str, heading: str = "date: 2026-03-01") -> str:
    return "\n".join(("dam: Ash", heading, "", *lines, ""))


def problems(text: str) -> tuple[str, ...]:
    with pytest.raises(NightError) as refused:
        read_night(text)
    return refused.value.problems


@pytest.mark.parametrize(
    "directive",
    [
        'what={"kind":',
        'what="waters"',
        'by={"kind":"waters"}',
        'what={"kind":"waters"} what={"kind":"rest"}',
        "text=lines",
        "by=Jana",
        "at=yesterday",
        "id=one",
        "litter",
        "depth=" + "[" * 100_000,
        'by="' + "[" * 10,
        "what=" + '{"a":' * 100_000,
    ],
)
def test_a_directive_that_cannot_be_read(directive: str) -> None:
    """A directive with a wrong key, a wrong value or a broken one is refused on its own line."""
    (problem, *_) = problems(night_of(f"#@ {directive}", "02:14 waters"))
    assert problem.startswith("<file>:4: ")


@pytest.mark.parametrize("mode", ["line", "words"])
def test_a_directive_says_what_was_typed(mode: str) -> None:
    """The raw text is the whole line or its words, as the directive says."""
    night = read_night(night_of(f"#@ text={mode}", "02:14 waters"))
    assert night.entries[-1].text == {"line": "02:14 waters", "words": "waters"}[mode]


@pytest.mark.parametrize("line", ["amend 2 -5m", "amend 2 5 min ago", "amend 2 yesterday 02:10"])
def test_a_file_has_no_now(line: str) -> None:
    """A correction in a file is no more relative to now than any other line is."""
    (problem,) = problems(night_of("02:14 waters", f"02:20 {line}"))
    assert problem.startswith("<file>:5: ")
    assert "now" in problem


def test_a_correction_with_its_day() -> None:
    """A correction with a whole date means that day, whatever the line above it."""
    night = read_night(night_of("02:14 waters", "02:20 amend 2 2026-02-27 23:10"))
    assert night.entries[-1].what == Amend(target=2, retimed=True)
    assert night.entries[-1].at == datetime(2026, 2, 27, 23, 10, tzinfo=UTC)


@pytest.mark.parametrize("line", ["02:30 waters", "2026-03-29 02:30 waters"])
def test_a_time_that_no_clock_showed(line: str) -> None:
    """With or without its date, a time in the hour that was skipped is refused."""
    (problem,) = problems(night_of(line, heading="date: 2026-03-29\nzone: Europe/Prague"))
    assert "02:30" in problem
    assert problem.startswith("<file>:5: ")


def test_a_whole_day_that_was_skipped() -> None:
    """Samoa had no 30 December 2011: a clock time of that day is refused, the next is the 31st."""
    samoa = "date: 2011-12-29\nzone: Pacific/Apia"
    (problem,) = problems(night_of("23:00 waters", "12:00 rest", heading=samoa))
    assert "12:00" in problem
    night = read_night(night_of("2011-12-31 12:00 waters", heading=samoa))
    assert night.entries[-1].at == datetime(2011, 12, 30, 22, tzinfo=UTC)


def test_a_day_before_all_days() -> None:
    """A file that begins before the first day the record holds is refused in its heading."""
    text = night_of("02:14 waters", heading="date: 1990-01-01\nzone: Europe/Prague")
    assert problems(text)[0].startswith("<file>:1: ")


@pytest.mark.parametrize("text", ["25:99 waters", "waters", "2026-13-40 waters"])
def test_a_text_with_an_impossible_time_is_kept(text: str) -> None:
    """What was typed is written down as it was, even where its time never was one."""
    entry = Draft(
        at=datetime(2026, 3, 1, 2, 14, tzinfo=UTC), text=text, what=Waters(colour="clear")
    ).numbered(1, "night", datetime(2026, 3, 1, 2, 15, tzinfo=UTC))
    assert read_night(write_night([entry])).entries == (entry,)


@pytest.mark.parametrize(
    "what", [Waters(), Birth(pup=1, mark="red"), Note(words="12:00", unread=True)]
)
def test_the_first_hours_of_all(what: Waters | Birth | Note) -> None:
    """An hour whose wall clock lies in a year the log does not know is written all the same."""
    at = datetime(1990, 1, 1, 0, 30, tzinfo=UTC)
    entry = Entry(id=1, litter="night", at=at, zone="America/New_York", recorded=at, what=what)
    assert read_night(write_night([entry])).entries == (entry,)


def test_births_in_any_order_keep_their_marks() -> None:
    """A birth written below a later one is a pup like any other: its mark names it at once."""
    night = read_night(
        night_of(
            "2026-03-02 04:00 pup dog red",
            "2026-03-02 03:00 pup bitch blue",
            "2026-03-02 05:00 weigh blue 300g",
            "2026-03-02 05:00 weigh red 310g",
        )
    )
    told = {entry.what.pup: entry.what.grams for entry in night.entries
            if isinstance(entry.what, Weight)}  # fmt: skip
    assert told == {2: 300, 1: 310}


def test_a_file_that_is_wrong_throughout() -> None:
    """Of a great many problems the first are shown and the rest counted; all can be asked for."""
    with pytest.raises(NightError) as refused:
        read_night(night_of(*["25:99 waters"] * 500))
    assert len(refused.value.problems) == 500
    assert len(str(refused.value).splitlines()) == 101
    assert str(refused.value).endswith("and 400 more")


def test_more_pups_than_any_file_needs() -> None:
    """A file that names pups without end is refused where it becomes too many, and is read on."""
    lines = [f"02:14 mark 1 colour{number}" for number in range(1001)]
    found = problems(night_of("02:14 pup dog", *lines))
    assert [problem.split(": ")[0] for problem in found] == ["<file>:1004", "<file>:1005"]


@pytest.mark.parametrize("line", ["mated 2025-12-28 20:00", "mated 2025-12-28"])
def test_a_date_among_the_words_does_not_move_the_night(line: str) -> None:
    """After a line about an earlier day, with or without a time, the night goes on where it was."""
    night = read_night(night_of("02:00 waters", line, "04:00 rest"))
    assert night.entries[-1].at == datetime(2026, 3, 1, 4, tzinfo=UTC)


@pytest.mark.parametrize("when", ["23:10", "2026-03-01 23:10", "2026-03-01T23:10:00+00:00"])
def test_an_estimate_stays_one(when: str) -> None:
    """With its date or without, a time that was guessed at is kept as guessed at."""
    estimated, seen = read_night(night_of(f"~{when} waters", f"{when} rest")).entries[-2:]
    assert (estimated.certainty, seen.certainty) == ("estimated", "seen")
    assert estimated.at == seen.at == datetime(2026, 3, 1, 23, 10, tzinfo=UTC)


@pytest.mark.parametrize("mark", ["#=", "#= ", "#=   "])
def test_an_expectation_begins_right_behind_its_mark(mark: str) -> None:
    """A blank between the mark and the time is a matter of taste."""
    (expected,) = read_night(night_of("02:14 waters", f"{mark}03:14 watch waters-no-pup")).expected
    assert expected.at == datetime(2026, 3, 1, 3, 14, tzinfo=UTC)


def test_a_number_that_is_given_twice() -> None:
    """Two entries of one number are refused at the second: a correction could mean either."""
    (problem,) = problems(night_of("#@ id=7", "02:14 waters", "#@ id=7", "02:20 rest"))
    assert problem.startswith("<file>:7: ")
    assert "7" in problem.removeprefix("<file>:7: ")


def test_a_correction_in_a_directive_is_json_that_a_screen_can_show() -> None:
    """What a correction holds is written within it, and no sign in it reaches the screen raw."""
    amend = Amend(target=1, what=Note(words='say "red"\x1b[2J'))
    text = directive.as_json(amend)
    assert directive.happening(json.loads(text)) == amend
    assert text.isprintable()


def test_an_entry_may_come_behind_its_correction() -> None:
    """What a directive struck before it was read does not count, and is read all the same."""
    struck = '#@ what={"kind":"strike","target":4,"why":"typed by mistake"}'
    night = read_night(
        night_of("02:00 push", struck, "02:05 x", "02:06 rest", "02:07 amend 4 push")
    )
    assert [entry.what.kind for entry in night.entries][2:] == ["strike", "rest", "amend"]
    again = read_night(write_night(night.entries))
    assert [entry.what for entry in again.entries] == [entry.what for entry in night.entries]
