"""A rest after long weak pushing: lines put right or typed late, and weak and strong mixed."""

from datetime import datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boxlamp.engine import history_as_known
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Ack, Amend, Birth, Contraction, Limit, Rest, Strike, What
from boxlamp.model.levels import Level
from boxlamp.rules.registry import NEVER_RELAXED
from boxlamp.rules.weak_rest_no_pup import ID
from support.made import at, entry
from support.nights import DEFAULT, SECOND, assessed

WEAK, STRONG = Contraction(strength="weak"), Contraction(strength="strong")
PUSH, REST = entry(1, 0, WEAK), entry(2, 130, Rest())
LINES = st.lists(
    st.tuples(
        st.sampled_from((0, 1, 29, 30, 31, 119, 120, 121, 239, 240, 241)),
        st.sampled_from((WEAK, WEAK, WEAK, Rest(), Rest(), STRONG)),
    ),
    max_size=9,
)
"""Pushes and rests, each so many minutes after the one before it."""


def stands(*entries: Entry, minute: float) -> Level | None:
    """The level of this rule's alert at a minute, as corrected."""
    alerts = assessed(entries).verdict(at(minute)).alerts
    return next((alert.level for alert in alerts if alert.rule.id == ID), None)


def test_a_rest_put_right_counts_at_its_own_time() -> None:
    """Up to two hours nothing had stood; past them a call had, and past four a go."""
    for minutes, level in ((120, None), (121, Level.CALL), (240, Level.CALL), (241, Level.GO)):
        moved = entry(3, minutes, Amend(target=2, retimed=True), typed=250)
        assert stands(PUSH, REST, moved, minute=251) == level


def test_a_push_amended_to_strong_is_no_weak_pushing() -> None:
    """The strong rule keeps what its own clock had reached, and this one keeps nothing."""
    amended = entry(3, 0, Amend(target=1, what=STRONG), typed=140)
    assert stands(PUSH, REST, amended, minute=141) is None
    alerts = assessed((PUSH, REST, amended)).verdict(at(141)).alerts
    assert ("rest-no-pup", Level.GO) in {(one.rule.id, one.level) for one in alerts}


def test_a_rest_that_was_struck_never_was() -> None:
    """The alert of the pushing is back, and this one is gone."""
    struck = entry(3, 131, Strike(target=2))
    assert stands(PUSH, REST, struck, minute=132) is None
    found = {alert.rule.id for alert in assessed((PUSH, REST, struck)).verdict(at(132)).alerts}
    assert "weak-contraction-no-pup" in found


def test_a_birth_typed_late_ends_the_pushing_before_the_rest() -> None:
    """The rest then ended no pushing; a birth that is struck leaves it standing again."""
    born = entry(3, 100, Birth(pup=1), typed=140)
    assert stands(PUSH, REST, born, minute=141) is None
    assert stands(PUSH, REST, born, entry(4, 142, Strike(target=3)), minute=143) is Level.CALL


def test_a_rest_typed_late_raises_it_when_it_is_typed() -> None:
    """The record tells what stood on the screen: the pushing until then, this from then on."""
    late = entry(2, 130, Rest(), typed=150)
    steps = [
        (step.at, step.change, step.level)
        for step in history_as_known((PUSH, late), DEFAULT, at(200))
        if step.rule.id == ID
    ]
    assert steps == [(at(150), "raised", Level.CALL)]


def test_an_ack_of_the_pushing_does_not_quieten_it() -> None:
    """It is news that she has stopped; its own ack quietens the sound and not the display."""
    before, rest, after = entry(2, 125, Ack()), entry(3, 130, Rest()), entry(4, 131, Ack())
    for entries, quiet in (((PUSH, before, rest), False), ((PUSH, before, rest, after), True)):
        (alert,) = (one for one in assessed(entries).verdict(at(132)).alerts if one.rule.id == ID)
        assert (alert.level, alert.quiet) == (Level.CALL, quiet)


def test_it_says_that_the_pushing_was_weak_and_for_how_long() -> None:
    """How long she pushed stays, how long ago it began goes on; no clock runs towards a level."""
    verdict = assessed((PUSH, REST)).verdict(at(250))
    (alert,) = (one for one in verdict.alerts if one.rule.id == ID)
    assert alert.message == (
        "Weak contractions began 4 h 10 min ago, and she stopped after 2 h 10 min. No pup has come."
    )
    assert (alert.level, alert.raised, alert.entries) == (Level.CALL, at(130), (1, 2))
    assert not [clock for clock in verdict.clocks if clock.rule.id == ID]
    assert not [ahead for ahead in verdict.next if ahead.rule.id == ID]


@pytest.mark.parametrize(
    ("minutes", "rested", "level"),
    [(180, 180, None), (180, 181, Level.CALL), (90, 90, None), (90, 91, Level.CALL)],
)
def test_a_vets_limit_for_the_pushing_is_its_own(
    minutes: int, rested: int, level: Level | None
) -> None:
    """A longer one as well as a shorter one: weak pushing may be relaxed by the vet."""
    changed = Limit(
        rule="weak-contraction-no-pup", level="call", seconds=minutes * 60, by="Dr X", why="so"
    )
    lines = entry(1, -5, changed), entry(2, 0, WEAK), entry(3, rested, Rest())
    assert ID not in NEVER_RELAXED
    assert stands(*lines, minute=rested + 1) == level


def test_weak_and_strong_pushing_are_each_kept_by_their_own_clock() -> None:
    """A change from weak to strong and back: each counts from its own first push to the rest."""
    for lines, weak, strong in (
        (((0, WEAK), (119, STRONG), (125, Rest())), Level.CALL, None),
        (((0, WEAK), (60, STRONG), (70, WEAK), (120, Rest())), None, Level.GO),
        (((0, WEAK), (60, STRONG), (70, WEAK), (121, Rest())), Level.CALL, Level.GO),
        (((0, STRONG), (15, WEAK), (25, Rest())), None, Level.CALL),
        (((0, WEAK), (130, Rest()), (140, STRONG), (150, Rest())), Level.CALL, None),
        (((0, WEAK), (130, Rest()), (140, STRONG), (150, WEAK), (161, Rest())), Level.CALL,
         Level.CALL),
    ):  # fmt: skip
        told = tuple(entry(number, *line) for number, line in enumerate(lines, start=1))
        stood = {one.rule.id: one.level for one in assessed(told).verdict(at(lines[-1][0])).alerts}
        assert (stood.get(ID), stood.get("rest-no-pup")) == (weak, strong), lines


def worst(entries: list[Entry], moment: datetime, *, rules: set[str]) -> Level:
    """The graver of the alerts of pushing and of a rest after it."""
    alerts = assessed(tuple(entries)).verdict(moment).alerts
    both = (one.level for one in alerts if one.rule.id in rules)
    return max(both, default=Level.PROMPT)


@settings(deadline=None)
@given(LINES)
def test_without_a_pup_no_line_takes_a_call_back(lines: list[tuple[int, What]]) -> None:
    """Weak and strong each for themselves: what stood a second before a line stands after it."""
    minute, told = 0, list[Entry]()
    kinds = {ID, "weak-contraction-no-pup"}, {"rest-no-pup", "contraction-no-pup"}
    for number, (later, what) in enumerate(lines, start=1):
        minute += later
        stood = [worst(told, at(minute) - SECOND, rules=rules) for rules in kinds]
        told.append(entry(number, minute, what))
        for before, rules in zip(stood, kinds, strict=True):
            assert worst(told, at(minute), rules=rules) >= before or before < Level.CALL
