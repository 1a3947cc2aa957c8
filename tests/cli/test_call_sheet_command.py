"""`boxlamp call-sheet`: what it answers, in every form."""

import json

import pytest

from boxlamp.view.text import width_of
from support.calls import Caller
from support.nights import DEMO

AT = "2026-04-12 02:26"


@pytest.fixture
def stalled(call: Caller) -> Caller:
    """The command line, with the night of the stalled labour taken in."""
    call.good("import", DEMO / "stalled-labour.night")
    call.later(60 * 24 * 365)
    return call


def test_the_sheet(stalled: Caller) -> None:
    """One screen of 80 columns without its last two lines, the number to ring at the top."""
    lines = stalled.good("call-sheet", "--at", AT).splitlines()

    assert lines[0] == "!! CALL      Dr Horak (invented), 000 555 020; 35 min away."
    assert len(lines) <= 22
    assert all(width_of(line) <= 80 for line in lines)
    assert lines[-1].endswith("the vet's word comes first.")


@pytest.mark.parametrize("columns", [30, 50, 79, 80, 120, 300])
def test_the_width_is_honoured(
    stalled: Caller, columns: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A narrow screen gets everything, over more lines; a wide one is used."""
    monkeypatch.setenv("COLUMNS", str(columns))
    lines = stalled.good("call-sheet", "--at", AT).splitlines()
    told = " ".join(" ".join(lines).split())

    assert all(width_of(line) <= min(columns, 120) for line in lines)
    assert "The last pup came 2 h 07 min ago: 4 more to come by the x-ray." in told
    assert "and what should make me ring again?" in told
    if columns < 80 or columns >= 120:
        assert "First signs 21:05; waters broke 23:20, clear; first push 23:34" in told


def test_one_fact_a_line(stalled: Caller) -> None:
    """--plain is part, label, words; the parts in the order of the call."""
    rows = [
        line.split("\t") for line in stalled.good("call-sheet", "--at", AT, "--plain").split("\n")
    ]
    rows = rows[:-1]

    assert all(len(row) == 3 for row in rows)
    assert list(dict.fromkeys(row[0] for row in rows)) == [
        "dial", "situation", "background", "assessment", "request", "end",
    ]  # fmt: skip
    assert ["dial", "level", "call"] in rows
    assert ["assessment", "not noted", "discharge"] in rows


def test_the_form_for_programs(stalled: Caller) -> None:
    """--json is one object: schema, moment, level, parts with labels and words."""
    data = json.loads(stalled.good("call-sheet", "--at", AT, "--json"))
    parts = {
        part["part"]: {fact["label"]: fact["words"] for fact in part["facts"]}
        for part in data["parts"]
    }

    assert data["schema"] == 1
    assert data["at"] == "2026-04-12T02:26:00+02:00"
    assert data["litter"] == "juniper-2026-04-11"
    assert data["level"] == "call"
    assert "discharge" in data["not_noted"]
    assert data["caution"].startswith("A memory aid")
    assert parts["situation"]["wrong now"].startswith("The last pup came 2 h 07 min ago")
    assert parts["assessment"]["temperature"] == "38.5 °C at 00:55, 1 h 31 min ago."


def test_clock_and_units(stalled: Caller, monkeypatch: pytest.MonkeyPatch) -> None:
    """By option, and by the environment as everywhere else."""
    said = stalled.good("call-sheet", "--at", AT, "--plain", "--clock", "12h",
                        "--temperature-unit", "F", "--weight-unit", "oz")  # fmt: skip
    for name, value in (("CLOCK", "12h"), ("TEMPERATURE_UNIT", "F"), ("WEIGHT_UNIT", "oz")):
        monkeypatch.setenv(f"BOXLAMP_{name}", value)

    assert "101.3 °F at 12:55 am" in said
    assert "lb" in said
    assert stalled.good("call-sheet", "--at", AT, "--plain") == said


def test_whom_to_ring_is_known_at_any_moment(call: Caller) -> None:
    """Her name and the vet's number are no events of the night, unless it is asked what was known.

    A risk that was typed later tightens nothing before it.
    """
    call.good("new", "--dam", "Bramble", "--no-input")
    call("log", "01:40 push")
    call.later(10)
    call("log", "set vet Dr Novak")
    call("log", "set vet-phone 000 555 111")
    call("log", "set toy yes")
    rows = call.good("call-sheet", "--at", "02:00", "--plain")
    known = call.good("call-sheet", "--at", "02:16", "--as-known", "--plain")

    assert "dial\tring\tDr Novak, 000 555 111." in rows
    assert "Bramble" in rows
    assert "toy" not in rows
    assert "20 min, reached at 02:00" in rows
    assert "no number is written down" in known


def test_only_what_was_known(bramble: Caller) -> None:
    """--as-known leaves out what was written down later than the moment asked about."""
    bramble.good("log", "-30m", "temp", "38.5")

    assert "38.5 °C" in bramble.good("call-sheet", "--at", "-10m")
    assert "38.5 °C" not in bramble.good("call-sheet", "--at", "-10m", "--as-known")


def test_it_needs_a_litter(call: Caller) -> None:
    """Without one it says how to open one, with exit code 2."""
    answer = call("call-sheet")

    assert answer.code == 2
    assert "boxlamp new" in answer.err


def test_a_litter_without_a_line(bramble: Caller) -> None:
    """The number is there and the caller is left the word."""
    said = bramble.good("call-sheet")

    assert said.startswith("RING         Dr Novak, 000 555 010.")
    assert "Say in your own words what worries you." in said


def test_nothing_is_cut_in_a_pipe_while_there_is_room(bramble: Caller) -> None:
    """The vet's own words are whole on the sheet, in --plain and in --json."""
    advice = "bring her in at once if there is no pup within the next twenty minutes, ring first"
    bramble.good("log", "vet", "advised", advice)

    told = " ".join(bramble.good("call-sheet").split())
    assert advice in told
    assert "~" not in told
    assert advice in bramble.good("call-sheet", "--plain")
    assert advice in bramble.good("call-sheet", "--json")


def test_a_moment_before_the_record_began(bramble: Caller) -> None:
    """It says that nothing was known, instead of a list of what nobody wrote down."""
    said = bramble.good("call-sheet", "--at", "-2d", "--plain")

    assert "Nothing was written down of her by then." in said
    assert "not noted" not in said
