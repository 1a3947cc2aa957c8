"""What the vet said stands beside the alert it was said under, and takes nothing away."""

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest

from boxlamp.engine import Verdict, assess
from boxlamp.language import read_night
from boxlamp.model.entry import Entry
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.view.advice import vet_said
from boxlamp.view.board import board
from boxlamp.view.layout import fitted, full
from boxlamp.view.plain import plain_board
from boxlamp.view.said import alert_lines
from support.nights import DEFAULT

UTC_ZONE = ZoneInfo("UTC")
PUSHING = "01:00 waters clear\n01:10 contraction strong\n"
WAIT = f"{PUSHING}02:10 vet says wait another hour\n"
HEAD = "dam: Ash\ndate: 2026-03-02\nzone: UTC\nvet: Dr Novak\nvet-phone: 01234 567890\n\n"


def night(text: str, hour: int, minute: int, day: int = 2) -> tuple[Verdict, tuple[Entry, ...]]:
    """The verdict at a moment of a night, and its entries."""
    read = read_night(HEAD + text)
    at = datetime(2026, 3, day, hour, minute, tzinfo=UTC)
    story = Story(read.entries).until(at)
    return assess(story, DEFAULT).verdict(at), read.entries


def said(text: str, hour: int = 2, minute: int = 15, day: int = 2) -> str:
    """The sentence beside an alert, or nothing."""
    verdict, _ = night(text, hour, minute, day)
    found = vet_said(verdict, UTC_ZONE)
    return "" if found is None else found[1]


def test_it_is_said_on_the_board_and_in_every_answer_and_the_alert_stays() -> None:
    """Behind the number to ring; the go says what it said before."""
    verdict, entries = night(WAIT, 2, 15)
    model = board(verdict, entries, UTC_ZONE)
    words = "The vet said at 02:10: wait another hour."
    screens = [fitted(model, 80, 24), full(model, 80)]
    told = [["".join(part for _, part in line).strip() for line in screen] for screen in screens]
    told.append([line.strip() for line in alert_lines(verdict, UTC_ZONE)])

    for lines in told:
        leave = lines.index("Leave for the vet now and ring on the way.")
        assert lines[leave + 1 : leave + 3] == ["Dr Novak 01234 567890", words]
        assert lines.count(words) == 1
    assert verdict.alerts[0].level is Level.GO
    assert f"said\t{words}" in list(plain_board(model))
    assert not model.alerts[1].vet_said


def shows(text: str, hour: int, minute: int) -> list[str]:
    """The lines of a whole board."""
    verdict, entries = night(text, hour, minute)
    screen = full(board(verdict, entries, UTC_ZONE), 80)
    return ["".join(part for _, part in line) for line in screen]


def test_it_is_said_where_no_alert_stands_and_calm_does_not_outrank_it() -> None:
    """The vet may know better than the clocks; on the way and at the vet's it is past."""
    come, calm = "01:00 vet says come in now\n", "No alert now. Keep writing down what you see."
    lines = shows(come, 1, 5)
    said = lines.index("The vet said at 01:00: come in now.")
    assert lines[said + 1].startswith("No alert now; the vet's word comes first.")
    assert calm not in lines
    verdict, entries = night(come, 1, 5)
    assert "said\tThe vet said at 01:00: come in now." in [
        *plain_board(board(verdict, entries, UTC_ZONE))
    ]
    lines = shows(f"{come}01:02 left for vet\n", 1, 5)
    assert calm in lines
    assert "left for the vet 3 min ago · last entry 3 min ago" in lines


def test_no_vet_spoke_of_what_has_come_or_risen_since() -> None:
    """Words from before a level was reached excuse nothing of it."""
    assert said(f"{PUSHING}01:20 vet advised; wait\n", 1, 25) == ""
    assert said(f"{PUSHING}01:39 vet advised; wait\n", 1, 39) == "The vet said at 01:39: wait."
    assert said(f"{PUSHING}01:39 vet advised; wait\n", 1, 40) == ""
    verdict, _ = night(f"{WAIT}02:14 dam collapsed\n", 2, 15)
    assert verdict.alerts[0].rule.id == "dam-collapse"
    assert vet_said(verdict, UTC_ZONE) == (1, "The vet said at 02:10: wait another hour.")


def test_only_the_newest_words_that_are_surely_the_vets() -> None:
    """A call's words may be the caller's, and a line without words says nothing new."""
    assert said(f"{WAIT}02:11 vet called; they said come\n02:12 vet advised\n") == said(WAIT)
    assert said(f"{WAIT}02:12 vet advised; come at once!\n") == (
        "The vet said at 02:12: come at once!"
    )
    assert said(f"{PUSHING}02:10 vet called; they said wait\n") == ""
    assert said(f"{WAIT}02:11 strike 4\n") == ""


@pytest.mark.parametrize("after", ["02:12 left for vet", "02:12 vet arrived"])
def test_they_are_past_once_somebody_is_on_the_way_or_there(after: str) -> None:
    """Whoever waits no longer is not told that the vet said to wait."""
    assert said(f"{WAIT}{after}\n") == ""


def test_they_speak_for_half_a_day() -> None:
    """To the second, and with their day when it was another one."""
    text = f"{PUSHING}23:50 vet advised; wait\n"
    assert said(text, 11, 50, day=3) == "The vet said yesterday 23:50: wait."
    assert said(text, 11, 51, day=3) == ""


def test_long_words_are_not_cut_but_pointed_to() -> None:
    """Cut, they could say the opposite; whole, they would push alerts off the screen."""
    text = f"{PUSHING}~02:10 vet advised; {'wait and look ' * 20}\n"
    assert said(text) == "What the vet said at about 02:10 is written down: entry 4."
