import json
import time
from pathlib import Path
from typing import Any

import pytest

from boxlamp.cli import replay
from boxlamp.desk.files import read_record
from boxlamp.training.screening import Screening, screen
from boxlamp.view.words import CAUTION
from support.calls import Caller
from support.nights import DEMO

PATHS = pytest.mark.parametrize("path", sorted(DEMO.glob("*.night")), ids=lambda path: path.stem)
STEP = {"at", "rule", "subject", "level", "change", "since", "entries"}
SMALL = """dam: Ash
zone: Europe/Prague
date: 2026-03-02

02:00 contraction strong
#= 02:15 watch contraction-no-pup
#= {} call contraction-no-pup
02:21 pup
"""


def states_any(path: Path) -> bool:
    """Whether a night's file states any alert; a calm one may state none."""
    return any(
        line.at is not None and line.level != "prompt" for line in read_record(str(path)).expected
    )


@PATHS
def test_json_is_one_change_a_line(call: Caller, path: Path) -> None:
    """JSON Lines with exactly the documented fields, in order of time, times with an offset."""
    steps = [json.loads(line) for line in call.good("replay", path, "--json").splitlines()]

    assert bool(steps) == states_any(path)
    for step in steps:
        assert set(step) == STEP
        assert step["change"] in {"raised", "escalated", "cleared", "acknowledged"}
        assert step["level"] in {"watch", "call", "go"}
        assert step["at"][19] in "+-"
    assert [step["at"] for step in steps] == sorted(step["at"] for step in steps)


@PATHS
def test_a_night_is_told_and_keeps_its_promises(call: Caller, path: Path) -> None:
    """Every expected alert comes at its second; the end counts and cautions."""
    lines = call.good("replay", path).splitlines()

    assert ("comings and endings of alerts" in lines[-2]) == states_any(path)
    if states_any(path):
        stated, came = (int(word) for word in lines[-2].split() if word.isdigit())
        assert stated == came
    assert lines[-1] == CAUTION
    assert any(line.startswith("Born ") and "Alerts: " in line for line in lines)


def test_every_line_stands_at_its_time(call: Caller, tmp_path: Path) -> None:
    """What was typed comes before what the board made of it, the clearing included."""
    file = tmp_path / "small.night"
    file.write_text(SMALL.format("02:20"), encoding="utf-8")
    told = [line[:40].rstrip() for line in call.good("replay", file).splitlines()]

    first = told.index("02:00:00             contraction strong")
    times = [line[:8] for line in told if line[2:3] == ":" and line[5:6] == ":"]
    assert times == sorted(times)
    assert told[first + 1].startswith("02:15:00    ! WATCH")
    assert any(line.startswith("02:20:00   !! CALL") for line in told)
    assert any(line.startswith("02:21:00      over   ") for line in told)


def test_a_broken_promise_is_bad_news(call: Caller, tmp_path: Path) -> None:
    """An expected alert that does not come is named, with exit code 1."""
    file = tmp_path / "small.night"
    file.write_text(SMALL.format("02:19"), encoding="utf-8")
    said = call("replay", file)

    assert said.code == 1
    assert "the file states 2 comings and endings of alerts; 1 came at their second." in said.out
    assert "Expected and not seen: " in said.out


def test_a_calm_that_was_promised_and_broken_is_bad_news(call: Caller, tmp_path: Path) -> None:
    """`none call` is a promise as well: what comes in spite of it is named, with exit code 1."""
    file = tmp_path / "small.night"
    file.write_text(SMALL.format("02:20") + "#= none call\n", encoding="utf-8")
    said = call("replay", file)

    assert said.code == 1
    assert "the file states 2 comings and endings of alerts; 2 came at their second." in said.out
    assert "Seen and not expected: 01:20:00 UTC call contraction-no-pup" in said.out


def test_a_dam_weighed_in_pounds_is_told_in_sensible_figures(call: Caller) -> None:
    """A tenth of a kilogram is as much as anyone wants to know."""
    opening = call.good("replay", DEMO / "no-temperature-drop.night").splitlines()[0]

    assert opening.startswith("Pecan, Brittany, 15.9 kg. ")


def test_until_stops_there(call: Caller) -> None:
    """Nothing later is told, on either side of midnight."""
    path = DEMO / "stalled-labour.night"
    for until, last in (("23:45", "23:44:00"), ("02:20", "02:19:00")):
        lines = call.good("replay", path, "--until", until).splitlines()
        assert [line[:8] for line in lines if line[2:3] == ":" and line[5:6] == ":"][-1] == last
    assert call("replay", path, "--until", "late").code == 2


def test_a_pipe_is_replayed(call: Caller) -> None:
    """`-` is standard input; an exported record replays like the night it came from."""
    path = DEMO / "pup-stuck.night"
    call.good("import", path)
    exported = call.good("export", "--form", "jsonl")
    from_night = call.good("replay", "-", "--json", stdin=path.read_bytes())
    from_record = call.good("replay", "-", "--json", stdin=exported.encode())

    assert from_night.startswith(from_record[:2000])
    assert from_record


def test_speed_takes_its_time(call: Caller, monkeypatch: pytest.MonkeyPatch) -> None:
    """With --speed the quiet stretches are waited out, cut to three seconds; the text is equal."""
    waited: list[float] = []
    monkeypatch.setattr("time.sleep", waited.append)
    path = DEMO / "pup-stuck.night"

    assert call.good("replay", path, "--speed", "60") == call.good("replay", path)
    assert max(waited) == 3
    assert any(0 < wait < 3 for wait in waited)
    for wrong in ("0", "nan", "inf", "1e9", "fast"):
        assert call("replay", path, "--speed", wrong).code == 2


def corrected_litter(call: Caller) -> None:
    """A litter of the journal with a pup typed late, a line struck and one amended."""
    call.good("new", "--dam", "Bramble", "--expect", "3 xray", "--no-input")
    for minutes, line in (
        (5, "waters clear"), (10, "push"), (14, "pup dog 312g red"), (30, "push"),
        (22, "-20m pup bitch 290g blue"), (1, "strike 3 that was another night"),
        (3, "amend 6 02:56"), (9, "push"), (40, "finished by vet"),
    ):  # fmt: skip
        call.later(minutes)
        call("log", line)


def test_a_litter_of_the_journal_is_told(call: Caller) -> None:
    """The one in use or the one named; what was typed late and put right says what it is about."""
    corrected_litter(call)
    told = call.good("replay")

    assert told == call.good("replay", "--litter", "bramble-2026-03-02")
    assert told.startswith("Bramble. The night of 02 March 2026, Europe/Prague.")
    assert "pup 2 bitch 290g blue  [at 03:16]" in told
    assert "strike 3 that was another night  [waters clear]" in told
    assert "amend 6 time  [at 02:56, contraction]" in told


def test_as_corrected_tells_what_better_entries_would_have_shown(call: Caller) -> None:
    """Each line at its time, no corrections, nothing that was struck."""
    corrected_litter(call)
    told = call.good("replay", "--as-corrected")
    known = call.good("replay")

    assert "As corrected: as if every line had been right and typed when it happened." in told
    assert "03:16:00             pup 2 bitch 290g blue\n" in told
    assert "02:56:00             contraction\n" in told
    assert "waters" not in told
    assert "strike" not in told
    assert "amend" not in told
    assert "03:34:00   !! CALL" in known
    assert "03:34:00" not in told
    assert "03:11:00    ! WATCH  Strong contractions began" in told


def test_a_litter_that_goes_on_is_told_to_the_present(call: Caller) -> None:
    """Nothing is told of an alert that has not come yet."""
    call.good("new", "--dam", "Bramble", "--no-input")
    call.later(5)
    call.good("log", "push")
    call.later(14)
    assert "WATCH" not in call.good("replay")
    call.later(1)
    assert "! WATCH" in call.good("replay")


def test_what_cannot_be_replayed_is_said(call: Caller, tmp_path: Path) -> None:
    """A file beside a litter, a litter that is not there, a record all of which was struck."""
    corrected_litter(call)
    assert call("replay", DEMO / "pup-stuck.night", "--litter", "bramble").code == 2
    assert call("replay", "--litter", "nobody").code == 2
    file = tmp_path / "struck.night"
    file.write_text("date: 2026-03-02\n\n02:00 rest\n02:01 strike 1\n", encoding="utf-8")
    said = call("replay", file, "--as-corrected")
    assert (said.code, said.out) == (2, "")
    assert "Every line of it was struck" in said.err
    assert "strike 1  [rest]" in call.good("replay", file)


def test_a_new_day_is_said(call: Caller) -> None:
    """Times alone would mean another day after midnight, and weeks of them nothing at all."""
    lines = call.good("replay", DEMO / "stalled-labour.night").splitlines()
    days = [line for line in lines if line == "Sun 12 Apr 2026"]
    assert len(days) == 1
    assert "          (quiet for 2 h 15 min)" in lines
    assert lines[lines.index("Sun 12 Apr 2026") + 1].startswith("00:12:00")

    weeks = call.good("replay", DEMO / "eight-weeks.night").splitlines()
    assert weeks[0].startswith("Juno, Labrador Retriever, 28.5 kg. The record of 08 January 2026")
    assert sum(line.endswith(" 2026") and line[:3].isalpha() for line in weeks) > 40


def test_in_a_pipe_steps_are_lines(call: Caller) -> None:
    """--step needs a terminal; without one the night is told, and --json is the same always.

    Why nothing is to be watched is said beside it, once, and not to somebody who asked for lines.
    """
    path = DEMO / "pup-stuck.night"
    assert call.good("replay", path, "--step") == call.good("replay", path)
    assert call("replay", path, "--step").err.count("\n") == 1
    assert "no terminal here to watch it on" in call("replay", path, "--step").err
    for words in ((), ("--step", "--plain"), ("--step", "--json")):
        assert not call("replay", path, *words).err
    assert call.good("replay", path, "--step", "--json") == call.good("replay", path, "--json")


def test_the_lesson_is_told_at_the_end(call: Caller, tmp_path: Path) -> None:
    """What the file says there is to learn."""
    file = tmp_path / "lesson.night"
    file.write_text("lesson: Ring early.\n" + SMALL.format("02:20"), encoding="utf-8")
    lines = call.good("replay", file).splitlines()

    assert "What it teaches: Ring early." in lines


def test_a_long_wait_is_said(call: Caller, monkeypatch: pytest.MonkeyPatch) -> None:
    """Making a record ready that takes longer than a moment is told beside the answer."""
    monkeypatch.setattr(replay, "_PATIENCE", 0.0)
    slow = screen

    def screened(*words: Any, **more: Any) -> Screening:  # noqa: ANN401 - handed on
        time.sleep(0.2)
        return slow(*words, **more)

    monkeypatch.setattr(replay, "screen", screened)
    said = call("replay", DEMO / "pup-stuck.night")
    assert said.code == 0
    assert said.err == "Making the night ready ...\n"


@pytest.mark.parametrize("words", [("nowhere.night",), (".",), ()])
def test_a_file_that_is_not_there(call: Caller, words: tuple[str, ...]) -> None:
    """One sentence, exit code 2."""
    said = call("replay", *words)

    assert (said.code, said.out) == (2, "")
