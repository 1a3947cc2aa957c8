"""What the board says of a pup whose birth was struck, and of afterbirths nobody owes."""

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest

from boxlamp.engine import assess
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.paper.call_sheet.lines import sheet_lines
from boxlamp.paper.call_sheet.sheet import call_sheet
from boxlamp.paper.reader import Reader
from boxlamp.view.board import Board, board
from boxlamp.view.said import alert_lines
from support.nights import DEFAULT
from support.short_nights import clock, night_of

ZONE = ZoneInfo("UTC")
TWO = "02:00 pup red\n02:01 pup\n"


def shown(lines: str, minute: int) -> Board:
    """The board at a minute past two."""
    entries = night_of(lines)
    return board(assess(Story(entries), DEFAULT).verdict(clock(2, minute)), entries, ZONE)


@pytest.mark.parametrize(
    ("trouble", "message"),
    [
        ("state 1 not-breathing", "Help pup 1 (not written down) breathe now: not breathing, for"),
        ("cord 1 bleeding", "The cord of pup 1 (not written down) bleeds, for"),
    ],
)
def test_what_hands_do_at_once_stands_and_says_that_the_birth_is_gone(
    trouble: str, message: str
) -> None:
    """The slip may be in the strike; which line to take back else is said with what to do."""
    before = shown(f"{TWO}02:02 {trouble}\n", 5).alerts[0]
    after = shown(f"{TWO}02:02 {trouble}\n02:03 strike 2 typed twice\n", 5).alerts[0]

    assert before.level is after.level is Level.CALL
    assert after.message.startswith(message)
    assert after.do[:-1] == before.do
    assert after.do[-1] == "Is there no such pup? Take back what was said of it: `strike 4`."
    assert "pup 1 (marked red)" in before.message
    assert not shown(f"{TWO}02:02 {trouble}\n02:03 strike 2\n02:03 strike 4\n", 5).alerts


def test_every_answer_and_the_call_sheet_say_so_too() -> None:
    """Nobody is rung about a pup that cannot be found in the box without that being said."""
    lines = f"{TWO}02:02 state 1 not-breathing\n02:03 strike 2 typed twice\n"
    verdict = assess(Story(night_of(lines)), DEFAULT).verdict(clock(2, 5))
    told = "\n".join(alert_lines(verdict, UTC))
    sheet = call_sheet(verdict, Reader(ZONE))
    paper = "\n".join("".join(part for _, part in line) for line in sheet_lines(sheet, 200))

    assert "pup 1 (not written down)" in told
    assert "`strike 4`" in told
    assert "Pup 1 (not written down) is not breathing" in paper


def test_after_a_caesarean_no_afterbirth_is_one_too_many() -> None:
    """The head asks for a pup as long as the alert does; on the call sheet too."""
    early = "02:00 pup\n02:01 afterbirth\n02:02 afterbirth\n"
    one, two = shown(early, 5), shown(f"{early}02:03 afterbirth\n", 5)
    later = f"{early}02:03 caesarean\n02:10 pup\n"
    after = shown(later, 20)
    verdict = assess(Story(night_of(later)), DEFAULT).verdict(
        datetime(2026, 3, 2, 2, 20, tzinfo=UTC)
    )
    sheet = sheet_lines(call_sheet(verdict, Reader(ZONE)), 200)

    assert one.owed == "one afterbirth more than pups: is a pup not written down?"
    assert two.owed == "2 afterbirths more than pups: is a pup not written down?"
    assert [line.rule for line in one.alerts] == ["afterbirth-surplus"]
    assert after.owed == ""
    assert not after.alerts
    assert not any("more than pups" in part for line in sheet for _, part in line)


@pytest.mark.parametrize(
    ("typed", "state"),
    [
        ("limp", "limp"),
        ("not breathing", "limp or not breathing"),
        ("alive", ""),
    ],
)
def test_a_row_says_of_a_birth_what_its_line_said(typed: str, state: str) -> None:
    """Until it breathes; a state of its own is told as before."""
    lines = f"02:00 pup {typed}\n"

    assert shown(lines, 1).pups[0].state == state
    assert shown(f"{lines}02:01 breathing 1\n", 2).pups[0].state == ""
    assert shown(f"{lines}02:01 state 1 blue\n", 2).pups[0].state == "blue"
