import json
from pathlib import Path

import pytest

from boxlamp.desk.files import read_record
from boxlamp.view.board import CAUTION
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
    return any(line.at is not None for line in read_record(str(path)).expected)


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

    assert ("expected alerts" in lines[-2]) == states_any(path)
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
    assert "The file states 2 expected alerts; 1 came at their second." in said.out
    assert "Expected and not seen: " in said.out


def test_a_calm_that_was_promised_and_broken_is_bad_news(call: Caller, tmp_path: Path) -> None:
    """`none call` is a promise as well: what comes in spite of it is named, with exit code 1."""
    file = tmp_path / "small.night"
    file.write_text(SMALL.format("02:20") + "#= none call\n", encoding="utf-8")
    said = call("replay", file)

    assert said.code == 1
    assert "The file states 2 expected alerts; 2 came at their second." in said.out
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
    assert call("replay", path, "--speed", "0").code == 2


@pytest.mark.parametrize("words", [("nowhere.night",), (".",), ()])
def test_a_file_that_is_not_there(call: Caller, words: tuple[str, ...]) -> None:
    """One sentence, exit code 2."""
    said = call("replay", *words)

    assert (said.code, said.out) == (2, "")
