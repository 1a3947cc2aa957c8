"""What a terminal gets that a file does not: words kept whole, and the worst said last."""

import io
from datetime import datetime
from zoneinfo import ZoneInfo

import pytest

from boxlamp.cli import screen
from boxlamp.cli.output import Output, as_typed
from boxlamp.cli.screen import recalled, show
from boxlamp.cli.show_board import _worst
from boxlamp.model.levels import Level
from boxlamp.view.layout import full
from boxlamp.view.telephones import telephones
from support.boxes import demo_board

LINE = "          Weigh it again in 12 hours, on the same scale and before a meal."


class Terminal(io.StringIO):
    """A stream that calls itself a terminal."""

    def isatty(self) -> bool:
        """It is one."""
        return True


def test_a_terminal_gets_whole_words(monkeypatch: pytest.MonkeyPatch) -> None:
    """A line longer than the screen is cut between words and keeps its indent."""
    monkeypatch.setenv("COLUMNS", "40")
    out = Terminal()
    Output(out).result(LINE)
    lines = out.getvalue().splitlines()
    assert len(lines) > 1
    assert all(len(line) <= 40 and line.startswith(" " * 10) for line in lines)
    assert " ".join(lines).split() == LINE.split()


def test_a_file_gets_the_line_as_it_is(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing is cut for a program that reads lines."""
    monkeypatch.setenv("COLUMNS", "40")
    out = io.StringIO()
    Output(out).result(LINE)
    assert out.getvalue() == LINE + "\n"


@pytest.mark.parametrize("across", [71, 72, 73, 40])
def test_a_line_to_type_is_never_cut(monkeypatch: pytest.MonkeyPatch, across: int) -> None:
    """Beside its words where both fit; else, on a line of its own, it still works when copied."""
    monkeypatch.setenv("COLUMNS", str(across))
    command = "boxlamp summary /home/somebody/nights/juniper.night -o night.pdf"
    err = Terminal()
    Output(io.StringIO(), err).offer("Paper", command)
    assert err.getvalue().splitlines() == (
        [f"Paper: {command}"] if across >= len(f"Paper: {command}") else ["Paper:", command]
    )


def test_a_line_that_cannot_be_shown_is_not_offered() -> None:
    """Copied, it would name another file; and no name of a file looks like an option."""
    err = Terminal()
    command = "boxlamp replay " + as_typed("a\nb.night")
    Output(io.StringIO(), err).offer("Wrote it. Watch it", command)
    assert err.getvalue() == "Wrote it. Watch it.\n"
    assert as_typed("-x.night") == "./-x.night"
    assert as_typed("it's mine.night") == """'it'"'"'s mine.night'"""
    assert as_typed("-") == "-"


def test_a_long_answer_ends_with_the_worst(monkeypatch: pytest.MonkeyPatch) -> None:
    """Only when it has scrolled away, and only when there is something to say."""
    monkeypatch.setenv("LINES", "24")
    monkeypatch.setenv("COLUMNS", "80")
    assert recalled("1 CALL. Ring the vet now.", 23) == []
    assert recalled("", 60) == []
    ((role, words),) = recalled("1 CALL. Ring the vet now.", 24)[0]
    assert (role, words) == ("call", "At the top, worst first: 1 CALL. Ring the vet now.")


def test_a_long_board_ends_with_what_to_do_and_whom_to_ring() -> None:
    """When the worst has scrolled off, its action and the vet's number, whole, stand at the end."""
    seen = demo_board("pup-stuck", datetime(2026, 5, 17, 21, 44, tzinfo=ZoneInfo("Europe/London")))
    told = _worst(seen)
    lines = ["".join(part for _, part in line) for line in recalled(told, 60)]

    assert seen.alerts[0].do[0] in told
    for number in telephones(seen.vet):
        assert any(number in line for line in lines)


def test_the_end_of_a_long_board_tells_what_hands_do_and_then_the_worst() -> None:
    """A pup to be helped at once stands above a call and takes none of its words away."""
    seen = demo_board("pup-stuck", datetime(2026, 5, 17, 21, 44, tzinfo=ZoneInfo("Europe/London")))
    gravest = next(line for line in seen.alerts if line.do)
    help_it = gravest._replace(level=Level.WATCH, message="Help it.", do=("Rub.", "Do not swing."))
    call = gravest._replace(level=Level.CALL, message="Limp.", do=("Warm it.", "Ring the vet now."))

    told = _worst(seen._replace(alerts=(help_it, call), vet="Dr Kay"))
    assert told == "1 CALL, 1 WATCH. Help it. Rub. Limp. Warm it. Ring the vet now. Dr Kay"
    assert _worst(seen._replace(alerts=(help_it,))) == _worst(seen._replace(alerts=())) == ""


@pytest.mark.parametrize(("name", "at"), [
    ("pup-stuck", datetime(2026, 5, 17, 21, 44, tzinfo=ZoneInfo("Europe/London"))),
    ("stalled-labour", datetime(2026, 4, 12, 4, 0, tzinfo=ZoneInfo("Europe/Prague"))),
])  # fmt: skip
@pytest.mark.parametrize("columns", [20, 40, 80, 120])
@pytest.mark.parametrize("colour", [True, False])
def test_a_file_gets_the_words_that_rich_would_write(
    monkeypatch: pytest.MonkeyPatch, name: str, at: datetime, columns: int, *, colour: bool
) -> None:
    """Byte for byte, though rich is not loaded for it."""
    monkeypatch.setenv("COLUMNS", str(columns))
    for forced in ("FORCE_COLOR", "TTY_COMPATIBLE"):
        monkeypatch.delenv(forced, raising=False)
    lines = full(demo_board(name, at), columns)
    bare, rich = Output(io.StringIO()), Output(io.StringIO())
    show(lines, bare, colour=colour)
    with monkeypatch.context() as patch:
        patch.setattr(screen, "_styled", lambda _output: True)
        show(lines, rich, colour=colour)
    assert isinstance(bare.out, io.StringIO)
    assert isinstance(rich.out, io.StringIO)
    assert bare.out.getvalue() == rich.out.getvalue()


@pytest.mark.parametrize("forced", ["FORCE_COLOR", "TTY_COMPATIBLE"])
def test_whoever_forces_colour_gets_it_in_a_file_too(
    monkeypatch: pytest.MonkeyPatch, forced: str
) -> None:
    """What rich honours still counts."""
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.setenv(forced, "1")
    output = Output(io.StringIO())
    show([[("go", "Ring now")]], output, colour=True)
    assert isinstance(output.out, io.StringIO)
    assert "\x1b[" in output.out.getvalue()
