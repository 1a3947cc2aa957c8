"""What must hold of the engine for any night at all."""

import random
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from boxlamp.engine import Assessment, assess
from boxlamp.engine.known import history_as_known
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Contraction, Strike
from boxlamp.model.levels import ALERTS, Level
from boxlamp.model.revived import returns
from boxlamp.model.story import Story
from support.made import STREAMS, TWO, at, entry, moved, told
from support.nights import DEFAULT, SECOND

MANY = settings(max_examples=120, deadline=None)
Shown = set[tuple[str, str, object]]


def judged(entries: tuple[Entry, ...]) -> Assessment:
    return assess(Story(entries), DEFAULT)


def shown(assessment: Assessment, moment: datetime) -> Shown:
    """What stands: rule, subject, level; of a reminder its clock. At past moments too."""
    alerts = assessment.verdict(moment).alerts
    return {(alert.rule.id, alert.subject, alert.level) for alert in alerts} | {
        (own.spell.rule, own.spell.subject, own.spell.clock)
        for own in assessment.standings
        if own.level is Level.PROMPT and own.holds(moment)
    }


def told_of(assessment: Assessment, zero: datetime) -> list[tuple[object, ...]]:
    """The whole history by elapsed time."""
    return [
        (step.at - zero, step.rule.id, step.subject, step.level, step.change, step.at - step.since)
        for step in assessment.history(datetime.max.replace(tzinfo=UTC))
    ]


@MANY
@given(STREAMS)
def test_nothing_changes_before_the_next_change(night: tuple[Entry, ...]) -> None:
    """At it a level is reached or left; one second before, all is as it was."""
    assessment = judged(night)
    now = night[-1].at
    edges = {edge for own in assessment.standings for edge in (own.start, own.end)}
    for _ in range(12):
        following = assessment.next_change(now)
        if following is None:
            break
        assert following > now
        assert following in edges
        assert shown(assessment, following - SECOND) == shown(assessment, now)
        now = following
    else:
        return
    assert shown(assessment, now + timedelta(days=400)) == shown(assessment, now)


@MANY
@given(STREAMS)
def test_the_deadlines_are_kept(night: tuple[Entry, ...]) -> None:
    """What is announced for a moment stands at that moment, at that level or above."""
    assessment = judged(night)
    for line in assessment.verdict(night[-1].at).next:
        levels = [
            alert.level
            for alert in assessment.verdict(line.due).alerts
            if (alert.rule.id, alert.subject) == (line.rule.id, line.subject)
        ]
        assert levels
        assert max(levels) >= line.level


@MANY
@given(STREAMS, st.randoms(use_true_random=False))
def test_any_order_of_typing_gives_the_same_night(
    night: tuple[Entry, ...], dice: random.Random
) -> None:
    """Entries are numbered once; the order in which they are handed in does not matter."""
    shuffled = list(night)
    dice.shuffle(shuffled)
    assert told_of(judged(tuple(shuffled)), TWO) == told_of(judged(night), TWO)


@MANY
@given(STREAMS, st.data())
def test_struck_is_as_if_never_typed(night: tuple[Entry, ...], data: st.DataObject) -> None:
    """Whatever is struck, the night reads as if the line had never been there."""
    gone = data.draw(st.sampled_from(night))
    strike = entry(len(night) + 1, 100_000, Strike(target=gone.id))
    without = tuple(one for one in night if one is not gone)
    assert told_of(judged((*night, strike)), TWO) == told_of(judged(without), TWO)


@MANY
@given(STREAMS, st.integers(-400, 400))
def test_a_night_moved_by_whole_days_is_the_same_night(night: tuple[Entry, ...], days: int) -> None:
    """Nothing depends on the date."""
    later = moved(night, timedelta(days=days))
    assert told_of(judged(later), TWO + timedelta(days=days)) == told_of(judged(night), TWO)


@MANY
@given(STREAMS, st.integers(-24 * 60, 24 * 60))
def test_a_night_moved_across_midnight_is_the_same_night(
    night: tuple[Entry, ...], minutes: int
) -> None:
    """Nothing depends on the time of day."""
    by = timedelta(minutes=minutes)
    assert told_of(judged(moved(night, by)), TWO + by) == told_of(judged(night), TWO)


CLOCK_CHANGES = [
    ("Europe/Berlin", datetime(2026, 3, 29, 1, 0, tzinfo=UTC)),
    ("Europe/Berlin", datetime(2026, 10, 25, 1, 0, tzinfo=UTC)),
    ("America/New_York", datetime(2026, 3, 8, 7, 0, tzinfo=UTC)),
    ("America/New_York", datetime(2026, 11, 1, 6, 0, tzinfo=UTC)),
    ("Australia/Lord_Howe", datetime(2026, 4, 4, 15, 0, tzinfo=UTC)),
]


@pytest.mark.parametrize(("zone", "change"), CLOCK_CHANGES)
@settings(max_examples=25, deadline=None)
@given(night=STREAMS, before=st.integers(0, 180))
def test_a_clock_change_lengthens_and_shortens_nothing(
    night: tuple[Entry, ...], before: int, zone: str, change: datetime
) -> None:
    """Begun up to three hours before the hour that is skipped or comes twice."""
    start = change - timedelta(minutes=before)
    there = tuple(
        Entry.model_validate({**one.model_dump(), "at": one.at.astimezone(ZoneInfo(zone))})
        for one in moved(night, start - TWO, zone)
    )
    assert told_of(judged(there), start) == told_of(judged(night), TWO)


@MANY
@given(STREAMS, st.data())
def test_the_story_cut_at_a_moment_says_the_same_of_it(
    night: tuple[Entry, ...], data: st.DataObject
) -> None:
    """No rule looks ahead, the rules about single pups included."""
    whole = judged(night)
    edges = {own.start for own in whole.standings} | {one.at for one in night}
    edge = data.draw(st.sampled_from(sorted(edges)))
    for moment in (edge - SECOND, edge, edge + SECOND):
        cut = assess(Story(night).until(moment), DEFAULT)
        assert shown(cut, moment) == shown(whole, moment)


@MANY
@given(STREAMS)
def test_a_history_is_a_life(night: tuple[Entry, ...]) -> None:
    """Raised before escalated, upwards only, cleared once, and never twice at once."""
    standing: dict[tuple[str, str], int] = {}
    for step in judged(night).history(datetime.max.replace(tzinfo=UTC)):
        key = step.rule.id, step.subject
        assert step.level in ALERTS
        if step.change == "raised":
            assert key not in standing
            standing[key] = step.level
        elif step.change == "escalated":
            assert step.level > standing[key]
            standing[key] = step.level
        elif step.change == "cleared":
            assert standing.pop(key) == step.level


@MANY
@given(STREAMS)
def test_no_rule_crashes(night: tuple[Entry, ...]) -> None:
    """On any night whatever; and every sentence can be filled in."""
    assessment = judged(night)
    assert all(spell.clock != "failure" for spell in assessment.spells)
    for alert in assessment.verdict(night[-1].at).alerts:
        assert "{" not in alert.message
        assert alert.do


@settings(max_examples=30, deadline=None)
@given(STREAMS)
def test_typed_as_it_happened_it_was_known_as_it_happened(night: tuple[Entry, ...]) -> None:
    """With nothing typed late, the history as known then is the history as it now reads.

    But for a pup that comes back: what was taken for its death then was none.
    """
    assume(not returns(night))
    end = night[-1].at + timedelta(hours=1)

    def plain(steps: list[object]) -> set[tuple[object, ...]]:
        return {
            (getattr(step, "at"), step.rule.id, step.subject, step.level, step.change)  # type: ignore[attr-defined]  # noqa: B009
            for step in steps
        }

    known = history_as_known(night, DEFAULT, end)
    assert plain([*known]) == plain([*judged(night).history(end)])


def test_a_line_typed_late_was_not_known_then() -> None:
    """What the screen showed at 02:18 stays what it showed, whatever was typed at 02:40."""
    night = (entry(1, 0, Contraction()), entry(2, 10, Strike(target=1), typed=40))
    then = history_as_known(night, DEFAULT, at(60))
    mine = [
        (step.at, step.change, step.level.word)
        for step in then
        if step.rule.id == "contraction-no-pup"
    ]
    assert mine == [
        (at(15), "raised", "watch"), (at(20), "escalated", "call"), (at(30), "escalated", "go"),
        (at(40), "cleared", "go"),
    ]  # fmt: skip
    assert judged(night).history(at(60)) == []


def test_an_empty_night_is_quiet() -> None:
    """Nothing written down, nothing said."""
    empty = judged(())
    assert shown(empty, TWO) == set()
    assert empty.next_change(TWO) is None
    assert empty.history(TWO) == []
    assert judged(told((0, Contraction()))).next_change(at(0)) is not None
