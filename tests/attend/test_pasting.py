"""Pasting and one-key entries while another line stands in the input: nothing goes unsaid."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from support.boxes import Watch
from support.consoles import CODES, Seat

WEEK = 7 * 86_400


@pytest.fixture
def watch() -> Watch:
    """The clocks at the box."""
    return Watch()


@pytest.fixture
def seat(tmp_path: Path, watch: Watch) -> Iterator[Seat]:
    """Somebody at the console."""
    seat = Seat(tmp_path / "journal.db", watch)
    yield seat
    seat.close()


def texts(seat: Seat) -> list[str]:
    here = seat.sitting.here
    return [entry.text for entry in here.journal.entries(here.litter)[1:]]


def test_what_is_pasted_behind_a_question_is_another_line(seat: Seat) -> None:
    """As with typing on: the line asked about is kept, and the pasted one is read for itself."""
    seat.send("pup 9000g\r")
    assert seat.sitting.mood == "question"
    seat.paste("rest\n")

    assert texts(seat) == ["pup 9000g", "rest"]
    assert seat.text == ""


def test_pasting_nothing_behind_a_question_leaves_it(seat: Seat) -> None:
    """An empty paste is no typing on."""
    seat.send("pup 9000g\r")
    seat.paste("")

    assert (seat.sitting.mood, seat.text, texts(seat)) == ("question", "pup 9000g", [])


def test_pasted_lines_that_wait_behind_a_question_are_counted(seat: Seat) -> None:
    """The rest of a paste that stops at a question is not dropped without a word."""
    seat.paste("push\npup 9000g\nrest\n\nafterbirth\n")

    assert texts(seat) == ["push"]
    assert (seat.sitting.mood, seat.text) == ("question", "pup 9000g")
    assert "not taken: 2" in seat.sitting.message[-1]
    seat.press("enter")
    assert texts(seat) == ["push", "pup 9000g"]


def test_a_key_that_raises_a_question_beside_a_half_typed_line_is_refused(
    seat: Seat, watch: Watch
) -> None:
    """Enter would take the half-typed line, so nothing offers it as the answer."""
    seat.send("pup\r")
    watch.later(seconds=WEEK + 60)
    seat.tick()
    seat.send("weigh 1 30")
    seat.press("f1")

    assert (texts(seat), seat.text) == (["pup"], "weigh 1 30")
    assert seat.sitting.mood == "trouble"
    assert not any("Enter: write it down" in line for line in seat.sitting.message)
    assert "press F1 again" in seat.sitting.message[-1]


def test_a_key_that_raises_a_question_over_an_empty_input_is_asked_about(
    seat: Seat, watch: Watch
) -> None:
    """The key's line comes into the input, and Enter takes it as it stands."""
    seat.send("pup\r")
    watch.later(seconds=WEEK + 60)
    seat.tick()
    seat.press("f1")
    assert (seat.sitting.mood, seat.text) == ("question", "contraction strong")
    seat.press("enter")

    assert texts(seat) == ["pup", "contraction strong"]


def test_a_pasted_code_is_drawn_as_it_will_be_kept(seat: Seat) -> None:
    """What turns the writing round, or steers a terminal, never reaches the screen."""
    seat.paste("note \u202egnp \x9b2J \x1b[5n!")

    assert CODES.search(seat.sent) is None
    assert any("note \ufffdgnp \ufffd2J \ufffd[5n!" in line for line in seat.screen.display)
    seat.press("enter")
    assert texts(seat) == ["note \ufffdgnp \ufffd2J \ufffd[5n!"]


def test_what_a_paste_kept_only_as_notes_is_told_at_its_end(seat: Seat) -> None:
    """The answer to the last line never hides that an earlier one started no clock."""
    seat.paste("purple elephants everywhere\npush\n")

    assert texts(seat) == ["purple elephants everywhere", "push"]
    assert "ONLY as a note" in seat.sitting.message[-1]
    assert "purple elephants" in seat.sitting.message[-1]
