"""What the alerts keep on a screen that is too small for all of them."""

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boxlamp.engine import assess
from boxlamp.language import read_night
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.view.board import AlertLine, Board, board
from boxlamp.view.layout import fitted, full
from boxlamp.view.telephones import dial_lines, only_numbers, telephones
from boxlamp.view.text import width_of
from support.nights import DEFAULT

DAY, NIGHT = "01234 567890", "+420 601 123 456"
GRAVE = f"""dam: Bramble
date: 2026-03-02
zone: UTC
vet: Dr Novak
vet-phone: {DAY}
night-phone: {NIGHT}
travel-minutes: 25

01:00 pup 300g red
01:05 pup 310g blue
01:06 pup limp white
01:40 part head
01:50 dam collapsed
01:55 discharge red heavy
01:56 cord 1 bleeding
02:00 discharge foul green
02:01 state 2 cold
02:02 dam vomited dull
"""
SIZES = st.tuples(st.integers(24, 130), st.integers(5, 60))


def grave(text: str = GRAVE) -> Board:
    """A litter with four GOs and more; ten past two."""
    night = read_night(text, source="grave")
    at = datetime(2026, 3, 2, 2, 10, tzinfo=UTC)
    verdict = assess(Story(night.entries), DEFAULT).verdict(at)
    return board(verdict, night.entries, ZoneInfo("UTC"))


def shown(model: Board, width: int, height: int) -> list[str]:
    """What the fitted board says, line by line."""
    lines = ["".join(part for _, part in line) for line in fitted(model, width, height)]
    assert len(lines) <= height
    assert all(width_of(line) <= width for line in lines)
    return lines


def told(lines: list[str]) -> str:
    """The same as one paragraph."""
    return " ".join(" ".join(lines).split())


@given(SIZES)
def test_what_to_do_and_whom_to_ring_outrank_all_other_titles(size: tuple[int, int]) -> None:
    """With four GOs the gravest keeps its first action and a number, whole, at every size."""
    model = grave()
    lines = shown(model, *size)

    assert model.alerts[0].level is Level.GO
    assert model.alerts[0].do[0] in told(lines)
    assert any(DAY in line or NIGHT in line for line in lines)


@pytest.mark.parametrize("size", [(80, 24), (80, 13), (50, 15), (50, 9), (40, 10)])
def test_on_usual_screens_the_gravest_is_whole_and_the_rest_counted(size: tuple[int, int]) -> None:
    """Sentence, first action and both numbers; each other alert is shown or counted."""
    model = grave()
    lines = shown(model, *size)
    words = told(lines)

    assert model.alerts[0].message in words
    assert any(DAY in line for line in lines)
    assert any(NIGHT in line for line in lines)
    titles = sum(line.lstrip().startswith("!") for line in lines)
    [counted] = [line for line in lines if line.startswith("and ") and ":" in line] or [""]
    left = len(model.alerts) - titles
    assert counted.startswith(f"and {left} more: ") if left else not counted


def test_the_alerts_without_a_line_are_counted_by_level() -> None:
    """One glance tells how many more and how grave."""
    lines = shown(grave(), 50, 9)

    assert lines[-1] == "and 6 more: 3 GO, 2 CALL, 1 WATCH"


def one(level: Level, message: str, *do: str, heard: str = "", at_once: bool = False) -> AlertLine:
    """An alert as the board has it."""
    return AlertLine(level, "x", "dam", message, do, "02:00", quiet=False, heard=heard,
                     at_once=at_once)  # fmt: skip


RING = "Ring the vet now."


@given(SIZES)
def test_a_thing_of_seconds_is_said_before_titles_of_watches(size: tuple[int, int]) -> None:
    """When any watch is on the screen, the cord to be pinched has been said, with the pinching."""
    watches = [one(Level.WATCH, f"Title {n}.", "Look.") for n in range(9)]
    cord = one(Level.CALL, "The cord bleeds.", "Pinch the cord and hold.", RING)
    grave_one = one(Level.GO, "She has collapsed.", "Leave for the vet now.")
    model = grave()._replace(alerts=(grave_one, cord, *watches))
    words = told(shown(model, *size))

    if "Title" in words:
        assert "The cord bleeds. Pinch the cord and hold." in words


def test_a_watch_of_seconds_keeps_its_step_too() -> None:
    """A cord that began to bleed just now is a watch, and the pinching is what matters."""
    cord = one(Level.WATCH, "The cord bleeds.", "Pinch the cord.", at_once=True)
    others = [one(Level.WATCH, f"Title {n}.", "Look.") for n in range(9)]
    model = grave()._replace(alerts=(one(Level.CALL, "Pus.", RING), cord, *others))

    assert "Pinch the cord." in told(shown(model, 80, 12))


def test_one_that_is_heard_gives_way_to_one_that_is_not() -> None:
    """Of two GOs the one nobody has heard keeps what to do; a lesser one never takes its place."""
    heard = one(Level.GO, "She collapsed.", "Leave for the vet now.", heard="02:05")
    unheard = one(Level.GO, "She bleeds.", "Leave at once.")
    watches = [one(Level.WATCH, f"Title {n}.", "Look.") for n in range(9)]
    words = told(shown(grave()._replace(alerts=(heard, unheard, *watches)), 60, 6))
    alone = told(shown(grave()._replace(alerts=(heard, *watches)), 60, 5))

    assert "She bleeds. Leave at once." in words
    assert "Leave for the vet now." in alone


def test_nobody_is_rung_while_the_vet_is_with_her() -> None:
    """Without a number, or with the vet there, the room goes to what to do."""
    words = told(shown(grave(f"{GRAVE}02:03 vet arrived\n"), 50, 9))

    assert "567890" not in words
    assert "Tell the vet who is with her" in words


@pytest.mark.parametrize("width", range(24, 130))
def test_a_number_is_never_broken(width: int) -> None:
    """On the whole board each number stands on one line wherever it stands."""
    for line in ("".join(part for _, part in line) for line in full(grave(), width)):
        assert width_of(line) <= width
        assert line.count("567890") == line.count(DAY)
        assert line.count("601 123") == line.count(NIGHT)


@given(st.text(max_size=60), st.integers(1, 60))
def test_whom_to_ring_loses_nothing(words: str, cells: int) -> None:
    """Whatever was typed for the vet is all there, in lines that fit."""
    lines = dial_lines(words, cells)

    assert "".join("".join(lines).split()) == "".join(words.split())
    assert all(width_of(line) <= max(cells, 2) for line in lines)


def test_numbers_are_told_from_other_figures() -> None:
    """A number has five figures or more; minutes and rooms are none."""
    words = f"Dr Novak, room 12, (01234) 567-890 ext 3 night {NIGHT}, 25 min away"

    assert list(telephones(words)) == ["(01234) 567-890", NIGHT]
    assert only_numbers(words) == f"(01234) 567-890, night {NIGHT}"
    assert only_numbers("Dr Novak, 25 min away") == ""
