"""What rules share, before there is anything to tell: nothing is made up from nothing."""

from datetime import UTC, datetime, timedelta
from decimal import Decimal

import pytest

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Temperature, Waters, What
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.protocol.book import open_book
from boxlamp.rules import contraction_no_pup
from boxlamp.rules.birth_reference import BirthWeights
from boxlamp.rules.gains import Apart, gain_between
from boxlamp.rules.scale import Scale, Weighing
from boxlamp.rules.temperature_drop import Readings
from boxlamp.rules.term import Evidence
from support.nights import DEFAULT

BOOK = open_book(Story(), DEFAULT, frozenset())
NOON = datetime(2026, 3, 1, 12, tzinfo=UTC)


def after(days: float, what: What) -> Entry:
    """An entry so many days after noon."""
    at = NOON + timedelta(days=days)
    return Entry(id=1 + round(24 * days), litter="ash", at=at, recorded=at, what=what)


def test_a_pup_that_was_never_weighed() -> None:
    """It has no first weight, no gain and no growth, and weighs no times anything."""
    scale = Scale(1, after(0, Birth(pup=1)))
    assert scale.first is scale.last is None
    assert scale.times == 0
    assert scale.growth(Decimal(400)) is None
    assert gain_between(scale, "24 h", Apart(timedelta(hours=20), None)) is None
    scale.weighings.append(Weighing(scale.birth, Decimal(320)))
    assert scale.growth(Decimal(400)) == 25
    assert scale.times == 1


def test_a_birth_weight_with_nothing_to_hold_it_against() -> None:
    """A dam of no known breed or weight, and no litter yet: no weight is called low."""
    births = BirthWeights(BOOK)
    scale = Scale(1, after(0, Birth(pup=1, weight=Decimal(90))))
    scale.weighings.append(Weighing(scale.birth, Decimal(90)))
    assert births.level(scale, Decimal(90)) is None
    assert births.finding(scale) is None


def test_what_is_usual_for_her_takes_days() -> None:
    """Her own mean is told once her ordinary readings span three days, and of those alone."""
    readings = Readings(BOOK)
    assert (readings.mean, readings.spread_over) == (None, timedelta(0))
    for day, celsius in ((0, "38.2"), (1, "38.4"), (2.5, "36.9")):
        value = Decimal(celsius)
        readings.take(after(day, Temperature(celsius=value)), value)
        assert readings.mean is None
    readings.take(after(3, Temperature(celsius=Decimal("38.6"))), Decimal("38.6"))
    assert readings.spread_over == timedelta(days=3)
    assert readings.mean == Decimal("38.4")


@pytest.mark.parametrize("what", [Waters(), Birth(pup=1)])
def test_what_is_no_evidence_of_a_day(what: What) -> None:
    """Labour itself counts no days: what is no evidence leaves none."""
    evidence = Evidence(BOOK)
    evidence.take(after(0, what))
    assert (evidence.found, evidence.trusted, evidence.best) == ([], None, None)


def test_what_to_do_is_that_of_the_level_or_of_the_next_below() -> None:
    """A level of which a rule says nothing has the steps of a lower one; below all are none."""
    rule = contraction_no_pup.RULE
    assert rule.steps(Level.GO) == rule.do[Level.GO]
    assert rule._replace(do={Level.WATCH: ("Look.",)}).steps(Level.GO) == ("Look.",)
    assert rule.steps(Level.PROMPT) == ()
