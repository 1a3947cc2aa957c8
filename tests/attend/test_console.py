import re
import signal
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from prompt_toolkit.application import create_app_session
from prompt_toolkit.input import DummyInput
from prompt_toolkit.output import DummyOutput

from boxlamp.attend.console import Console
from boxlamp.attend.halftyped import HalfTyped
from boxlamp.attend.sitting import Sitting
from boxlamp.desk.writing import write
from boxlamp.journal import open_journal
from boxlamp.journal.verify import verify
from boxlamp.model.entry import Draft
from boxlamp.model.happenings import Details
from support.boxes import seated
from support.calls import started
from support.terminal import Terminal, terminal


@pytest.fixture
def journal(tmp_path: Path) -> Path:
    """A journal with a litter opened just now."""
    path = tmp_path / "journal.db"
    opening = Draft(at=datetime.now(UTC), what=Details(dam="Bramble", zone="Europe/Prague"))
    with open_journal(path) as book:
        book.open_litter("Bramble", opened=datetime.now(UTC), drafts=[opening])
    return path


@pytest.fixture
def console(journal: Path) -> Iterator[Terminal]:
    """The console in a terminal of 80 by 24, ready to be typed in."""
    with terminal(journal, "attend") as opened:
        ready(opened)
        yield opened


def ready(opened: Terminal) -> None:
    """Wait for the board, the message, the input and the keys."""
    opened.wait("Type what you see, then Enter.")
    opened.wait("F10 leave")


def texts(journal: Path) -> list[str]:
    """The lines that are in the journal."""
    with seated(journal) as here:
        return [entry.text for entry in here.entries[1:]]


def elsewhere(journal: Path, line: str) -> None:
    """A line from another terminal."""
    with seated(journal) as here:
        write(here, line, datetime.now(UTC).replace(microsecond=0))


def test_a_line_is_typed_kept_and_shown(console: Terminal, journal: Path) -> None:
    """The answer stands under the board, the pup in its table, the entry in the journal."""
    console.line("pup dog 312g red")
    console.wait("this is pup 1")
    console.wait("312 g")
    console.wait("Open the sac")

    assert texts(journal) == ["pup dog 312g red"]


def test_the_board_ticks_while_a_line_is_half_typed(console: Terminal) -> None:
    """The clock at the top moves on; the half-typed text stays where it is."""
    console.type("pup dog 3")

    def clock() -> str:
        return console.screen.display[0].rstrip()[-8:]

    first = clock()
    console.until(lambda: clock() not in {first, ""}, "the clock to tick")
    second = clock()
    console.until(lambda: clock() != second, "the clock to tick again")
    assert console.prompt == "pup dog 3"


def test_an_alert_does_not_touch_the_half_typed_line(console: Terminal, journal: Path) -> None:
    """It comes onto the board with its action, the bell rings; typing goes on undisturbed."""
    console.type("temp 3")
    rung = console.sent.count(b"\a")
    elsewhere(journal, "dam collapsed")
    console.wait("!!! GO")
    console.wait("Leave for the vet now")
    console.until(lambda: console.sent.count(b"\a") >= rung + 3, "three strokes of the bell")

    assert console.prompt == "temp 3"
    console.line("8.5")
    assert texts(journal) == ["dam collapsed", "temp 38.5"]


def test_the_bell_is_silent_while_nothing_is_wrong(console: Terminal) -> None:
    """No alert, no bell."""
    console.line("rest")
    console.wait("rest")

    assert b"\a" not in console.sent


def test_the_keys_write_lines(console: Terminal, journal: Path) -> None:
    """F1 to F6 write, F7 acknowledges, F8 takes back, F9 helps."""
    wanted = ["contraction strong", "contraction weak", "rest", "pup", "afterbirth", "milk 1"]
    for place, text in enumerate(wanted, start=1):
        console.press(f"f{place}")
        console.until(lambda: texts(journal)[-1:] == [text], text)  # noqa: B023 - used at once
    console.press("f8")
    console.wait("Took back 7: milk 1")
    console.press("f9")
    console.wait("All words: `boxlamp words`")
    console.press("f7")
    console.wait("No alert stands, so there is nothing to acknowledge.")

    assert texts(journal)[:6] == wanted


def test_keys_do_not_touch_the_half_typed_line(console: Terminal, journal: Path) -> None:
    """A push while a weight is being typed is one key, and the weight goes on."""
    console.type("weigh 1")
    console.press("f1")
    console.until(lambda: texts(journal) == ["contraction strong"], "the push")

    assert console.prompt == "weigh 1"


def test_an_unheard_alert_is_heard_with_a_key(console: Terminal) -> None:
    """F7 quietens; the alert stays on the board and says when it was heard."""
    console.line("dam collapsed")
    console.wait("!!! GO")
    console.press("f7")
    console.wait("[heard ")
    assert "!!! GO" in console.shown


def test_a_question_is_answered_with_enter(console: Terminal, journal: Path) -> None:
    """The line stays in the input; Enter writes it as it stands, a change asks no more."""
    console.type("pup 9000g")
    console.press("enter")
    console.wait("Enter: write it down as it stands")
    assert (console.prompt, texts(journal)) == ("pup 9000g", [])
    console.press("backspace")
    console.until(lambda: "Enter: write it" not in console.shown, "the question to go")
    console.type("g")
    console.press("enter")
    console.wait("Enter: write it down as it stands")
    console.press("enter")
    console.wait("this is pup 1")

    assert texts(journal) == ["pup 9000g"]


def test_typing_on_after_a_question_begins_another_line(console: Terminal, journal: Path) -> None:
    """What is typed next never sticks to the line asked about, and that line is kept."""
    console.type("pup 9000g")
    console.press("enter")
    console.wait("Enter: write it down as it stands")
    console.child.send("r")
    console.until(lambda: console.prompt == "r", "another line")
    console.type("est")
    console.press("enter")
    console.until(lambda: len(texts(journal)) == 2, "both lines")

    assert texts(journal) == ["pup 9000g", "rest"]


def test_escape_drops_a_line_that_was_asked_about(console: Terminal, journal: Path) -> None:
    """It was not meant: the input is empty again and nothing is written down."""
    console.type("pup 9000g")
    console.press("enter")
    console.wait("Enter: write it down as it stands")
    console.child.send("\x1b")
    console.until(lambda: not console.prompt, "the line to go")

    assert texts(journal) == []


def test_words_are_completed(console: Terminal) -> None:
    """Tab takes the first offer."""
    console.type("afterb")
    console.wait("afterbirth")
    console.press("tab")
    console.until(lambda: console.prompt == "afterbirth", "the completion")


def test_another_size_and_back(console: Terminal) -> None:
    """At 40 by 12 everything that matters is there, and again at 80 by 24."""
    console.line("dam collapsed")
    console.type("temp 3")
    console.resize(40, 12)
    console.wait("!!! GO")
    console.until(lambda: console.prompt == "temp 3", "the input")
    assert "F10" not in console.shown
    console.resize(80, 24)
    console.wait("F10 leave")
    console.wait("Leave for the vet now")
    assert console.prompt == "temp 3"


def test_f10_leaves_a_clean_screen(console: Terminal, journal: Path) -> None:
    """Exit code 0, the terminal as it was, and a word that everything is kept."""
    console.line("push")
    console.type("pup dog 31")
    console.press("f10")

    assert console.left() == 0
    assert b"\x1b[?1049l" in console.sent
    assert console.sent.rstrip().endswith(b"2 entries are kept.")
    with terminal(journal, "attend") as again:
        again.wait("Half typed last time, and not written down: pup dog 31")
        again.wait("Esc clears it.")
        assert again.prompt == "pup dog 31"


@pytest.mark.parametrize(("keys", "code"), [(("c-d",), 0), (("c-c", "c-c"), 130)])
def test_other_ways_to_leave(console: Terminal, keys: tuple[str, ...], code: int) -> None:
    """Ctrl-D on an empty line leaves; Ctrl-C asks for a second one."""
    console.press(keys[0])
    if len(keys) > 1:
        console.wait("Ctrl-C again leaves")
        console.press(keys[1])

    assert console.left() == code


def test_typed_leave_leaves(console: Terminal, journal: Path) -> None:
    """`quit` is no note."""
    console.type("quit")
    console.press("enter")

    assert console.left() == 0
    assert texts(journal) == []


@pytest.mark.parametrize("how", ["hangup", "closed", "terminated"])
def test_a_terminal_that_goes_away_loses_nothing(journal: Path, how: str) -> None:
    """Confirmed lines are in the journal and the half-typed one comes back next time."""
    with terminal(journal, "attend") as first:
        ready(first)
        first.line("push")
        first.type("pup dog 31")
        if how == "closed":
            first.take_away()
            first.gone()
        else:
            first.child.kill(signal.SIGHUP if how == "hangup" else signal.SIGTERM)
            assert first.left() == 128 + (signal.SIGHUP if how == "hangup" else signal.SIGTERM)
            assert b"Traceback" not in first.sent

    assert texts(journal) == ["push"]
    with terminal(journal, "attend") as again:
        again.wait("Half typed last time, and not written down: pup dog 31")
        again.wait("Esc clears it.")
        assert again.prompt == "pup dog 31"
        again.line("2g")
        again.wait("this is pup 1")
    assert texts(journal) == ["push", "pup dog 312g"]


def test_escape_clears_what_was_left_half_typed(journal: Path) -> None:
    """A line of another night is dropped with one key, and that it was is said."""
    HalfTyped(journal).save("temp 3")
    with terminal(journal, "attend") as opened:
        opened.wait("Half typed last time, and not written down: temp 3")
        opened.child.send("\x1b")
        opened.wait("Cleared: it was not written down.")
        opened.until(lambda: opened.prompt == "", "the line to be empty")
    assert texts(journal) == []
    assert HalfTyped(journal).restore() == ""


def test_killed_in_the_middle_no_confirmed_line_is_lost(journal: Path) -> None:
    """After kill -9 the record is whole and the next start goes on from it."""
    with terminal(journal, "attend") as first:
        ready(first)
        for number in range(1, 4):
            first.line(f"note {number}")
            first.wait(f"note {number}")
        first.child.send("note 4\r")
        first.child.kill(signal.SIGKILL)
        assert first.left() == -signal.SIGKILL

    kept = texts(journal)
    assert kept[:3] == ["note 1", "note 2", "note 3"]
    assert kept[3:] in ([], ["note 4"])
    assert verify(journal).ok
    with terminal(journal, "attend") as again:
        again.wait("F10 leave")
        assert again.prompt in {"", "note 4"[: len(again.prompt)]}


def test_a_line_that_was_kept_does_not_come_back_half_typed(journal: Path) -> None:
    """With the very Enter that confirms it the saved half-typed line is gone, not a second later.

    Were the program killed in that second, the line would be written down twice.
    """
    with (
        seated(journal) as here,
        create_app_session(input=DummyInput(), output=DummyOutput()),
    ):
        console = Console(Sitting(here, clock=lambda: datetime.now(UTC).replace(microsecond=0)))
        half = HalfTyped(journal)
        console.input.text = "pup 9000g"
        console._half.save("pup 9000g")
        console.input.validate_and_handle()
        assert (console.input.text, half.restore()) == ("pup 9000g", "pup 9000g")
        console.input.validate_and_handle()
        assert (console.input.text, half.restore()) == ("", "")

    assert texts(journal) == ["pup 9000g"]


def test_hostile_lines_do_not_disturb_the_screen(console: Terminal, journal: Path) -> None:
    """What another terminal wrote moves no cursor here."""
    elsewhere(journal, "note \x1b[2J\x1b[31mred \u202egnp [bold]x[/bold]")
    console.wait("[bold]x[/bold]")

    assert "Bramble" in console.screen.display[0]
    assert b"\x1b[31mred" not in console.sent


def test_a_command_sounds_beside_the_bell(journal: Path, tmp_path: Path) -> None:
    """--sound runs a person's own command, which finds the level in BOXLAMP_LEVEL."""
    heard = tmp_path / "heard"
    command = f"/bin/sh -c 'echo $BOXLAMP_LEVEL > {heard}.new && mv {heard}.new {heard}'"
    with terminal(journal, "attend", "--sound", command) as opened:
        ready(opened)
        opened.line("dam collapsed")
        opened.until(heard.exists, "the command to run")

    assert heard.read_text(encoding="utf-8") == "go\n"


@pytest.mark.parametrize("command", ["/no/such/program", "false"])
def test_a_sound_that_fails_disturbs_nothing(journal: Path, command: str) -> None:
    """The console goes on and the bell rings."""
    with terminal(journal, "attend", "--sound", command) as opened:
        ready(opened)
        opened.line("dam collapsed")
        opened.until(lambda: b"\a" in opened.sent, "the bell")
        opened.line("rest")


def test_a_sound_that_cannot_be_read_is_refused(journal: Path) -> None:
    """An unclosed quote is refused before the console opens."""
    with terminal(journal, "attend", "--sound", "play 'x") as opened:
        assert opened.left() == 2
        assert b"--sound" in opened.sent


@pytest.mark.parametrize("more", [{"TERM": "dumb"}, {"NO_COLOR": "1"}, {"LC_ALL": "C",
                                  "PYTHONIOENCODING": "ascii"}])  # fmt: skip
def test_poor_terminals_are_served(journal: Path, more: dict[str, str]) -> None:
    """Without colour, without Unicode, even without cursor movement a line can be typed."""
    with terminal(journal, "attend", **more) as opened:
        opened.until(lambda: b"Bramble" in opened.sent, "the board")
        opened.child.send("pup dog 312g\r")
        opened.until(lambda: texts(journal) == ["pup dog 312g"], "the pup")
        opened.press("f10")
        assert opened.left() == 0
        assert b"Traceback" not in opened.sent


def test_the_other_terminal_follows(console: Terminal, journal: Path) -> None:
    """What is typed at the console is on a board that follows, without being asked."""
    with terminal(journal, "board", "--follow") as other:
        other.wait("Bramble")
        console.line("pup bitch 301g")
        other.wait("301 g")


def test_it_needs_a_terminal(journal: Path) -> None:
    """In a script it says what to use instead."""
    done = started("attend", journal=journal)

    assert done.returncode == 2
    assert b"boxlamp log LINE" in done.stderr


def test_pasted_lines_are_an_entry_each(console: Terminal, journal: Path) -> None:
    """Several lines pasted at once are several entries; what has no line end stays typed."""
    console.child.send("\x1b[200~push\nrest\npup m 310g blue\nhalf a li\x1b[201~")
    console.wait("half a li")

    assert texts(journal) == ["push", "rest", "pup m 310g blue"]


def test_a_key_over_a_question_takes_the_line_out_of_the_input(
    console: Terminal, journal: Path
) -> None:
    """Whoever presses a key has not answered; nothing typed later is glued to the line."""
    console.type("pup 9000g")
    console.press("enter")
    console.wait("Enter: write it down as it stands")
    console.press("f1")
    console.until(lambda: len(texts(journal)) == 2, "both lines")
    console.wait("Kept ONLY as a note, no clock runs for it: pup 9000g")
    console.line("rest")
    console.until(lambda: len(texts(journal)) == 3, "the third line")

    assert texts(journal) == ["pup 9000g", "contraction strong", "rest"]


def test_a_question_that_left_the_screen_leaves_its_line_alone(
    console: Terminal, journal: Path
) -> None:
    """Esc still drops it, and what is typed next is another line."""
    console.type("pup 9000g")
    console.press("enter")
    console.wait("Enter: write it down as it stands")
    console.press("f9")
    console.until(lambda: "Enter: write it" not in console.shown, "the question to go")
    console.child.send("\x1b")
    console.until(lambda: not console.prompt, "the line to go")

    assert texts(journal) == []


@pytest.mark.parametrize("length", [71, 80, 240])
def test_after_a_long_line_the_prompt_is_whole_again(console: Terminal, length: int) -> None:
    """The line pushes the prompt with its clock out only while it is there."""
    console.child.send("note " + "x" * (length - 5))
    console.wait("x" * 60)
    console.press("enter")
    whole = re.compile(r"\d\d:\d\d:\d\d >\s*\Z")
    console.until(lambda: any(map(whole.match, console.screen.display)), "the whole prompt")
