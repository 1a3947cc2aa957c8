import signal
from collections.abc import Iterator
from pathlib import Path

import pytest
from prompt_toolkit.application import create_app_session
from prompt_toolkit.input import create_pipe_input
from prompt_toolkit.output import DummyOutput

from boxlamp.engine import Verdict
from boxlamp.model.happenings import Contraction, Rest
from boxlamp.training.player import player_of
from boxlamp.training.scene import show_of
from boxlamp.training.screening import screen
from boxlamp.training.stage import Stage
from support.made import at, told
from support.nights import DEFAULT, DEMO
from support.terminal import Terminal, terminal

NIGHT = str(DEMO / "stalled-labour.night")
RIGHT, LEFT, HOME, END = "\x1b[C", "\x1b[D", "\x1b[H", "\x1b[F"
LEFT_CLEAN = b"\x1b[?1049l"


@pytest.fixture
def watched(tmp_path: Path) -> Iterator[Terminal]:
    """A night being watched step by step in a terminal of 80 by 24."""
    with terminal(tmp_path / "journal.db", "replay", NIGHT, "--step") as opened:
        opened.wait("event 1 of 64")
        yield opened


def clean(opened: Terminal) -> bool:
    """Whether the screen was given back: the other one left, the cursor shown."""
    sent = opened.sent
    return LEFT_CLEAN in sent and sent.rfind(b"\x1b[?25h") > sent.rfind(b"\x1b[?25l")


def test_what_to_press_is_there_from_the_first_second(watched: Terminal) -> None:
    """The board, the bar, the time, the keys; and the same keys over any line."""
    assert watched.screen.display[0].startswith("Juniper")
    assert watched.screen.display[-1].startswith("space next  left back  n b alert  p play on")
    assert any(line.startswith("21:05  ") for line in watched.screen.display)


def test_the_keys_move_through_the_night(watched: Terminal) -> None:
    """Forth and back, from alert to alert, to both ends, and the help; letters do it as well."""
    for key, seen in (
        (" ", "event 2 of 64"), (RIGHT, "event 3 of 64"), (LEFT, "event 2 of 64"),
        (".", "event 3 of 64"), (",", "event 2 of 64"), ("n", "event 4 of 64"),
        ("n", "!! WATCH"[1:]), ("n", "!! CALL"), ("b", "01:49"), (HOME, "event 1 of 64"),
        ("?", "waiting for you"), ("?", "event 1 of 64"), (END, "Born 6, alive 6"),
        (LEFT, "event 64 of 64"), ("s", "event 1 of 64"), ("e", "Still stands: ! WATCH"),
        (" ", "event 1 of 64"), ("?", "waiting for you"), ("\x1b", "stopped"),
    ):  # fmt: skip
        watched.child.send(key)
        watched.wait(seen)


def test_it_plays_by_itself_and_stops(watched: Terminal) -> None:
    """The clock moves on; the space bar stops it there."""
    watched.child.send("p")
    watched.wait("60 times as fast")
    watched.child.send("+")
    watched.wait("120 times as fast")
    watched.wait("cut short")
    watched.wait("event 2 of 64")
    watched.child.send(" ")
    watched.wait("stopped")


def test_another_size_and_back(watched: Terminal) -> None:
    """At 40 by 16 and again at 80 by 24 the alert is whole and the keys are there."""
    for _ in range(3):
        watched.child.send("n")
    watched.wait("!! CALL")
    watched.resize(40, 16)
    watched.wait("space next  left back  ? help  q leave")
    watched.until(lambda: "4 more to come by the" in watched.shown, "the sentence")
    watched.resize(80, 24)
    watched.wait("4 more to come by the x-ray.")


@pytest.mark.parametrize(("key", "code"), [("q", 0), ("\x04", 0), ("\x03", 130)])
def test_leaving_gives_the_screen_back(watched: Terminal, key: str, code: int) -> None:
    """By q, Ctrl-D and Ctrl-C, which has its exit code."""
    watched.child.send(key)

    assert watched.left() == code
    assert clean(watched)
    assert b"Traceback" not in watched.sent


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGINT, signal.SIGHUP])
def test_a_signal_gives_the_screen_back(watched: Terminal, number: int) -> None:
    """As it would by a key, with the exit code of the signal."""
    watched.child.kill(number)

    assert watched.left() == 128 + number
    assert clean(watched)


def test_at_the_end_it_says_what_it_came_to(watched: Terminal) -> None:
    """On the screen, and again below it when it is left."""
    watched.child.send(END)
    watched.wait("The end: ")
    watched.child.send("q")

    assert watched.left() == 0
    after = watched.sent[watched.sent.rfind(LEFT_CLEAN) :].decode()
    assert "Born 6, alive 6, afterbirths 6, owed 0." in after
    assert f"boxlamp summary {NIGHT} -o night.pdf\r\n" in after  # whole, however long the path


def test_a_terminal_gets_the_telling_unless_it_is_to_be_watched(tmp_path: Path) -> None:
    """Without --speed or --step it tells, ends by itself, and says how to watch; or by --plain."""
    journal = tmp_path / "journal.db"
    for words, hint in (((NIGHT,), True), ((NIGHT, "--step", "--plain"), False)):
        with terminal(journal, "replay", *words) as opened:
            assert opened.left() == 0
            assert b"\x1b[?1049h" not in opened.sent
            assert b"Born 6, alive 6" in opened.sent
            assert (b"To watch it (or with --step):" in opened.sent) is hint
    with terminal(journal, "replay", NIGHT, "--step", TERM="dumb") as opened:
        assert opened.left() == 0
        assert b"\x1b" not in opened.sent


def test_no_colour_when_none_is_wanted(tmp_path: Path) -> None:
    """NO_COLOR and --no-color: bold and reverse only."""
    for words, more in (((), {"NO_COLOR": "1"}), (("--no-color",), {})):
        with terminal(tmp_path / "j.db", "replay", NIGHT, "--step", *words, **more) as opened:
            opened.wait("event 1 of 64")
            opened.child.send("q")
            assert opened.left() == 0
            assert b"38;5;" not in opened.sent
            assert b"48;5;" not in opened.sent


class Steady:
    """A steady clock that the test turns."""

    def __init__(self) -> None:
        self.now = 0.0

    def __call__(self) -> float:
        """The seconds that have gone by."""
        return self.now


def test_what_breaks_gives_the_screen_back_first(monkeypatch: pytest.MonkeyPatch) -> None:
    """An error in drawing ends the screen and is told by whoever called."""
    screening = screen(told((0, Rest()), (1, Contraction())), DEFAULT)

    def broken(_at: object) -> Verdict:
        raise LookupError("broken on purpose")

    with create_pipe_input() as pipe, create_app_session(input=pipe, output=DummyOutput()):
        stage = Stage(show_of(screening), player_of(screening))
        monkeypatch.setattr(screening, "verdict", broken)
        with pytest.raises(LookupError, match="broken on purpose"):
            stage.run()


def test_a_computer_that_slept_misses_nothing() -> None:
    """After hours without a tick the night goes on where it was; the help holds it too."""
    steady = Steady()
    screening = screen(told((0, Rest()), (2, Rest()), (4, Rest())), DEFAULT, until=at(60))
    with create_pipe_input() as pipe, create_app_session(input=pipe, output=DummyOutput()):
        stage = Stage(show_of(screening), player_of(screening), steady=steady)
        for _ in range(3):
            steady.now += 40_000
            assert not stage.tick()  # the first moment is still looked at
        steady.now += 40_000
        assert stage.tick()
        assert 0 < stage.player.place <= 60
        place = stage.player.place
        stage._help()
        steady.now += 10
        assert not stage.tick()
        stage._help()
        steady.now += 0.1
        stage.tick()
        assert place < stage.player.place < place + 10
