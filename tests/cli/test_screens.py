import json
import subprocess
from pathlib import Path

import pytest

from boxlamp.view.text import width_of
from support.calls import PROGRAM, Caller, started, surroundings
from support.nights import DEMO

NIGHTS = {"pup-stuck": "21:50", "stalled-labour": "04:20", "normal-first-litter": "02:31:30"}
DAYS = {"pup-stuck": "2026-05-17", "stalled-labour": "2026-04-12",
        "normal-first-litter": "2026-03-02"}  # fmt: skip


@pytest.fixture(params=NIGHTS)
def night(request: pytest.FixtureRequest, call: Caller) -> tuple[Caller, str]:
    """A demo night taken in, and a moment of it."""
    call.good("import", DEMO / f"{request.param}.night")
    call.later(60 * 24 * 365)
    return call, f"{DAYS[request.param]} {NIGHTS[request.param]}"


@pytest.mark.parametrize("columns", [40, 80, 120, 300])
def test_the_board_keeps_to_the_width(
    night: tuple[Caller, str], columns: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """COLUMNS is honoured, and every alert's sentence, action and time is there in full."""
    call, at = night
    monkeypatch.setenv("COLUMNS", str(columns))
    out = call.good("board", "--at", at)

    assert all(width_of(line) <= columns for line in out.splitlines())
    told = " ".join(out.split())
    for alert in json.loads(call("check", "--json", "--at", at).out)["alerts"]:
        for sentence in (alert["message"], *alert["do"]):
            assert " ".join(sentence.split()) in told
    assert at.split()[1] in told


def test_plain_is_one_fact_a_line(night: tuple[Caller, str]) -> None:
    """Label, tab, values: every line; the worst alert is the first of the alerts."""
    call, at = night
    lines = call.good("board", "--plain", "--at", at).splitlines()

    labels = [line.split("\t")[0] for line in lines]
    assert set(labels) <= {"dam", "time", "phase", "count", "since", "alert", "do", "vet",
                           "reminder", "clock", "pup", "owed", "entry", "note",
                           "caution"}  # fmt: skip
    assert all("\t" in line for line in lines)
    levels = [line.split("\t")[1] for line in lines if line.startswith("alert\t")]
    assert levels == sorted(levels, key=["go", "call", "watch", "none"].index)


@pytest.mark.parametrize("words", [("board",), ("check",), ("board", "--plain"), ("words",),
                                   ("rules",), ("rules", "contraction-no-pup"), ("litters",),
                                   ("protocol", "show"), ("verify",), ("export",), ("due",),
                                   ("kit",)])  # fmt: skip
def test_a_pipe_gets_no_escape_sequences(bramble: Caller, words: tuple[str, ...]) -> None:
    """Nothing that moves a cursor or colours goes into a pipe."""
    done = started(*words, journal=bramble.journal)

    assert done.stdout
    assert b"\x1b" not in done.stdout + done.stderr


@pytest.mark.parametrize("words", [("board",), ("check",), ("board", "--plain"), ("words",),
                                   ("log", "note", "caf\u00e9"), ("litters",), ("check", "--json"),
                                   ("rules", "waters-no-pup"), ("due",), ("kit",)])  # fmt: skip
def test_a_terminal_without_unicode_is_served(bramble: Caller, words: tuple[str, ...]) -> None:
    """With an ASCII stream everything still works, each sign replaced by a plain one."""
    bramble.good("log", "pup", "dog", "mark", "\u017elut\u00e1")
    bramble.good("log", "note", "caf\u00e9")
    done = started(*words, journal=bramble.journal, PYTHONIOENCODING="ascii")

    assert done.returncode in {0, 1}
    assert done.stderr == b""
    assert done.stdout.isascii()
    if words == ("board",):
        assert b"caf?" in done.stdout


def test_an_export_is_utf8_whatever_the_terminal(bramble: Caller) -> None:
    """A file is a file: the terminal's encoding does not reach into it."""
    bramble.good("log", "note", "caf\u00e9")
    for form in ("jsonl", "night"):
        words = ("export", "--form", form)
        plain = started(*words, journal=bramble.journal)
        done = started(*words, journal=bramble.journal, PYTHONIOENCODING="ascii")
        assert done.stdout == plain.stdout
        assert "caf\u00e9".encode() in done.stdout


def in_a_terminal(words: list[str], journal: Path, **more: str) -> bytes:
    """What the program sends to a terminal."""
    pexpect = pytest.importorskip("pexpect")
    child = pexpect.spawn(
        str(PROGRAM), words, env=surroundings(journal, **more), dimensions=(30, 80), timeout=20
    )
    sent: bytes = child.read()
    child.close()
    return sent


def test_colour_in_a_terminal_and_none_with_no_color(bramble: Caller) -> None:
    """A terminal gets styles; NO_COLOR, TERM=dumb and --no-color get no colour."""
    bramble("log", "dam", "collapsed")
    yellow = (b"\x1b[1;7;33m", b"\x1b[33m", b";33m")

    assert any(code in in_a_terminal(["board"], bramble.journal) for code in yellow)
    for words, more in (
        (["board"], {"NO_COLOR": "1"}),
        (["board", "--no-color"], {}),
        (["board"], {"TERM": "dumb"}),
    ):
        sent = in_a_terminal(words, bramble.journal, **more)
        assert b"!!! GO" in sent
        assert not any(code in sent for code in yellow), more
    assert any(code in in_a_terminal(["board"], bramble.journal, NO_COLOR="") for code in yellow)


@pytest.mark.parametrize("words", ["words", f"replay {DEMO / 'stalled-labour.night'}", "rules"])
def test_a_closed_pipe_ends_quietly(bramble: Caller, words: str) -> None:
    """A reader that goes away (`| head -1`) is no error: no message, exit code 0."""
    with subprocess.Popen(
        [PROGRAM, *words.split()],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env=surroundings(bramble.journal),
    ) as program:
        assert program.stdout is not None
        assert program.stderr is not None
        program.stdout.close()
        assert program.stderr.read() == b""
        assert program.wait(timeout=20) == 0


def test_a_closed_pipe_does_not_hide_bad_news(bramble: Caller) -> None:
    """`check | true` still says by its exit code that something is wrong."""
    bramble("log", "dam", "collapsed")
    with subprocess.Popen(
        [PROGRAM, "check"], stdout=subprocess.PIPE, env=surroundings(bramble.journal)
    ) as program:
        assert program.stdout is not None
        program.stdout.close()
        assert program.wait(timeout=20) == 1


@pytest.mark.parametrize(
    "words", [("board", "--follow"), ("attend",), ("board", "--follow", "--plain")]
)
def test_what_needs_a_terminal_says_so(bramble: Caller, words: tuple[str, ...]) -> None:
    """Without a terminal the live screens refuse in a sentence."""
    said = bramble(*words)

    assert said.code == 2
    assert said.err.startswith("boxlamp: ")
    assert not said.out


def test_ctrl_c_ends_the_following_board(bramble: Caller) -> None:
    """Ctrl-C leaves `board --follow`, which gives the screen back, with exit code 130."""
    pexpect = pytest.importorskip("pexpect")
    child = pexpect.spawn(
        str(PROGRAM), ["board", "--follow"], env=surroundings(bramble.journal),
        dimensions=(24, 80), timeout=20,
    )  # fmt: skip
    child.expect("Bramble")
    bramble.good("log", "note", "seen in the other terminal")
    child.expect("seen in the other terminal")
    child.sendintr()
    child.expect(pexpect.EOF)
    child.close()

    assert b"\x1b[?1049l" in child.before
    assert child.exitstatus == 130


def test_ctrl_c_says_one_line(bramble: Caller) -> None:
    """Elsewhere Ctrl-C ends at once with exit code 130 and says that nothing was lost."""
    pexpect = pytest.importorskip("pexpect")
    child = pexpect.spawn(
        str(PROGRAM), ["replay", str(DEMO / "pup-stuck.night"), "--speed", "1", "--plain"],
        env=surroundings(bramble.journal), timeout=20,
    )  # fmt: skip
    child.expect("Pepper")
    child.sendintr()
    child.expect("Everything that was confirmed is kept")
    child.expect(pexpect.EOF)
    child.close()

    assert child.exitstatus == 130
