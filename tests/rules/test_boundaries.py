"""No limit stands in the protocol that no case file reaches, to the second, as it is written."""

from collections.abc import Iterator
from datetime import timedelta
from functools import cache

import pytest

from boxlamp.model.levels import Level
from boxlamp.protocol.records import LimitRecord, level_of
from boxlamp.rules.registry import BY_ID
from support.nights import CASES, DEFAULT, Case, _end, assessed, chapters

Reached = tuple[str, str, Level, timedelta]
"""A rule, one of its clocks, a level, and the limit by which it was reached."""

LIMITS = [record for record in DEFAULT.limit if record.rule in BY_ID]


def reached_in(case: Case) -> Iterator[Reached]:
    """The limits that this night of a case file reaches, for its own rule.

    A level counts when it was raised in the second in which its limit ran out, or for a clock
    that came to matter later, in the second in which it did. That the case file states each of
    these seconds is the business of the test of case files.
    """
    night = case.night
    assessment, end = assessed(night.entries), _end(night)
    raised = {
        (step.rule.id, step.subject, step.level, step.at)
        for step in assessment.history(end)
        if step.change in {"raised", "escalated"}
    }
    for own in assessment.standings:
        spell = own.spell
        prompted = own.level is Level.PROMPT and own.start <= end
        if spell.rule == case.rule and spell.level is None:
            assert own.start >= max(spell.since + own.limit, spell.start)
            if prompted or (spell.rule, spell.subject, own.level, own.start) in raised:
                yield spell.rule, spell.clock, own.level, own.limit


@cache
def every_reached() -> frozenset[Reached]:
    """The limits that the case files reach, all together."""
    return frozenset(
        reached
        for path in (CASES / "rules").glob("*.night")
        for case in chapters(path, path.stem)
        for reached in reached_in(case)
    )


@pytest.mark.parametrize(
    "record", LIMITS, ids=lambda record: f"{record.rule} {record.clock} {record.level}"
)
def test_a_case_file_reaches_each_limit(record: LimitRecord) -> None:
    """Some night of the rule's own case file raises this level by this very limit."""
    reached = (record.rule, record.clock, level_of(record.level), record.span)

    assert reached in every_reached()


def test_every_limit_belongs_to_a_rule() -> None:
    """A limit for a rule that does not exist guards nobody."""
    assert {record.rule for record in DEFAULT.limit} <= set(BY_ID)
