from datetime import timedelta

import pytest

from boxlamp.attend.sound import AGAIN, STROKES, Sound
from boxlamp.engine import Verdict, assess
from boxlamp.model.happenings import Ack, Birth, Contraction, DamState, Part, What
from boxlamp.model.levels import ALERTS, Level
from boxlamp.model.story import Story
from support.made import at, told
from support.nights import DEFAULT


class Box:
    """What stands at the box, moment by moment, and what has sounded."""

    def __init__(self, *lines: tuple[float, What]) -> None:
        self.entries, self.sound = told(*lines), Sound()

    def hears(self, minutes: float) -> Level | None:
        """What sounds so many minutes after two."""
        return self.sound.due(self._verdict(minutes))

    def _verdict(self, minutes: float) -> Verdict:
        moment = at(minutes)
        return assess(Story(self.entries).until(moment), DEFAULT).verdict(moment)


COLLAPSED = (0.0, DamState(signs=("collapsed",)))
SHOWING = (0.0, Part(part="head"))
SECOND = 1 / 60


def test_silence_when_nothing_stands() -> None:
    """A quiet night is quiet."""
    box = Box((0, Contraction()))

    assert [box.hears(minute) for minute in range(10)] == [None] * 10


def test_each_level_is_announced_once() -> None:
    """When it is reached, at its own level; a watch never repeats."""
    box = Box((0, Contraction()))
    heard = {minute: box.hears(minute) for minute in (14, 15, 15.5, 16, 19)}

    assert heard == {14: None, 15: Level.WATCH, 15.5: None, 16: None, 19: None}
    assert box.hears(20) is Level.CALL
    assert box.hears(30) is Level.GO


@pytest.mark.parametrize(
    ("line", "level", "wait"),
    [(SHOWING, Level.CALL, timedelta(minutes=2)), (COLLAPSED, Level.GO, timedelta(seconds=30))],
)
def test_an_unheard_alert_sounds_again(
    line: tuple[float, What], level: Level, wait: timedelta
) -> None:
    """A call after two minutes, a go after thirty seconds; not a second before."""
    box = Box(line)
    minutes = wait.total_seconds() / 60

    assert AGAIN[level] == wait
    assert box.hears(0) is level
    assert box.hears(minutes - SECOND) is None
    assert box.hears(minutes) is level
    assert box.hears(2 * minutes - SECOND) is None
    assert box.hears(2 * minutes) is level


def test_a_heard_call_is_quiet() -> None:
    """Heard at its level, it does not sound again."""
    box = Box(SHOWING, (1, Ack()))

    assert box.hears(0) is Level.CALL
    assert [box.hears(minute) for minute in (2, 3, 4)] == [None] * 3


def test_a_heard_go_sounds_again() -> None:
    """After five minutes, for it is still true; then as if unheard, until it is heard again."""
    box = Box(COLLAPSED, (1, Ack()), (7, Ack()))

    assert box.hears(0) is Level.GO
    assert [box.hears(minute) for minute in (1, 2, 5.9)] == [None] * 3
    assert box.hears(6) is Level.GO
    assert box.hears(6.5) is Level.GO
    assert [box.hears(minute) for minute in (7, 8, 11.9)] == [None] * 3
    assert box.hears(12) is Level.GO


def test_an_escalation_sounds_though_the_lower_level_was_heard() -> None:
    """Hearing a call is no hearing of a go."""
    box = Box(SHOWING, (1, Ack()))
    box.hears(0)
    box.hears(1)

    assert box.hears(4.9) is None
    assert box.hears(5) is Level.GO


def test_an_alert_that_comes_back_sounds_again() -> None:
    """Cleared and raised anew is new."""
    box = Box(SHOWING, (1, Birth(pup=1)), (3, Part(part="head")))

    assert [box.hears(minute) for minute in (0, 1, 3)] == [Level.CALL, None, Level.CALL]


def test_the_highest_of_several_sounds() -> None:
    """One sound at a time, the worst."""
    box = Box(SHOWING, COLLAPSED)

    assert box.hears(0) is Level.GO


def test_a_clock_set_back_does_not_silence() -> None:
    """What sounded at a time that is now ahead sounds again at once, not in an hour."""
    box = Box(COLLAPSED)
    assert box.hears(60) is Level.GO

    assert box.hears(10) is Level.GO
    assert box.hears(10 + SECOND) is None
    assert box.hears(10.5) is Level.GO


def test_levels_differ_by_their_strokes() -> None:
    """One, two, three: told apart in the dark."""
    assert [STROKES[level] for level in ALERTS] == [1, 2, 3]
