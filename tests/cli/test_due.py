import json
from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from icalendar import Calendar
from syrupy.assertion import SnapshotAssertion

from boxlamp.view.text import width_of
from support.calls import Caller

ONE_BASIS = ("ovulation 2026-01-03",)
AGREED = ("mated 2026-01-02", "ovulation 2026-01-03", "set weight 12kg", "scan icc 30mm 2026-02-08")
CONTRARY = ("mated 2025-12-28", "mated 2025-12-30", "ovulation 2026-01-06")
SMALL = ("set weight 6kg", "scan icc 30mm 2026-02-08", "scan bpd 60mm 2026-02-20",
         "progesterone 3.1 ng 2025-12-30")  # fmt: skip
LONG = ("progesterone 2.15 ng rise 2026-01-01", "set weight 12kg", "scan bpd 20mm 2026-02-20",
        "scan bpd 21mm 2026-02-20", "mated 2026-01-06")  # fmt: skip
BORN = (*AGREED, "01:10 pup dog 312g red", "01:40 pup bitch 300g blue", "02:10 finished")
NIGHTS = {"one basis": ONE_BASIS, "bases that agree": AGREED, "bases that contradict": CONTRARY,
          "from memory": SMALL, "nothing known": (), "after the birth": BORN,
          "long names": LONG}  # fmt: skip
COLUMNS = [40, 80, 120]


@pytest.fixture
def due(call: Caller) -> Caller:
    """Bramble, some ten days before she is due by most of what is told of her."""
    call.now = datetime(2026, 2, 23, 18, 0, tzinfo=UTC)
    call.good("new", "--dam", "Bramble", "--vet", "Dr Novak")
    return call


def told(call: Caller, lines: tuple[str, ...]) -> None:
    """Write down what is known; births are of the second of March."""
    for line in lines:
        if line[:1].isdigit():
            call.now = datetime(2026, 3, 2, 1, 15, tzinfo=UTC)
        call.good("log", *line.split())


@pytest.mark.parametrize("name", NIGHTS)
def test_the_screen(due: Caller, name: str, snapshot: SnapshotAssertion) -> None:
    """At 80 columns, letter for letter: the answer first, then why, then the plan."""
    told(due, NIGHTS[name])

    assert due.good("due") == snapshot


@pytest.mark.parametrize("columns", COLUMNS)
@pytest.mark.parametrize("name", NIGHTS)
def test_it_keeps_to_the_width(
    due: Caller, name: str, columns: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """COLUMNS is honoured, and the day is never cut."""
    told(due, NIGHTS[name])
    monkeypatch.setenv("COLUMNS", str(columns))
    for words in (("due",), ("due", "--why")):
        out = due.good(*words)
        assert all(width_of(line) <= columns for line in out.splitlines())
    answer = json.loads(due.good("due", "--json"))
    if answer["due"]:
        day = date.fromisoformat(answer["due"])
        assert f"{day:%a} {day.day} {day:%b}" in " ".join(due.good("due").split())


@pytest.mark.parametrize("name", ["one basis", "bases that agree", "bases that contradict"])
def test_it_fits_one_screen(due: Caller, name: str) -> None:
    """80 columns and 24 lines hold the ordinary case."""
    told(due, NIGHTS[name])

    assert due.good("due").count("\n") <= 24


@pytest.mark.parametrize("columns", [70, 80])
def test_no_row_of_the_table_is_broken(
    due: Caller, columns: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A basis is one line; a name may be shortened, a day never."""
    told(due, LONG)
    monkeypatch.setenv("COLUMNS", str(columns))
    rows = [line for line in due.good("due").splitlines() if line.endswith(("earlier", "later"))]

    assert len(rows) == 2
    assert ["Fri 6 Mar" in rows[0], "Tue 10 Mar" in rows[1]] == [True, True]


def test_the_first_line_is_the_answer(due: Caller) -> None:
    """Day, how far off, window; and the better day at once where the alarms keep to another."""
    told(due, ONE_BASIS)
    assert due.good("due").splitlines()[0] == (
        "Bramble is due Sat 7 Mar 2026, in 12 days (6-8 Mar)."
    )
    told(due, ("mated 2025-12-28",))
    assert " ".join(due.good("due").split()).startswith(
        "Bramble is due Sun 1 Mar 2026, in 6 days (21 Feb-8 Mar); by ovulation Sat 7 Mar."
    )


def test_without_a_date_it_says_what_to_write_down(due: Caller) -> None:
    """Exit code 0, and every example is a line that the log takes."""
    out = due.good("due")

    assert out.startswith("Nobody can say yet when Bramble is due")
    examples = [line.split("boxlamp log ")[1].split("  ")[0] for line in out.splitlines()
                if "boxlamp log " in line]  # fmt: skip
    assert len(examples) == 7
    for example in examples:
        due.good("log", *example.split())
    found = json.loads(due.good("due", "--json"))
    assert len([one for one in found["bases"] if not one["from_memory"]]) == 7


def test_json_and_plain_tell_the_same(due: Caller) -> None:
    """Every day of one is in the other; dates are ISO, sources and marks are there."""
    told(due, SMALL)
    found = json.loads(due.good("due", "--json"))
    lines = [line.split("\t") for line in due.good("due", "--plain").splitlines()]

    assert (found["schema"], found["litter"]) == (1, "bramble-2026-02-23")
    assert found["today"] == "2026-02-23"
    assert [one["from_memory"] for one in found["bases"]] == [False, True]
    assert {one["source"]["seen"] for one in found["bases"]} == {"X", "M"}
    assert len(found["unused"]) == 2
    bases = [line[4] for line in lines if line[0] == "basis"]
    assert bases == [one["due"] for one in found["bases"]]
    plan = [(line[1], line[3], line[4]) for line in lines if line[0] == "plan"]
    assert plan == [(one["id"], one["first"], one["last"]) for one in found["plan"]]
    assert {line[0] for line in lines} == {"due", "today", "basis", "not used", "plan", "caution"}
    assert all(len(line) > 1 for line in lines)


def test_why_names_every_source(due: Caller) -> None:
    """Of every basis and every line of the plan, with how far it was verified."""
    told(due, AGREED)
    out = " ".join(due.good("due", "--why").split())
    found = json.loads(due.good("due", "--json"))

    for one in (*found["bases"], *found["plan"]):
        if one["source"]["title"]:
            assert " ".join(one["source"]["title"].split()) in out
    assert "[our choice, no published source]" in out
    assert "[abstract or criteria list read]" in out


def test_another_moment(due: Caller) -> None:
    """`--at` counts the days from there, by what was known then."""
    told(due, ONE_BASIS)

    first = due.good("due", "--at", "2026-03-08 10:00").splitlines()[0]
    assert first == "Bramble was due Sat 7 Mar 2026, yesterday (6-8 Mar)."
    assert "no date to count from" in due.good("due", "--at", "2025-12-01 10:00")


def test_the_calendar_file(due: Caller, tmp_path: Path) -> None:
    """A private file, whole, in CRLF; written again it is replaced; what it says is said."""
    told(due, ONE_BASIS)
    file = tmp_path / "bramble.ics"
    said = due("due", "--ics", file)

    assert (said.code, said.out) == (0, "")
    assert said.err == f"Wrote {file}: 9 events.\n"
    assert file.stat().st_mode & 0o777 == 0o600
    first = file.read_bytes()
    assert due.good("due", "--ics", "-") == first.decode().replace("\r\n", "\n") or (
        due.good("due", "--ics", "-").encode() == first
    )
    due.later(60 * 24)
    due.good("due", "--ics", file)
    assert file.read_bytes() == first
    told(due, ("mated 2025-12-28",))
    due.good("due", "--ics", file)
    assert file.read_bytes() != first
    assert len(Calendar.from_ical(file.read_bytes()).subcomponents) == 9
    assert [path.name for path in tmp_path.iterdir() if path.suffix != ".db"] != []
    assert not [path for path in tmp_path.iterdir() if path.name.startswith(".")]


@pytest.mark.parametrize("content", [b"", b"my own notes", b"BEGIN:VCALENDAR\r\nPRODID:-//X\r\n"])
def test_a_file_of_somebody_else_is_never_replaced(
    due: Caller, tmp_path: Path, content: bytes
) -> None:
    """Not a note, not another program's calendar, not an empty file, and not a folder."""
    told(due, ONE_BASIS)
    file = tmp_path / "other.ics"
    file.write_bytes(content)
    for path in (file, tmp_path):
        said = due("due", "--ics", path)
        assert (said.code, said.out) == (2, "")
        assert "was not written by this command" in said.err
    assert file.read_bytes() == content


def test_a_calendar_that_cannot_be_written_is_a_sentence(due: Caller, tmp_path: Path) -> None:
    """No folder, no date, or two answers at once."""
    said = due("due", "--ics", tmp_path / "a.ics")
    assert (said.code, "no date to put into a calendar" in said.err) == (2, True)
    told(due, ONE_BASIS)
    said = due("due", "--ics", tmp_path / "nowhere" / "a.ics")
    assert (said.code, "cannot be written" in said.err) == (2, True)
    said = due("due", "--ics", "-", "--json")
    assert (said.code, "leave out --json" in said.err) == (2, True)
    assert "Traceback" not in said.err


def test_a_hostile_name_stays_a_name(due: Caller) -> None:
    """No control code reaches the screen, no line of its own the calendar."""
    due.good("log", "set", "dam", '"Ash\x1b[2J; the, dam"')
    told(due, ONE_BASIS)

    assert "\x1b" not in due.good("due") + due.good("kit") + due.good("due", "--plain")
    calendar = Calendar.from_ical(due.good("due", "--ics", "-"))
    assert len(calendar.subcomponents) == 9
    assert "; the, dam: " in str(calendar.subcomponents[0]["SUMMARY"])


def test_due_writes_nothing_into_the_record(due: Caller, tmp_path: Path) -> None:
    """To look is not to change."""
    told(due, AGREED)
    before = due.good("export")
    for words in (("due",), ("due", "--json"), ("due", "--ics", str(tmp_path / "a.ics")), ("kit",)):
        due.good(*words)

    assert due.good("export") == before
