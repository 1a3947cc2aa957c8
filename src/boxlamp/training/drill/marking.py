"""How answers are marked. Every number in here is our own choice; there is no source for them.

Each stop that asks for a level is worth 10 points. Too high costs 2, 4 or 6 of them by one, two
or three levels; too low costs 5, 9 or 10: too late is worse than too early.

Each rise to call or go at which the night stopped is worth more points: 10 for a call, 20 for a
go. A minute late costs half a point (call) or one (go); never costs all. Early costs nothing
here, for the stop itself has counted it.

The score is what is left of the points, in percent. Three things hold it down whatever the rest:
a go late or missed (39 at most), a call missed (59 at most), and ringing or leaving at half or
more of the stops at which nobody needs the vet, or leaving at half or more of all stops without
need, for whoever always rings has decided nothing (50 at most).
What to do first and what to type are counted apart and are no part of the score.
"""

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from typing import NamedTuple

from boxlamp.model.levels import Level
from boxlamp.training.drill.night import Choice, PastNight, Rise, nearest
from boxlamp.training.drill.points import Stop

STOP_WORTH = 10
TOO_HIGH, TOO_LOW = (0, 2, 4, 6), (0, 5, 9, 10)
RISE_WORTH = {Level.CALL: 10, Level.GO: 20}
PER_MINUTE = {Level.CALL: 0.5, Level.GO: 1.0}
FAILED_MOST, MISSED_MOST, NERVOUS_MOST = 39, 59, 50
WELL, FAIRLY = 85, 65
_SEVERAL = 3


class LevelMark(NamedTuple):
    """One answer to "what now?". ``off`` is in levels: above nothing too high, below too low."""

    at: datetime
    chosen: Choice
    right: Choice
    off: int
    calm: bool
    """Whether carrying on was right here."""
    rules: tuple[str, ...]
    """The rules behind what stood, or behind the clock that ran, the worst first."""


class Caught(NamedTuple):
    """When a rise to call or go was answered. ``late`` is nothing when it never was.

    A negative time is early: the person chose that level or more while the clock ran, and kept
    to it. ``open`` is true when the drill was left before it was over.
    """

    rise: Rise
    late: timedelta | None
    open: bool = False

    @property
    def in_time(self) -> bool:
        """Whether it was answered at its limit or before."""
        return self.late is not None and self.late <= timedelta(0)


class Score(NamedTuple):
    """The score of the levels, and what held it down."""

    points: int
    """0 to 100; nothing was asked gives 0."""
    failed: bool
    """A go was late or missed."""
    missed: bool
    """A call was never answered."""
    late: bool
    """A call was answered late. It costs its minutes and no more, but it is told."""
    nervous: bool
    """Ringing or leaving too soon so often that it is no decision any more."""

    @property
    def verdict(self) -> str:
        """The score in words."""
        if self.failed:
            return "Not this time: a moment to leave came and went. Better here than at the box."
        if self.missed:
            return "Not yet: a moment to ring the vet was missed."
        if self.nervous:
            return "Safe, but too soon too often: calm stretches are part of every whelping."
        if self.late and self.points >= FAIRLY:
            return "Nearly: ringing came a little late."
        if self.points >= WELL:
            return "Well done: she was in good hands."
        return "On the way." if self.points >= FAIRLY else "Not yet. The next night will be better."


def mark_level(night: PastNight, at: datetime, chosen: Choice) -> LevelMark:
    """How one answer stands to what was right at that second."""
    fair = night.fair(at)
    nearest = min(fair, key=lambda choice: (abs(choice - chosen), -choice))
    calm = Choice.CARRY_ON in fair
    return LevelMark(at, chosen, night.right(at), chosen - nearest, calm, rules_at(night, at))


def rules_at(night: PastNight, at: datetime) -> tuple[str, ...]:
    """The rules that make the worst level here; where nothing stands, that of the next limit."""
    verdict = night.verdict(at)
    if verdict.alerts:
        worst = [alert.rule.id for alert in verdict.alerts if alert.level == verdict.worst]
        return tuple(dict.fromkeys(worst))
    ahead = nearest(verdict)
    return () if ahead is None else (ahead.rule.id,)


def caught(stops: Sequence[Stop], marks: Mapping[datetime, LevelMark]) -> list[Caught]:
    """Every rise to call or go at which the night stopped, and when the answer to it came."""
    rises = [stop.rise for stop in stops if stop.kind == "level" and stop.rise is not None]
    asked = sorted(marks)
    over = len(asked) == sum(stop.kind == "level" for stop in stops)
    return [
        _caught(rise, [marks[at] for at in asked], over=over)
        for rise in rises
        if rise.level in RISE_WORTH and rise.at in marks
    ]


def _caught(rise: Rise, marks: Sequence[LevelMark], *, over: bool) -> Caught:
    since = [mark for mark in marks if rise.at <= mark.at < rise.until or mark.at == rise.at]
    if since[0].chosen < rise.level:
        later = (mark.at - rise.at for mark in since if mark.chosen >= rise.level)
        late = next(later, None)
        return Caught(rise, late, open=late is None and not over)
    first = rise.at
    for mark in reversed([mark for mark in marks if rise.since <= mark.at < rise.at]):
        # A vet rung for what stood before was not rung for this.
        if mark.chosen < rise.level or mark.right >= rise.level:
            break
        first = mark.at
    return Caught(rise, first - rise.at)


def score(marks: Sequence[LevelMark], rises: Sequence[Caught]) -> Score:
    """The score of a night, by the rules at the top of this module."""
    worth = STOP_WORTH * len(marks) + sum(RISE_WORTH[one.rise.level] for one in rises)
    lost = sum(_lost_at(mark) for mark in marks) + sum(_lost_late(one) for one in rises)
    points = round(100 * (worth - lost) / worth) if worth else 0
    failed = any(one.rise.level is Level.GO and not one.in_time for one in rises)
    missed = any(one.late is None and not one.open for one in rises)
    nervous = _is_nervous(marks)
    for held, most in ((failed, FAILED_MOST), (missed, MISSED_MOST), (nervous, NERVOUS_MOST)):
        points = min(points, most) if held else points
    late = any(not one.in_time and one.late is not None for one in rises)
    return Score(points, failed=failed, missed=missed, late=late, nervous=nervous)


def _is_nervous(marks: Sequence[LevelMark]) -> bool:
    """Whether somebody rings or leaves so often that it is no decision any more."""
    quiet = [mark for mark in marks if mark.right <= Choice.WATCH]
    rung = sum(mark.chosen >= Choice.CALL for mark in quiet)
    left = sum(mark.chosen > mark.right for mark in marks if mark.chosen is Choice.GO)
    often = len(marks) >= _SEVERAL and 2 * left >= len(marks)
    return often or bool(quiet and 2 * rung >= len(quiet))


def _lost_at(mark: LevelMark) -> int:
    return TOO_HIGH[mark.off] if mark.off > 0 else TOO_LOW[-mark.off]


def _lost_late(one: Caught) -> float:
    most = RISE_WORTH[one.rise.level]
    if one.late is None:
        return most
    minutes = max(0.0, one.late.total_seconds() / 60)
    return min(float(most), minutes * PER_MINUTE[one.rise.level])
