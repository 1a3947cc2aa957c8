"""Corrections of corrections in a night file mean what they mean at the console."""

import pytest

from boxlamp.language import Night, NightError, read_night
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Rest, Strike
from boxlamp.model.story import Story


def night(*lines: str) -> Night:
    return read_night("\n".join(("", "2026-03-01 02:00 pup dog 312g", *lines, "")))


def last(*lines: str) -> Entry:
    return night(*lines).entries[-1]


def test_a_line_that_was_brought_back_can_be_corrected_in_part() -> None:
    """A strike that is struck leaves the birth as it was, so the rest of it stays."""
    lines = ("02:01 strike 1", "02:02 strike 2", "02:03 amend 1 320g")
    [birth] = Story(night(*lines).entries).entries

    assert birth.what == Birth.model_validate({"pup": 1, "sex": "dog", "weight": 320})


def test_a_part_corrected_by_way_of_an_amend_stays_corrected() -> None:
    """The third correction knows what the second one changed."""
    lines = ("02:01 amend 1 320g", "02:02 amend 2 mark 1 red", "02:03 amend 1 sex 1 bitch")
    [birth] = Story(night(*lines).entries).entries

    assert birth.what == Birth.model_validate(
        {"pup": 1, "sex": "bitch", "weight": 320, "mark": "red"}
    )


def test_a_struck_amend_is_forgotten() -> None:
    """What it changed is as it was before."""
    lines = ("02:01 amend 1 320g", "02:02 strike 2", "02:03 amend 1 mark 1 red")
    [birth] = Story(night(*lines).entries).entries

    assert birth.what == Birth.model_validate(
        {"pup": 1, "sex": "dog", "weight": 312, "mark": "red"}
    )


def test_the_last_line_is_the_one_that_counts() -> None:
    """``last`` finds a line whose strike was struck."""
    assert last("02:01 rest", "02:02 strike 2", "02:03 strike 3", "02:04 strike last").what == (
        Strike(target=2)
    )
    assert last("02:01 rest").what == Rest()


def test_a_line_without_end_of_corrections_is_refused() -> None:
    """A hostile file cannot make each line cost more than the last."""
    lines = [f"02:{minute:02} rest" for minute in range(2)]
    lines += [f"amend 2 02:{number % 60:02}" for number in range(1_200)]
    with pytest.raises(NightError, match="too many corrections of entry 2"):
        night(*lines)
