from datetime import datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boxlamp.model.happenings import Birth, Contraction, Expect, Finished
from boxlamp.model.levels import Level
from boxlamp.training.drill.marking import (
    FAILED_MOST,
    MISSED_MOST,
    NERVOUS_MOST,
    TOO_HIGH,
    TOO_LOW,
    Caught,
    LevelMark,
    caught,
    mark_level,
    score,
)
from boxlamp.training.drill.night import Choice, PastNight
from boxlamp.training.drill.points import Stop
from boxlamp.training.drill.report import report_of
from boxlamp.training.drill.sitting import Sitting, right_answer
from support.drills import EVERY, SEEDS, SHIPPED, Answerer, always, night_of, sat, shown, stops_in
from support.made import at, told
from support.nights import DEFAULT

NIGHTS = pytest.mark.parametrize("name", EVERY, ids=shown)
PUSHING = PastNight(
    told((0, Expect(count=4, method="xray")), (1, Contraction()), (45, Birth(pup=1)),
         (60, Finished())),
    DEFAULT, at(60),
)  # fmt: skip
"""Pushing from two past one: watch at 16, call at 21, go at 31 minutes, a pup at 45."""
_RISES = {rise.level: rise for rise in PUSHING.rises[:3]}


def stop(minute: float, level: Level | None = None) -> Stop:
    return Stop(at(minute), "level", at(minute), rise=_RISES[level] if level else None)


STOPS = (stop(5), stop(12), stop(_RISES[Level.CALL].at.minute, Level.CALL), stop(24),
         stop(_RISES[Level.GO].at.minute, Level.GO), stop(37), stop(50))  # fmt: skip


def answers(*chosen: Choice) -> dict[datetime, LevelMark]:
    """Marks for answers to the stops, in order."""
    marks = (
        mark_level(PUSHING, one.at, choice) for one, choice in zip(STOPS, chosen, strict=False)
    )
    return {mark.at: mark for mark in marks}


def minutes(*chosen: Choice) -> list[float | None]:
    """How late call and go came."""
    found = caught(STOPS, answers(*chosen))
    return [None if one.late is None else one.late / timedelta(minutes=1) for one in found]


ON, WATCH, CALL, GO = Choice


@NIGHTS
def test_the_engines_own_answers_get_full_marks(name: str) -> None:
    """Whoever says at every stop what the engine, the rules and the night say has nothing left."""
    report = sat(night_of(name), stops_in(name), right_answer)

    assert report.score.points == 100 or not report.sitting.levels
    assert report.wrong == ()
    assert all(one.in_time for one in report.caught)
    assert report.calm_held == report.calm
    assert report.acts_right == len(report.sitting.acts)
    assert report.lines_right == len(report.sitting.lines)


@NIGHTS
def test_always_carrying_on_fails_every_night_with_a_go(name: str) -> None:
    """Missed is missed, whatever the rest came to."""
    report = sat(night_of(name), stops_in(name), always("carry on"))
    levels = {one.rise.level for one in report.caught}

    assert report.score.failed == (Level.GO in levels)
    assert report.score.points <= (FAILED_MOST if Level.GO in levels else 100)
    assert report.score.points <= (MISSED_MOST if Level.CALL in levels else 100)


@NIGHTS
def test_always_going_never_comes_out_well(name: str) -> None:
    """Leaving at every stop holds the score down, unless most of them ask for just that."""
    report = sat(night_of(name), stops_in(name), always("go"))
    needed = [mark.right for mark in report.sitting.levels.values()]

    if min(needed) <= Choice.WATCH or needed.count(Choice.GO) * 2 < len(needed) > 2:
        assert report.score.points <= NERVOUS_MOST
        assert not report.passed
    assert not report.score.failed


def test_there_are_nights_of_each_kind_to_try_it_on() -> None:
    """The two tests above have met a go, a call, and a night with neither."""
    worst = {max((one.level for one in night_of(name).rises), default=0) for name in EVERY}
    asked = {one.rise.level for name in EVERY for one in sat_right(name)}

    assert {Level.WATCH, Level.CALL, Level.GO} <= worst
    assert asked == {Level.CALL, Level.GO}


def sat_right(name: str) -> tuple[Caught, ...]:
    return sat(night_of(name), stops_in(name), right_answer).caught


def test_too_late_costs_more_than_too_early() -> None:
    """Level for level; and one too low costs more than one, or even two, too high."""
    assert all(low > high for low, high in zip(TOO_LOW[1:], TOO_HIGH[1:], strict=True))
    assert TOO_LOW[1] > TOO_HIGH[2]
    early = sat(night_of(SHIPPED[2]), stops_in(SHIPPED[2]), off_by_one(+1))
    late = sat(night_of(SHIPPED[2]), stops_in(SHIPPED[2]), off_by_one(-1))
    assert early.score.points > late.score.points


def off_by_one(step: int) -> Answerer:
    """Answers one level away from right, where there is one."""

    def answer(night: PastNight, one: Stop) -> str:
        if one.kind != "level":
            return right_answer(night, one)
        return Choice(min(3, max(0, night.right(one.at) + step))).word

    return answer


def test_early_and_late_are_told_in_minutes() -> None:
    """At the limit, before it while the clock runs, after it, never."""
    assert minutes(ON, ON, CALL, CALL, GO, GO, ON) == [0, 0]
    assert minutes(ON, CALL, CALL, GO, GO, GO, ON) == [-9, -7]
    assert minutes(ON, ON, WATCH, CALL, CALL, GO, ON) == [3, 6]
    assert minutes(ON, ON, ON, ON, ON, ON, ON) == [None, None]


def test_a_late_call_is_told() -> None:
    """However good the rest; in time it is not, and neither is never."""
    for chosen, late in ((WATCH, True), (CALL, False)):
        marks = answers(ON, ON, chosen, CALL, GO, GO, ON)
        came = score(list(marks.values()), caught(STOPS, marks))
        assert came.late == late
        assert came.verdict.startswith("Nearly") == late


def test_who_took_it_back_was_not_early() -> None:
    """A go that was not kept to is none; nor one from before the clock began to run."""
    assert minutes(ON, GO, WATCH, CALL, GO, GO, ON) == [3, 0]
    assert minutes(GO, GO, GO, GO, GO, GO, GO) == [-16, -26]


def test_a_drill_left_early_misses_only_what_was_asked() -> None:
    """What lies ahead is not counted; what stands unanswered is not called never."""
    found = caught(STOPS, answers(ON, ON, WATCH))

    assert [(one.late, one.open) for one in found] == [(None, True)]
    assert not score(list(answers(ON, ON, WATCH).values()), found).missed


@settings(deadline=None)
@given(st.lists(st.sampled_from(Choice), min_size=len(STOPS), max_size=len(STOPS)))
def test_scores_lie_between_0_and_100(chosen: list[Choice]) -> None:
    """Whatever is answered; and a late or missed go fails whatever the rest."""
    marks = answers(*chosen)
    rises = caught(STOPS, marks)
    came = score([marks[key] for key in marks], rises)

    assert 0 <= came.points <= 100
    late = [one for one in rises if one.rise.level is Level.GO and not one.in_time]
    assert came.failed == bool(late)
    assert came.points <= (FAILED_MOST if late else 100)


@pytest.mark.parametrize("name", SEEDS)
@settings(max_examples=10, deadline=None)
@given(data=st.data())
def test_any_answers_to_any_night_give_a_score(name: str, data: st.DataObject) -> None:
    """Half a drill as well as a whole one."""
    night, stops = night_of(name), stops_in(name)
    sitting = Sitting(night, stops)
    for one in stops[: data.draw(st.integers(0, len(stops)))]:
        level = data.draw(st.sampled_from(Choice)).word
        answer = {"level": level, "act": data.draw(st.sampled_from("1234-")), "line": "push"}
        list(sitting.take(one, answer[one.kind]))
    report = report_of(sitting)

    assert 0 <= report.score.points <= 100
    assert not set(report.right) & set(report.wrong)
