"""What comes next is told when it is near enough to matter."""

from datetime import UTC, datetime

import pytest

from boxlamp.engine import assess
from boxlamp.language import read_night
from boxlamp.model.story import Story
from boxlamp.view.said import next_line
from support.nights import DEFAULT

NIGHT = """dam: Ash
date: 2026-03-02

02:00 pup 400g
02:05 afterbirth
02:20 milk 1
02:30 finished
09:00 vet seen
2026-03-11 08:00 weigh 1 760g
"""


@pytest.mark.parametrize(
    ("day", "hour", "said"),
    [
        (11, 8, "No clock runs towards another alert within a day."),
        (14, 1, "call in 49 h 00 min (Mon 16 Mar 02:00): Birth weight not doubled, pup 1"),
        (15, 3, "call in 23 h 00 min (tomorrow 02:00): Birth weight not doubled, pup 1"),
    ],
)
def test_a_slow_clock_is_named_on_its_last_day(day: int, hour: int, said: str) -> None:
    """A clock of days that the board leaves out is told of a day ahead, and not before."""
    story = Story(read_night(NIGHT, source="ash").entries)
    verdict = assess(story, DEFAULT).verdict(datetime(2026, 3, day, hour, tzinfo=UTC))
    assert next_line(verdict, UTC).removeprefix("Next: ") == said
