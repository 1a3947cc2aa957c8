"""The history as it was known then."""

from datetime import datetime, timedelta
from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from boxlamp.engine import Transition, assess, history_as_known, known
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Contraction, Rest, Strike
from boxlamp.model.levels import Level
from boxlamp.model.story import as_known
from support.made import STREAMS, at, entry
from support.messy import MESSY, SET_BACK
from support.nights import DEFAULT, SECOND


def told(entries: tuple[Entry, ...], until: float) -> list[tuple[float, str, str, str]]:
    return [
        ((step.at - at(0)).total_seconds() / 60, step.change, step.level.word, step.rule.id)
        for step in history_as_known(entries, DEFAULT, at(until))
        if step.rule.id == "contraction-no-pup"
    ]


def test_a_rest_typed_late_leaves_what_stood_on_the_screen() -> None:
    """The call at 20 minutes stood, although a rest at 5 was typed at 25."""
    entries = (entry(1, 0, Contraction()), entry(2, 5, Rest(), typed=25))

    assert told(entries, 40) == [
        (15, "raised", "watch", "contraction-no-pup"),
        (20, "escalated", "call", "contraction-no-pup"),
        (25, "cleared", "call", "contraction-no-pup"),
    ]


def test_a_struck_birth_brings_the_alert_back_when_it_is_struck() -> None:
    """The past on the screen is not rewritten: the alert returns at the moment of the strike."""
    entries = (
        entry(1, 0, Contraction()),
        entry(2, 10, Birth(pup=1)),
        entry(3, 18, Strike(target=2, why="wrong")),
    )

    assert told(entries, 19) == [(18, "raised", "watch", "contraction-no-pup")]


def moment_by_moment(entries: tuple[Entry, ...], until: datetime) -> list[Transition]:
    """The slow and obvious way: the rules run anew at every moment at which anything turns."""
    turns = {one.recorded for one in entries} | {max(one.at, one.recorded) for one in entries}
    moments = sorted(moment for moment in turns if moment <= until)
    steps: list[Transition] = []
    before = None
    for moment, following in pairwise([*moments, until + SECOND]):
        after = assess(as_known(entries, moment), DEFAULT)
        steps += known._changes(before, after, moment)
        steps += [step for step in after.history(until) if moment < step.at < following]
        before = after
    return steps


@settings(max_examples=80, deadline=None)
@given(st.one_of(STREAMS, MESSY, SET_BACK))
def test_the_short_way_says_the_same(entries: tuple[Entry, ...]) -> None:
    """One pass for all that was typed as it happened says what moment by moment says."""
    until = max(max(one.at, one.recorded) for one in entries) + timedelta(hours=3)
    short = history_as_known(entries, DEFAULT, until)

    def key(steps: list[Transition]) -> list[tuple[object, ...]]:
        return sorted(
            (step.at, step.rule.id, step.subject, step.level, step.change) for step in steps
        )

    assert key(short) == key(moment_by_moment(entries, until))
    assert [step.at for step in short] == sorted(step.at for step in short)


@settings(max_examples=80, deadline=None)
@given(st.one_of(MESSY, SET_BACK), st.data())
def test_the_steps_add_up_to_the_board(entries: tuple[Entry, ...], data: st.DataObject) -> None:
    """Taken one after the other, the changes give what stood on the board at any moment."""
    until = max(max(one.at, one.recorded) for one in entries) + timedelta(hours=3)
    steps = history_as_known(entries, DEFAULT, until)
    moments = {one.at for one in steps} | {one.recorded for one in entries} | {until}
    moment = data.draw(st.sampled_from(sorted(moments)))
    moment += data.draw(st.sampled_from((-SECOND, timedelta(0), SECOND)))
    stands: dict[tuple[str, str], Level] = {}
    for step in steps:
        if step.at <= moment and step.change in {"raised", "escalated"}:
            stands[step.rule.id, step.subject] = step.level
        elif step.at <= moment and step.change == "cleared":
            stands.pop((step.rule.id, step.subject), None)

    alerts = assess(as_known(entries, moment), DEFAULT).verdict(moment).alerts
    assert stands == {(one.rule.id, one.subject): one.level for one in alerts}


def test_a_line_typed_ahead_waits_for_its_time() -> None:
    """A pup written down at 18 for 22 minutes clears nothing before 22, and then by itself."""
    entries = (entry(1, 0, Contraction()), entry(2, 22, Birth(pup=1), typed=18))

    assert told(entries, 40) == [
        (15, "raised", "watch", "contraction-no-pup"),
        (20, "escalated", "call", "contraction-no-pup"),
        (22, "cleared", "call", "contraction-no-pup"),
    ]
