"""The comparison has teeth: an engine whose limits are a second off is found out."""

from datetime import timedelta
from functools import lru_cache

import pytest

from boxlamp.engine import assess
from boxlamp.model.story import Story
from boxlamp.protocol.records import LimitRecord, Protocol
from boxlamp.rules.registry import BY_ID, RULES
from judge.engine_says import engine_says
from judge.verdicts import JUDGED, Change, Subject, judge
from support.effort import effort
from support.nights import CASES, DEFAULT, Case, chapters

pytest.importorskip("rtamt")

NEVER_RELAXED = frozenset(rule.id for rule in RULES if rule.never_relaxed)
# Its clock counts from the last birth: a second later makes no difference to a night.
_NO_MATTER = ("afterbirth-missing-at-end", "main", "watch")
LIMITS = tuple(
    one
    for one in DEFAULT.limit
    if one.rule in JUDGED and (one.rule, one.clock, one.level) != _NO_MATTER
)


def a_second_later(limit: LimitRecord) -> Protocol:
    """The protocol with one limit a second longer, and with it the one that it follows."""
    seconds = int((limit.span + timedelta(seconds=1)).total_seconds())
    longer = {"value": seconds, "unit": "s"}
    leader = (limit.follows, "main", limit.level)
    limits = tuple(
        one.model_copy(update=longer)
        if one is limit or (one.rule, one.clock, one.level) == leader
        else one
        for one in DEFAULT.limit
    )
    fields = {name: getattr(DEFAULT, name) for name in Protocol.model_fields}
    return Protocol.model_validate(fields | {"limit": limits})


@lru_cache(maxsize=1000)
def verdict(case: Case) -> dict[Subject, tuple[Change, ...]]:
    """What the judge says of a night."""
    return judge(Story(case.night.entries), DEFAULT, NEVER_RELAXED)


def found_out(limit: LimitRecord, case: Case) -> bool:
    """Whether this night shows that the engine's limit is not the judge's."""
    rule = BY_ID[limit.rule]
    said = engine_says(assess(Story(case.night.entries), a_second_later(limit), (rule,)))
    own = {key: told for key, told in verdict(case).items() if key[0].startswith(rule.id)}
    return said != own


@pytest.mark.parametrize(
    "limit", LIMITS[:: effort(5, 1)], ids=lambda one: f"{one.rule}-{one.clock}-{one.level}"
)
def test_a_limit_one_second_off_is_found_out(limit: LimitRecord) -> None:
    """Among the cases of its rule there is a night on which engine and judge then differ."""
    nights = chapters(CASES / "rules" / f"{limit.rule}.night")
    assert any(found_out(limit, case) for case in nights)
