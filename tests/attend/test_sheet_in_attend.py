"""The call sheet at the box: shown by a key, alive, and never in the way of a line."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from prompt_toolkit.application import Application, create_app_session
from prompt_toolkit.input import DummyInput
from prompt_toolkit.output import DummyOutput

from boxlamp.attend.console import Console
from boxlamp.attend.sitting import Sitting
from boxlamp.desk.writing import write
from boxlamp.journal import open_journal
from boxlamp.model.entry import Draft
from boxlamp.model.happenings import Details
from boxlamp.paper.reader import Reader
from support.boxes import Watch, seated, sitting_at
from support.terminal import Terminal, terminal

F12 = "\x1b[24~"
BACK = "F12 or Esc: back to the board."


@pytest.fixture
def journal(tmp_path: Path) -> Path:
    """A journal with a litter opened just now, and the vet's number in it."""
    path = tmp_path / "journal.db"
    now = datetime.now(UTC)
    known = Details(dam="Bramble", zone="Europe/Prague", vet="Dr Vrba", vet_phone="000 555 090",
                    travel_minutes=25)  # fmt: skip
    with open_journal(path) as book:
        book.open_litter("Bramble", opened=now, drafts=[Draft(at=now, what=known)])
    return path


@pytest.fixture
def console(journal: Path) -> Iterator[Terminal]:
    """The console in a terminal of 80 by 24, ready to be typed in."""
    with terminal(journal, "attend") as opened:
        opened.wait("F12 call sheet")
        yield opened


def texts(journal: Path) -> list[str]:
    """The lines that are in the journal."""
    with seated(journal) as here:
        return [entry.text for entry in here.entries[1:]]


def elsewhere(journal: Path, *lines: str) -> None:
    """Lines from another terminal."""
    now = datetime.now(UTC).replace(microsecond=0)
    with seated(journal) as here:
        for line in lines:
            write(here, line, now)


def on_sheet(opened: Terminal) -> bool:
    """Whether the sheet is what is seen."""
    return "REQUEST" in opened.shown and BACK[:20] in opened.shown


def test_a_key_shows_it_whole_and_takes_it_away(console: Terminal) -> None:
    """All of it at 80 by 24, from the number to the caution, with the line to type in."""
    console.child.send(F12)
    console.wait(BACK)
    console.wait("Dr Vrba, 000 555 090; 25 min away.")
    console.wait("the vet's word comes first.")
    assert "taller window" not in console.shown
    assert console.screen.display[23].rstrip().endswith(">")

    console.child.send(F12)
    console.wait("F12 call sheet")
    assert "REQUEST" not in console.shown
    console.child.send(F12)
    console.wait("REQUEST")
    console.child.send("\x1b")
    console.wait("F12 call sheet")


@pytest.mark.parametrize("word", ["sheet", "call-sheet"])
def test_a_word_shows_it_too(console: Terminal, journal: Path, word: str) -> None:
    """Typed like a line, and not written down as one."""
    console.type(word)
    console.press("enter")
    console.wait("REQUEST")

    assert console.prompt == ""
    assert texts(journal) == []


def test_half_a_line_stays_and_can_be_typed_on(console: Terminal, journal: Path) -> None:
    """Turning the sheet touches nothing; Enter writes the line and shows the board again."""
    console.type("pup dog 3")
    console.child.send(F12)
    console.wait("REQUEST")
    console.until(lambda: console.prompt == "pup dog 3", "the half line")
    console.type("12g")
    console.press("enter")
    console.wait("this is pup 1")

    assert "REQUEST" not in console.shown
    assert texts(journal) == ["pup dog 312g"]


def test_a_new_alert_is_its_first_line_at_once(console: Terminal, journal: Path) -> None:
    """And the bell rings for it; the sheet asks another question now."""
    console.child.send(F12)
    console.wait("May she wait?")
    rung = console.sent.count(b"\a")
    elsewhere(journal, "dam collapsed")
    console.until(lambda: console.screen.display[0].startswith("!!! GO"), "the alert")
    console.wait("I am about to leave with her.")
    console.until(lambda: console.sent.count(b"\a") >= rung + 3, "three strokes of the bell")


def test_a_push_is_written_with_the_sheet_in_view(console: Terminal, journal: Path) -> None:
    """With the telephone in one hand: the sheet stays, says it is written, and counts it."""
    console.child.send(F12)
    console.wait("REQUEST")
    console.press("f1")
    console.wait("2  ")
    console.wait("Last push at")
    console.until(lambda: "contraction strong" in console.screen.display[22], "the answer")

    assert texts(journal) == ["contraction strong"]
    assert "REQUEST" in console.shown


def test_a_birth_shows_the_board(console: Terminal) -> None:
    """A pup is on the straw: what to do for it is on the board."""
    console.child.send(F12)
    console.wait("REQUEST")
    console.press("f4")
    console.wait("Open the sac")

    assert "REQUEST" not in console.shown


def test_help_shows_the_board(console: Terminal) -> None:
    """The words need the lines that the sheet takes."""
    console.child.send(F12)
    console.wait("REQUEST")
    console.press("f9")
    console.wait("All words: `boxlamp words`")

    assert "REQUEST" not in console.shown


def test_a_line_that_raises_a_question_shows_it(console: Terminal, journal: Path) -> None:
    """Nothing is asked where it cannot be seen; Esc then answers the question first."""
    console.child.send(F12)
    console.wait("REQUEST")
    soon = (datetime.now(UTC) + timedelta(hours=2)).isoformat(timespec="minutes")
    console.type(f"{soon} temp 38.5")
    console.press("enter")
    console.wait("Enter: write it down as it stands.")

    assert "REQUEST" not in console.shown
    assert texts(journal) == []


@pytest.mark.parametrize("typed", ["21:25 part head", "3", "1"])
@pytest.mark.parametrize("shown", ["sheet", "board"])
def test_what_follows_escape_is_typed(
    console: Terminal, journal: Path, typed: str, shown: str
) -> None:
    """Esc acts at once: not even in one read does it take a figure away or press another key."""
    if shown == "sheet":
        console.child.send(F12)
        console.wait("REQUEST")
    console.child.send(f"\x1b{typed}")
    console.until(lambda: console.prompt == typed, "every sign that was typed")
    console.wait("F12 call sheet")

    assert texts(journal) == []


def test_escape_then_a_figure_drops_the_line_and_writes_nothing(
    console: Terminal, journal: Path
) -> None:
    """A question is dropped by Esc, and a figure typed at once after it begins the next line."""
    console.type("pup 9000g")
    console.press("enter")
    console.wait("Enter: write it down as it stands.")
    console.child.send("\x1b2")
    console.until(lambda: console.prompt == "2", "the next line")
    console.until(lambda: "Enter: write it" not in console.shown, "the question to go")

    assert texts(journal) == []


def test_escape_alone_closes_it_at_once(console: Terminal, journal: Path) -> None:
    """Nobody types into a sheet that is about to go: the wait is a part of what is usual."""
    console.child.send(F12)
    console.wait("REQUEST")
    console.child.send("\x1b")
    console.wait("F12 call sheet")

    with (
        create_app_session(input=DummyInput(), output=DummyOutput()),
        sitting_at(journal, Watch()) as here,
    ):
        app, usual = Console(here).app, Application[None]()
    assert app.ttimeoutlen is not None
    assert usual.ttimeoutlen is not None
    assert app.ttimeoutlen <= usual.ttimeoutlen / 4
    assert app.timeoutlen == app.ttimeoutlen


def test_a_question_stays_in_view_under_the_sheet(console: Terminal, journal: Path) -> None:
    """Enter is a yes only to what can be read; the sheet has the lines that are left."""
    console.type("pup 9000g")
    console.press("enter")
    console.wait("Enter: write it down as it stands.")
    console.child.send(F12)
    console.wait("REQUEST")
    console.until(lambda: "pup 9000g" in console.prompt, "the line asked about")
    assert "Enter: write it down as it stands." in console.shown
    assert "Esc: drop it." in console.shown
    console.child.send("\x1b")
    console.until(lambda: not console.prompt, "the line to go")
    console.wait(BACK)
    console.press("enter")
    console.child.send(F12)
    console.wait("F12 call sheet")

    assert texts(journal) == []


def test_a_small_window_shows_the_rest_with_a_key(console: Terminal, journal: Path) -> None:
    """PgDn and the arrows show what did not fit, and the last line says so."""
    elsewhere(journal, "discharge green", "temp 40.6", "dam dull", "part head", "given a thing")
    console.child.send(F12)
    console.wait("REQUEST")
    console.resize(60, 16)
    console.wait("more lines: PgDn")
    first = console.screen.display[0]
    for _ in range(4):
        console.child.send("\x1b[6~")
    console.wait("That is the end. PgUp: back.")
    assert "vet's word comes first." in console.shown
    for _ in range(4):
        console.child.send("\x1b[5~")
    console.until(lambda: console.screen.display[0] == first, "the beginning")
    console.child.send("\x1b[B")
    console.until(lambda: console.screen.display[0] != first, "one line further")
    console.child.send("\x1b[A")
    console.until(lambda: console.screen.display[0] == first, "the beginning again")


def test_the_arrows_leave_the_line_alone(console: Terminal) -> None:
    """An empty line is still empty after them: they move the sheet and not the history."""
    console.line("push weak")
    console.child.send(F12)
    console.wait("REQUEST")
    console.child.send("\x1b[A")
    console.type("x")

    assert console.prompt == "x"


def test_a_new_worst_alert_is_seen_however_far_it_was_turned(
    console: Terminal, journal: Path
) -> None:
    """The first lines come back by themselves."""
    elsewhere(journal, "discharge green", "dam dull", "given a thing")
    console.child.send(F12)
    console.wait("REQUEST")
    console.resize(60, 16)
    console.wait("more lines: PgDn")
    for _ in range(4):
        console.child.send("\x1b[6~")
    console.wait("That is the end.")
    elsewhere(journal, "dam collapsed")
    console.until(lambda: console.screen.display[0].startswith("!!! GO"), "the alert")


def test_f10_beside_the_key_of_the_sheet_leaves_only_when_pressed_again(
    console: Terminal, journal: Path
) -> None:
    """One press says so; another key takes it back; a half-typed line is there next time."""
    console.type("pup dog 31")
    console.child.send(F12)
    console.wait("REQUEST")
    console.press("f10")
    console.wait("F10 again leaves.")
    console.child.send("\x1b")
    console.wait("F12 call sheet")
    console.child.send(F12)
    console.wait(BACK)
    console.press("f10")
    console.wait("F10 again leaves.")
    console.press("f10")

    assert console.left() == 0
    with terminal(journal, "attend") as again:
        again.wait("F12 call sheet")
        assert again.prompt == "pup dog 31"


def test_f10_asks_again_while_an_alert_stands(console: Terminal, journal: Path) -> None:
    """Who leaves takes the alarm away with them."""
    elsewhere(journal, "dam collapsed")
    console.wait("!!! GO")
    console.press("f10")
    console.wait("An alert stands and would ring no more")
    assert console.child.isalive()
    console.press("f10")

    assert console.left() == 0


@pytest.mark.parametrize(("columns", "rows"), [(80, 14), (60, 16), (40, 10)])
def test_a_small_window_keeps_the_beginning(
    console: Terminal, journal: Path, columns: int, rows: int
) -> None:
    """The level, the number and what is wrong; then it says that there is more."""
    elsewhere(journal, "discharge green", "temp 40.6", "dam dull", "part head", "given a thing")
    console.child.send(F12)
    console.wait("REQUEST")
    console.resize(columns, rows)
    console.wait("more line")

    assert console.screen.display[0].startswith("!!")
    assert "000 555 090" in " ".join(console.screen.display[:3])


def test_it_moves_with_the_clock(tmp_path: Path) -> None:
    """Ages are those of now, in the clock and units the person has asked for."""
    watch = Watch()
    with sitting_at(tmp_path / "journal.db", watch) as sitting:
        sitting.enter("push strong")
        watch.later(minutes=3)
        [pushing] = [fact.words for fact in sitting.sheet().facts if fact.label == "pushing"]
        assert pushing == "Last push at 02:00, 3 min ago, strong."
        watch.later(minutes=40)
        assert sitting.sheet().facts[0].label == "!!! GO"
        reader = Reader(sitting.here.zone, "12h")
        other = Sitting(sitting.here, clock=watch.clock, reader=reader)
        words = " ".join(fact.words for fact in other.sheet().facts)
        assert "2:00 am" in words


@pytest.mark.parametrize(("columns", "rows"), [(80, 24), (50, 12)])
def test_two_long_numbers_stand_whole(
    console: Terminal, journal: Path, columns: int, rows: int
) -> None:
    """Each on a line of its own at the top, however small the window is."""
    numbers = "+44 1234 567 890 extension 41", "+44 7700 900 123"
    name = "Dr Agnes Fairweather-Thornbury of the Northgate Hospital"
    elsewhere(journal, f"set vet-phone {numbers[0]}", f"set night-phone {numbers[1]}")
    elsewhere(journal, f"set vet {name}", "discharge green", "temp 40.6", "dam dull", "part head")
    console.resize(columns, rows)
    console.child.send(F12)

    def stands(words: str) -> bool:
        return any(words in line for line in console.screen.display[:3])

    # The board names the vet as well, further down: wait for the top of the sheet.
    console.until(lambda: stands(numbers[0]) and stands(f"night {numbers[1]}"), "both numbers")
