"""The table of who judges what is complete and true."""

from boxlamp.rules.registry import BY_ID
from judge.clocks import Chapter
from judge.counts.judged_counts import BY_RULE
from judge.judged import HOW
from judge.verdicts import JUDGED, OF_EACH_PUP, OF_THE_DAM
from support.nights import DEFAULT

CHAPTERS: tuple[Chapter, ...] = (*OF_THE_DAM, *OF_EACH_PUP)


def test_every_rule_is_judged_or_says_why_not() -> None:
    """No rule is missing from the table, and none stands in it that does not exist."""
    assert HOW.keys() == BY_ID.keys()
    assert all(how in {"formula", "evaluator"} or len(how) > 20 for how in HOW.values())


def test_what_is_said_to_have_a_formula_has_one() -> None:
    """And nothing else has."""
    assert {rule for rule, how in HOW.items() if how == "formula"} == JUDGED


def test_what_is_said_to_have_an_evaluator_has_one() -> None:
    """Every rule that no formula tells is told by the slow judge."""
    assert {rule for rule, how in HOW.items() if how == "evaluator"} <= BY_RULE.keys()


def test_no_clock_of_a_judged_rule_is_left_out() -> None:
    """Every clock with limits in the protocol has its formula, and no formula is for another."""
    told = {(clock.rule, clock.clock) for chapter in CHAPTERS for clock in chapter.clocks}
    limited = {(one.rule, one.clock) for one in DEFAULT.limit if one.rule in JUDGED}
    assert told == limited


def test_each_clock_is_told_once() -> None:
    """Two formulas of one clock could hide each other's faults."""
    clocks = [(clock.rule, clock.clock) for chapter in CHAPTERS for clock in chapter.clocks]
    assert len(clocks) == len({*clocks})
