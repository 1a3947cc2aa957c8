"""What comes next is told when it is near enough to matter."""

from datetime import UTC, datetime

import pytest

from boxlamp.engine import assess
from boxlamp.language import read_night
from boxlamp.model.entry import Draft
from boxlamp.model.happenings import Note
from boxlamp.model.story import Story
from boxlamp.view.said import next_line
from boxlamp.view.words import typed_words
from support.nights import DEFAULT

NIGHT = """dam: Ash
date: 2026-03-02

02:00 pup 400g
02:05 afterbirth
02:20 milk 1
02:30 finished
09:00 vet seen
"""
ELEVENTH = "2026-03-11 08:00 weigh 1 760g\n"
FOURTEENTH = "2026-03-14 08:00 weigh 1 760g\n"


@pytest.mark.parametrize(
    ("weight", "day", "hour", "said"),
    [
        (ELEVENTH, 11, 8, "No clock runs towards another alert within a day."),
        (
            FOURTEENTH, 14, 9,
            "call in 49 h 00 min (Mon 16 Mar 10:00): Birth weight not doubled, pup 1",
        ),
        (
            FOURTEENTH, 15, 11,
            "call in 23 h 00 min (tomorrow 10:00): Birth weight not doubled, pup 1",
        ),
    ],
)  # fmt: skip
def test_a_slow_clock_is_named_when_it_is_near_or_already_loud(
    weight: str, day: int, hour: int, said: str
) -> None:
    """A clock of days that the board leaves out is told of a day ahead, or while it is an alert."""
    story = Story(read_night(NIGHT + weight, source="ash").entries)
    verdict = assess(story, DEFAULT).verdict(datetime(2026, 3, day, hour, tzinfo=UTC))
    assert next_line(verdict, UTC).removeprefix("Next: ") == said


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("19:40 green qqq", "green qqq"), ("~19:40 green qqq", "green qqq"),
        ("-5m green qqq", "green qqq"), ("21:00 green qqq", "21:00 green qqq"),
        ("19:40", "19:40"), ("25:99 green", "25:99 green"), ("green qqq", "green qqq"),
    ],
)  # fmt: skip
def test_an_unread_line_tells_its_time_once(text: str, shown: str) -> None:
    """Its own time stands beside it; a time that was not taken stays in its words."""
    at = datetime(2026, 3, 2, 19, 40, tzinfo=UTC)
    entry = Draft(at=at, text=text, what=Note(words=text, unread=True)).numbered(1, "night", at)

    assert typed_words(entry) == shown
