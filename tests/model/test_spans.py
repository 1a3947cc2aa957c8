"""Lengths of time in words, and levels."""

from datetime import timedelta

import pytest

from boxlamp.model.levels import ALERTS, Level, pup_subject
from boxlamp.model.spans import in_words


@pytest.mark.parametrize(
    ("seconds", "words"),
    [
        (-5, "a moment"), (0, "a moment"), (4, "a moment"), (5, "5 s"), (59, "59 s"),
        (60, "1 min"), (61, "1 min 01 s"),
        (119, "1 min 59 s"), (120, "2 min"), (299, "4 min"),
        (300, "5 min"), (359, "5 min"), (3599, "59 min"),
        (3600, "1 h 00 min"), (7500, "2 h 05 min"), (259_199, "71 h 59 min"), (259_200, "3 d"),
        (273_600, "3 d 4 h"),
    ],
)  # fmt: skip
def test_in_words(seconds: int, words: str) -> None:
    """Cut to what matters, and never rounded up: an alert must not look due before it is."""
    assert in_words(timedelta(seconds=seconds)) == words


def test_levels_stand_in_order_and_can_be_told_apart_without_colour() -> None:
    """Each level has its own mark, word and meaning."""
    assert sorted(ALERTS) == [Level.WATCH, Level.CALL, Level.GO]
    assert [level.mark for level in Level] == ["-", "!", "!!", "!!!"]
    assert [level.word for level in ALERTS] == ["watch", "call", "go"]
    assert len({level.meaning for level in Level}) == 4


def test_a_pup_as_a_subject() -> None:
    """The name under which a pup's clocks run."""
    assert pup_subject(3) == "pup 3"
