"""How answers are marked. Every number in here is our own choice; there is no source for them.

Each stop that asks for a level is worth 10 points. Too high costs 2, 4 or 6 of them by one, two
or three levels; too low costs 5, 9 or 10: too late is worse than too early.

Each rise to call or go at which the night stopped is worth more points: 10 for a call, 20 for a
go. The first stop after a limit is in time; from then on a minute late costs half a point (call)
or one (go), and where the limit is one of days an hour does; never costs all. Early costs
nothing here, for the stop itself has counted it.

The score is what is left of the points, in percent. Four things hold it down whatever the rest:
a go that was asked for twice and never chosen, or chosen more than half an hour late (39 at
most); a call that was asked for twice and never chosen (59 at most); ringing or leaving too
early at half or more of the stops at which nobody needs the vet, or leaving at half or more of
all stops without need, for whoever always rings has decided nothing (50 at most); and leaving
fewer than half of the calm stops in peace (60 at most).
What to do first and what to type are counted apart and are no part of the score. A drill that
was left before its end has none.
"""

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from typing import NamedTuple

from boxlamp.model.levels import Level
from boxlamp.training.drill.night import Choice, PastNight, nearest
from boxlamp.training.drill.points import Stop
from boxlamp.training.drill.rises import Rise

STOP_WORTH = 10
TOO_HIGH, TOO_LOW = (0, 2, 4, 6), (0, 5, 9, 10)
RISE_WORTH = {Level.CALL: 10, Level.GO: 20}
PER_MINUTE = {Level.CALL: 0.5, Level.GO: 1.0}
FAILED_MOST, MISSED_MOST, NERVOUS_MOST, RESTLESS_MOST = 39, 59, 50, 60
TOO_LATE = timedelta(minutes=30)
CHANCES = 2
"""So many stops must have asked for a level before it counts as missed."""
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
    level: str = ""
    """The level at which they stood, or which comes next; nothing where nothing ran."""


class Caught(NamedTuple):
    """When a rise to call or go was answered. ``late`` is nothing when it never was.

    A negative time is early: the person chose that level or more while the clock ran, and kept
    to it. The first stop after the limit is in time. ``open`` is true when the drill was left
    before it was over, ``asked`` how many stops asked for this level while it stood.
    """

    rise: Rise
    late: timedelta | None
    open: bool = False
    asked: int = 1

    @property
    def in_time(self) -> bool:
        """Whether it was answered at its limit or before."""
        return self.late is not None and self.late <= timedelta(0)

    @property
    def missed(self) -> bool:
        """Whether it was asked for more than once and never chosen."""
        return self.late is None and not self.open and self.asked >= CHANCES

    @property
    def far_too_late(self) -> bool:
        """Whether it was chosen so late that it is as good as missed."""
        return self.late is not None and self.late > TOO_LATE and not self.rise.slow


class Score(NamedTuple):
    """The score of the levels, and what held it down."""

    points: int
    """0 to 100; nothing was asked gives 0."""
    failed: bool
    """A go was missed, or chosen far too late."""
    missed: bool
    """A call was missed."""
    late: bool
    """A level was chosen late, or not at its one stop. It costs points and no more."""
    nervous: bool
    """Ringing or leaving too soon so often that it is no decision any more."""
    restless: bool
    """Fewer than half of the calm stops were left in peace."""

    @property
    def verdict(self) -> str:
        """The score in words: what held it down before what it came to."""
        said = (
            (self.failed, "Not this time: a moment to leave went by. Better here than at the box."),
            (self.missed, "Not yet: a moment to ring the vet was missed."),
            (self.nervous, "Safe, but too soon too often: calm is part of every whelping."),
            (self.restless, "Safe, but on edge: most calm stretches were not left in peace."),
            (
                self.late and self.points >= FAIRLY,
                "Nearly: a moment to ring or to leave was seen late, or not at its one stop.",
            ),
            (self.points >= WELL, "Well done: she was in good hands."),
            (self.points >= FAIRLY, "On the way."),
        )
        return next((words for so, words in said if so), "Not yet. The next night will be better.")


def mark_level(night: PastNight, at: datetime, chosen: Choice) -> LevelMark:
    """How one answer stands to what was right at that second."""
    fair, right = night.fair(at), night.right(at)
    best = min(fair, key=lambda choice: (abs(choice - chosen), -choice))
    rules, level = _behind(night, at)
    return LevelMark(at, chosen, right, chosen - best, Choice.CARRY_ON in fair, rules, level)


def _behind(night: PastNight, at: datetime) -> tuple[tuple[str, ...], str]:
    """The rules that make the worst level here; where nothing stands, that of the next limit."""
    verdict = night.verdict(at)
    if verdict.worst is not None:
        worst = [alert.rule.id for alert in verdict.alerts if alert.level == verdict.worst]
        return tuple(dict.fromkeys(worst)), verdict.worst.word
    ahead = nearest(verdict)
    return ((), "") if ahead is None else ((ahead.rule.id,), ahead.level.word)


def caught(stops: Sequence[Stop], marks: Mapping[datetime, LevelMark]) -> list[Caught]:
    """Every rise to call or go at which the night stopped, and when the answer to it came."""
    first = [stop for stop in stops if stop.kind == "level" and stop.rise is not None]
    asked = sorted(marks)
    over = len(asked) == sum(stop.kind == "level" for stop in stops)
    return [
        _caught(stop.rise, [marks[at] for at in asked], over=over)
        for stop in first
        if stop.rise is not None and stop.rise.level in RISE_WORTH and stop.at in marks
    ]


def _caught(rise: Rise, marks: Sequence[LevelMark], *, over: bool) -> Caught:
    stood = [mark for mark in marks if rise.at <= mark.at < rise.until]
    asked = sum(mark.right >= rise.level for mark in stood)
    # Less is enough where a vet had been told of it.
    if stood[0].chosen < rise.level and stood[0].off < 0:
        later = (mark.at - rise.at for mark in stood if mark.chosen >= rise.level or mark.off >= 0)
        late = next(later, None)
        return Caught(rise, late, open=late is None and not over, asked=asked)
    first = rise.at
    for mark in reversed([mark for mark in marks if rise.since <= mark.at < rise.at]):
        # A vet rung for what stood before was not rung for this.
        if mark.chosen < rise.level or mark.right >= rise.level:
            break
        first = mark.at
    return Caught(rise, first - rise.at, asked=asked)


def score(marks: Sequence[LevelMark], rises: Sequence[Caught]) -> Score:
    """The score of a night, by the rules at the top of this module."""
    worth = STOP_WORTH * len(marks) + sum(RISE_WORTH[one.rise.level] for one in rises)
    lost = sum(_lost_at(mark) for mark in marks) + sum(_lost_late(one) for one in rises)
    points = round(100 * (worth - lost) / worth) if worth else 0
    gone = [one for one in rises if one.rise.level is Level.GO]
    failed = any(one.missed or one.far_too_late for one in gone)
    missed = any(one.missed for one in rises)
    nervous, restless = _is_nervous(marks), _is_restless(marks)
    held = ((failed, FAILED_MOST), (missed, MISSED_MOST), (nervous, NERVOUS_MOST),
            (restless, RESTLESS_MOST))  # fmt: skip
    points = min([points, *(most for so, most in held if so)])
    late = any(not one.in_time and not one.missed and not one.open for one in rises)
    return Score(points, failed, missed, late, nervous, restless)


def _is_nervous(marks: Sequence[LevelMark]) -> bool:
    """Whether somebody rings or leaves so often that it is no decision any more."""
    quiet = [mark for mark in marks if mark.right <= Choice.WATCH]
    rung = sum(mark.chosen >= Choice.CALL and mark.off > 0 for mark in quiet)
    left = sum(mark.off > 0 for mark in marks if mark.chosen is Choice.GO)
    often = len(marks) >= _SEVERAL and 2 * left >= len(marks)
    return often or bool(quiet and 2 * rung >= len(quiet))


def _is_restless(marks: Sequence[LevelMark]) -> bool:
    """Whether most calm stops were not left in peace."""
    calm = [mark for mark in marks if mark.calm]
    return 2 * sum(mark.off == 0 for mark in calm) < len(calm)


def _lost_at(mark: LevelMark) -> int:
    return TOO_HIGH[mark.off] if mark.off > 0 else TOO_LOW[-mark.off]


def _lost_late(one: Caught) -> float:
    most = RISE_WORTH[one.rise.level]
    if one.late is None:
        return most
    unit = timedelta(hours=1) if one.rise.slow else timedelta(minutes=1)
    return min(float(most), max(0.0, one.late / unit) * PER_MINUTE[one.rise.level])
