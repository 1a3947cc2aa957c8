"""`boxlamp weights`: what it answers, in every form."""

import json
from pathlib import Path

import pytest

from boxlamp.view.text import width_of
from support.calls import Caller, started
from support.growing import BRAMBLE

AT = "2026-03-12 09:00"


@pytest.fixture
def grown(call: Caller, tmp_path: Path) -> Caller:
    """The command line, with the invented litter taken in."""
    night = tmp_path / "bramble.night"
    night.write_text(BRAMBLE, encoding="utf-8")
    call.good("import", night)
    call.later(60 * 24 * 365)
    return call


def test_the_table_and_the_chart(grown: Caller) -> None:
    """Without a pup: the table of the litter, then its chart, then the caution."""
    out = grown.good("weights", "--at", AT)

    assert out.startswith("Bramble: weights in g")
    assert out.index("Newest round") < out.index("Weight in %") < out.index("A memory aid")
    assert "Weight in %" not in grown.good("weights", "--at", AT, "--no-chart")


@pytest.mark.parametrize("words", [("pink",), ("6",), ("pup", "6"), ("pi",), ("#6",)])
def test_one_pup(grown: Caller, words: tuple[str, ...]) -> None:
    """A pup is named as in a line: by number, by mark, by a unique start of its mark."""
    out = grown.good("weights", *words, "--at", AT)

    assert out.startswith("Bramble: pup 6 (marked pink)")
    assert "Weight in g" in out
    assert "12 Mar 08:05" in out


@pytest.mark.parametrize(("word", "said"), [("9", "pup 9"), ("mauve", "mauve"), ("b", "b")])
def test_a_pup_that_is_not_there(grown: Caller, word: str, said: str) -> None:
    """A name that fits none, or two, ends with exit code 2 and says which pups there are."""
    answer = grown("weights", word)

    assert answer.code == 2
    assert said in answer.err
    assert "blue" in answer.err
    assert not answer.out


def test_another_moment(grown: Caller) -> None:
    """--at shows what had been weighed by then."""
    out = grown.good("weights", "--at", "2026-03-04 12:00", "--plain")

    assert "2026-03-04T08:05:00+01:00" in out
    assert "2026-03-05T08:05:00+01:00" not in out


def test_the_form_for_programs(grown: Caller) -> None:
    """--json gives one object: pups with their weights, rounds, and feeding when asked for."""
    data = json.loads(grown.good("weights", "--at", AT, "--json"))

    assert data["schema"] == 1
    assert data["litter"] == "bramble-2026-03-02"
    assert [pup["pup"] for pup in data["pups"]] == [1, 2, 3, 4, 5, 6, 7]
    assert data["pups"][0]["weights"][-1]["g"] == 570
    assert data["rounds"][-1]["total_g"] == 2596
    assert data["feeding"] is None
    [pup] = json.loads(grown.good("weights", "red", "--at", AT, "--json"))["pups"]
    assert pup["mark"] == "red"
    fed = json.loads(grown.good("weights", "--at", AT, "--json", "--feeding"))["feeding"]
    assert fed["week"] == 2
    assert fed["milk"][-1] == {
        "pup": 6, "g": 305.0, "warm_first": True, "measure_first": False, "milk": None,
    }  # fmt: skip


def test_one_record_a_line(grown: Caller) -> None:
    """--plain is label, tab, values."""
    lines = grown.good("weights", "--at", AT, "--plain", "--feeding").splitlines()

    assert {line.split("\t")[0] for line in lines} <= {
        "dam", "time", "alert", "pup", "weight", "milk", "reminder",
    }  # fmt: skip
    assert "weight\t1\t2026-03-12T08:05:00+01:00\t570 g" in lines


def test_feeding(grown: Caller) -> None:
    """--feeding adds milk and the dam's food; the cold pup is warmed first."""
    out = " ".join(grown.good("weights", "--at", AT, "--feeding").split())

    assert "34.6 °C at 08:30: warm first, do not feed." in out
    assert "97 to 143" in out
    assert "week 2 of nursing: 1169 to 1376 kcal a day." in out
    assert "Ask the vet which to follow" in out
    only = grown.good("weights", "red", "--at", AT, "--feeding")
    assert "97 to 143" in only
    assert "34.6" not in only


def test_nothing_weighed(bramble: Caller) -> None:
    """Before the first weight it says what to type, in every form without failing."""
    assert "No pup is written down yet" in bramble.good("weights")
    bramble.good("log", "pup", "dog", "red")
    out = " ".join(bramble.good("weights").split())
    assert "No pup has been weighed yet" in out
    assert "boxlamp log weigh 1 312g" in out
    assert json.loads(bramble.good("weights", "--json"))["pups"][0]["weights"] == []
    assert bramble.good("weights", "--plain", "--feeding")
    assert bramble.good("weights", "red", "--feeding")


@pytest.mark.parametrize("columns", [40, 80, 120, 300])
@pytest.mark.parametrize("words", [(), ("pink",), ("--feeding",)])
def test_the_width_is_kept(
    grown: Caller, columns: int, words: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    """COLUMNS is honoured, up to 120."""
    monkeypatch.setenv("COLUMNS", str(columns))
    out = grown.good("weights", *words, "--at", AT)

    assert all(width_of(line) <= min(columns, 120) for line in out.splitlines())


@pytest.mark.parametrize("words", [(), ("pink",), ("--feeding",), ("--plain",), ("--json",)])
def test_a_terminal_without_unicode_is_served(grown: Caller, words: tuple[str, ...]) -> None:
    """An ASCII stream gets plain signs, and a pipe no escape sequences."""
    done = started("weights", *words, "--at", AT, journal=grown.journal, PYTHONIOENCODING="ascii")

    assert done.returncode == 0, done.stderr
    assert done.stdout.isascii()
    assert b"\x1b" not in done.stdout
