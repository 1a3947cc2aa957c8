"""A rest after long pushing: lines put right, typed late or taken back, and what is said of it."""

from datetime import UTC, datetime

from hypothesis import given, settings
from hypothesis import strategies as st

from boxlamp.engine import assess, history_as_known
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Ack, Amend, Birth, Contraction, Limit, Rest, Strike, What
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules.registry import NEVER_RELAXED
from boxlamp.rules.rest_no_pup import ID
from boxlamp.view.said import why_lines
from support.made import at, entry
from support.nights import DEFAULT, SECOND, assessed

LINES = st.lists(
    st.tuples(
        st.sampled_from((0, 0, 1, 9, 10, 11, 29, 30, 31)),
        st.sampled_from(
            (Contraction(), Contraction(), Rest(), Rest(), Contraction(strength="weak"))
        ),
    ),
    max_size=9,
)
"""Pushes and rests, each so many minutes after the one before it."""
PUSH, REST = entry(1, 0, Contraction()), entry(2, 25, Rest())


def stands(*entries: Entry, minute: float) -> Level | None:
    """The level of this rule's alert at a minute, as corrected."""
    alerts = assessed(entries).verdict(at(minute)).alerts
    return next((alert.level for alert in alerts if alert.rule.id == ID), None)


def test_a_rest_put_right_counts_at_its_own_time() -> None:
    """At 19 minutes nothing had stood; at 31 a go had."""
    for minutes, level in ((19, None), (25, Level.CALL), (31, Level.GO)):
        moved = entry(3, minutes, Amend(target=2, retimed=True), typed=40)
        assert stands(PUSH, REST, moved, minute=41) == level


def test_a_first_push_put_right_counts_from_its_own_time() -> None:
    """She had pushed since five minutes earlier: a call becomes a go only past thirty."""
    for minutes, level in ((-5, Level.CALL), (-6, Level.GO)):
        moved = entry(3, minutes, Amend(target=1, retimed=True), typed=40)
        assert stands(PUSH, REST, moved, minute=41) == level


def test_a_rest_that_was_struck_never_was() -> None:
    """The alert of the pushing is back, and this one is gone."""
    struck = entry(3, 26, Strike(target=2))
    assert stands(PUSH, REST, struck, minute=27) is None
    found = {alert.rule.id for alert in assessed((PUSH, REST, struck)).verdict(at(27)).alerts}
    assert "contraction-no-pup" in found


def test_a_birth_typed_late_ends_the_pushing_before_the_rest() -> None:
    """The rest then ended no pushing; a birth that is struck leaves it standing again."""
    born = entry(3, 15, Birth(pup=1), typed=30)
    assert stands(PUSH, REST, born, minute=31) is None
    assert stands(PUSH, REST, born, entry(4, 32, Strike(target=3)), minute=33) is Level.CALL


def test_a_rest_typed_late_raises_it_when_it_is_typed() -> None:
    """The record tells what stood on the screen: the pushing until then, this from then on."""
    late = entry(2, 25, Rest(), typed=45)
    steps = [
        (step.at, step.change, step.level)
        for step in history_as_known((PUSH, late), DEFAULT, at(60))
        if step.rule.id == ID
    ]
    assert steps == [(at(45), "raised", Level.CALL)]


def test_an_ack_of_the_pushing_does_not_quieten_it() -> None:
    """It is news that she has stopped; its own ack quietens the sound and not the display."""
    before, after = entry(2, 24, Ack()), entry(4, 26, Ack())
    rest = entry(3, 25, Rest())
    told = [(PUSH, before, rest), (PUSH, before, rest, after)]
    for entries, quiet in zip(told, (False, True), strict=True):
        (alert,) = (one for one in assessed(entries).verdict(at(27)).alerts if one.rule.id == ID)
        assert (alert.level, alert.quiet) == (Level.CALL, quiet)


def test_what_it_says_is_true_hours_later() -> None:
    """How long she pushed stays, how long ago it began goes on; no clock runs towards a level."""
    verdict = assessed((PUSH, REST)).verdict(at(205))
    (alert,) = (one for one in verdict.alerts if one.rule.id == ID)
    assert alert.message == (
        "Strong contractions began 3 h 25 min ago and stopped after 25 min. No pup has come."
    )
    assert (alert.level, alert.raised, alert.entries) == (Level.CALL, at(25), (1, 2))
    assert not [clock for clock in verdict.clocks if clock.rule.id == ID]
    assert not [ahead for ahead in verdict.next if ahead.rule.id == ID]


def test_it_stands_from_the_second_of_the_rest() -> None:
    """Not one second before; and the pushing's own alert ends in that second."""
    (raised, *more) = (
        step.at for step in assessed((PUSH, REST)).history(at(600)) if step.rule.id == ID
    )
    assert (raised, more) == (at(25), [])
    before = assess(Story((PUSH, REST)).until(at(25) - SECOND), DEFAULT)
    assert ID not in {one.rule.id for one in before.verdict(at(25) - SECOND).alerts}


def test_a_vets_sooner_limit_for_the_pushing_is_its_own() -> None:
    """And the breeder's longer one is no limit at all: neither rule is ever relaxed."""
    assert ID in NEVER_RELAXED
    for minutes, level in ((17, Level.CALL), (45, None)):
        changed = Limit(
            rule="contraction-no-pup", level="call", seconds=minutes * 60, by="Dr X", why="so"
        )
        lines = entry(1, -5, changed), entry(2, 0, Contraction()), entry(3, 18, Rest())
        assert stands(*lines, minute=19) == level
        assert stands(*lines[:2], entry(3, 25, Rest()), minute=26) is Level.CALL


def test_why_and_the_call_sheet_tell_how_long_the_clock_counted() -> None:
    """Hours later it is still 25 minutes that were held against the limit."""
    verdict = assessed((PUSH, REST)).verdict(at(205))
    (alert,) = (one for one in verdict.alerts if one.rule.id == ID)
    lines = list(why_lines(alert, verdict, (PUSH, REST), UTC))
    assert "clock: 25 min from 02:00:00; limit for call: 20 min" in lines


def worst(entries: list[Entry], moment: datetime) -> Level:
    """The graver of the alerts of pushing and of a rest after it."""
    alerts = assessed(tuple(entries)).verdict(moment).alerts
    both = (one.level for one in alerts if one.rule.id in {ID, "contraction-no-pup"})
    return max(both, default=Level.PROMPT)


@settings(deadline=None)
@given(LINES)
def test_without_a_pup_no_line_takes_a_call_back(lines: list[tuple[int, What]]) -> None:
    """What stood a second before a push or a rest stands after it, or a graver level does."""
    minute, told = 0, list[Entry]()
    for number, (later, what) in enumerate(lines, start=1):
        minute += later
        stood = worst(told, at(minute) - SECOND)
        told.append(entry(number, minute, what))
        assert worst(told, at(minute)) >= stood or stood < Level.CALL
