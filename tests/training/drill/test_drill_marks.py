from datetime import datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boxlamp.model.happenings import Birth, Contraction, DamState, Expect, Finished
from boxlamp.model.levels import Level
from boxlamp.training.drill.feedback import level_lines
from boxlamp.training.drill.marking import (
    FAILED_MOST,
    MISSED_MOST,
    NERVOUS_MOST,
    RESTLESS_MOST,
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
from boxlamp.training.drill.report import report_lines, report_of
from boxlamp.training.drill.sitting import Sitting, right_answer
from support.drills import EVERY, SEEDS, always, night_of, sat, shown, stops_in
from support.made import at, told
from support.nights import DEFAULT, DEMO

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


STOPS = (stop(5), stop(12), stop(23, Level.CALL), stop(26), stop(33, Level.GO), stop(44), stop(50))


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

    assert report.score is None or report.score.points == 100
    assert report.wrong == ()
    assert all(one.in_time for one in report.caught)
    assert report.calm_held == report.calm
    assert report.acts_right == len(report.sitting.acts)
    assert report.lines_right == len(report.sitting.lines)


@NIGHTS
def test_always_carrying_on_fails_every_night_with_a_go(name: str) -> None:
    """A level asked for twice and never chosen is missed, whatever the rest came to."""
    report = sat(night_of(name), stops_in(name), always("carry on"))
    levels = {one.rise.level for one in report.caught if one.asked > 1 and not one.in_time}

    assert report.score is not None
    assert report.score.failed == (Level.GO in levels)
    assert report.score.points <= (FAILED_MOST if Level.GO in levels else 100)
    assert report.score.points <= (MISSED_MOST if Level.CALL in levels else 100)


@NIGHTS
def test_always_going_never_comes_out_well(name: str) -> None:
    """Leaving at every stop holds the score down, unless most of them ask for just that."""
    report = sat(night_of(name), stops_in(name), always("go"))
    assert report.score is not None
    needed = [mark.right for mark in report.sitting.levels.values()]

    if min(needed) < Choice.WATCH or needed.count(Choice.GO) * 2 < len(needed) > 2:
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
    early, late = answers(ON, ON, GO, GO, GO, GO, ON), answers(ON, ON, WATCH, CALL, CALL, GO, ON)
    came = [score(list(marks.values()), caught(STOPS, marks)) for marks in (early, late)]
    assert came[0].points > came[1].points


def test_early_and_late_are_told_in_minutes() -> None:
    """At the limit, before it while the clock runs, after it, never."""
    assert minutes(ON, ON, CALL, CALL, GO, GO, ON) == [0, 0]
    assert minutes(ON, CALL, CALL, GO, GO, GO, ON) == [-9, -5]
    assert minutes(ON, ON, WATCH, CALL, CALL, GO, ON) == [5, 13]
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
    assert minutes(ON, GO, WATCH, CALL, GO, GO, ON) == [5, 0]
    assert minutes(GO, GO, GO, GO, GO, GO, GO) == [-16, -26]


def test_a_drill_left_early_misses_only_what_was_asked() -> None:
    """What lies ahead is not counted; what stands unanswered is not called never."""
    found = caught(STOPS, answers(ON, ON, WATCH))

    assert [(one.late, one.open) for one in found] == [(None, True)]
    assert not score(list(answers(ON, ON, WATCH).values()), found).missed


@settings(deadline=None)
@given(st.lists(st.sampled_from(Choice), min_size=len(STOPS), max_size=len(STOPS)))
def test_scores_lie_between_0_and_100(chosen: list[Choice]) -> None:
    """Whatever is answered; and a missed go fails whatever the rest."""
    marks = answers(*chosen)
    rises = caught(STOPS, marks)
    came = score([marks[key] for key in marks], rises)

    assert 0 <= came.points <= 100
    missed = [one for one in rises if one.rise.level is Level.GO and one.missed]
    assert came.failed == bool(missed)
    assert came.points <= (FAILED_MOST if missed else 100)


def test_a_second_chance_is_late_and_no_failure() -> None:
    """A go seen at its second stop costs its minutes; one never chosen fails the night."""
    for second, failed in ((GO, False), (CALL, True)):
        marks = answers(ON, ON, CALL, CALL, CALL, second, ON)
        found = caught(STOPS, marks)
        assert [one.asked for one in found] == [4, 2]
        assert score(list(marks.values()), found).failed == failed


def test_more_than_half_an_hour_late_fails() -> None:
    """The limit of lateness, for a go whose clock does not count days."""
    rise = _RISES[Level.GO]
    for minutes_late, failed in ((30, False), (31, True)):
        one = Caught(rise, timedelta(minutes=minutes_late), asked=5)
        assert score([], [one]).failed == failed
    days = rise._replace(since=rise.at - timedelta(days=60))
    assert not score([], [Caught(days, timedelta(hours=4), asked=2)]).failed


def test_watching_every_calm_stop_is_no_mastery() -> None:
    """It is held at 60 and named, however right the rest."""
    marks = answers(WATCH, WATCH, CALL, CALL, GO, GO, WATCH)
    came = score(list(marks.values()), caught(STOPS, marks))

    assert (came.points, came.restless) == (RESTLESS_MOST, True)
    assert "on edge" in came.verdict


def test_a_little_ahead_is_right() -> None:
    """Where a watch comes to its call within minutes, calling is right; long before it is not."""
    assert mark_level(PUSHING, at(18), CALL).off == 0
    assert mark_level(PUSHING, at(12), CALL).off == 2
    assert mark_level(PUSHING, at(18), WATCH).off == 0


@NIGHTS
def test_obeying_the_vet_never_fails_a_night(name: str) -> None:
    """Who rings when it is right, and then keeps to the least the contact makes reasonable."""

    def obedient(night: PastNight, one: Stop) -> str:
        if one.kind != "level":
            return right_answer(night, one)
        return min(night.fair(one.at)).word

    report = sat(night_of(name), stops_in(name), obedient)

    assert report.score is not None
    assert not report.score.failed
    assert not report.score.missed
    assert all(mark.off == 0 for mark in report.sitting.levels.values())


def test_a_drill_left_early_has_no_score() -> None:
    """Half a night says nothing; what was wrong in it is remembered, what was right is not."""
    sitting = Sitting(PUSHING, STOPS)
    for one in STOPS[:3]:
        list(sitting.take(one, "1"))
    report = report_of(sitting)

    assert report.score is None
    assert not report.passed
    assert report.wrong == ("contraction-no-pup",)


def test_a_night_in_which_no_level_is_asked_has_no_score() -> None:
    """It is finished all the same, and told so."""
    report = report_of(Sitting(PUSHING, ()))

    assert report.sitting.finished
    assert report.score is None
    assert "there is no score" in " ".join(report_lines(report))


def test_why_is_true_for_the_very_sign() -> None:
    """Pale gums are not explained by low calcium alone: the source speaks of other signs."""
    night = PastNight(told((0, Contraction()), (10, DamState(signs=("pale",))), (60, Finished())),
                      DEFAULT, at(60))  # fmt: skip
    said = " ".join(level_lines(night, mark_level(night, at(12), GO)))

    assert "pale gums" in said
    assert "Loss of blood" in said
    assert "late signs of low calcium" not in said


def test_shorter_for_her_is_said_only_where_it_is() -> None:
    """The flat-faced dam's own limit; a limit that no risk tightens is hers as anybody's."""
    pushing = night_of(str(DEMO / "toy-pair.night"))
    watch = next(rise for rise in pushing.rises if rise.rule.id == "contraction-no-pup")
    said = " ".join(level_lines(pushing, mark_level(pushing, watch.at, WATCH)))
    assert "Shorter for her: toy breed" in said
    plain = " ".join(level_lines(PUSHING, mark_level(PUSHING, at(18), WATCH)))
    assert "Shorter for her" not in plain


@NIGHTS
def test_one_answer_is_no_key_to_the_next(name: str) -> None:
    """Where nothing stands, what runs is told, and neither its level nor where its limit lies."""
    night = night_of(name)
    for one in stops_in(name):
        if one.kind == "level" and not night.verdict(one.at).alerts:
            said = " ".join(level_lines(night, mark_level(night, one.at, ON)))
            assert "comes at" not in said
            assert "limit" not in said.partition("What runs")[0]


def test_carrying_on_while_a_clock_runs_is_no_right_answer_to_its_rule() -> None:
    """Only a right level where the rule stood at that level counts for it."""
    sitting = Sitting(PUSHING, STOPS)
    for one, choice in zip(STOPS, (ON, ON, CALL, CALL, GO, GO, ON), strict=True):
        list(sitting.take(one, choice.word))
    report = report_of(sitting)

    assert [(one.rule, one.level) for one in report.well] == [
        ("contraction-no-pup", "call"), ("contraction-no-pup", "call"),
        ("contraction-no-pup", "go"), ("contraction-no-pup", "go"),
    ]  # fmt: skip


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

    assert (report.score is None) == (not sitting.finished)
    assert report.score is None or 0 <= report.score.points <= 100
    assert not set(report.right) & set(report.wrong)
