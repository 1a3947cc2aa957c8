"""Risk factors, and how much they tighten."""

from datetime import timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boxlamp.model.happenings import Details, Expect, What
from boxlamp.model.levels import Level
from boxlamp.model.litter import fold
from boxlamp.model.story import Story
from boxlamp.protocol.risk import risk_factors, tightened
from support.made import told
from support.nights import DEFAULT


def found(*whats: What) -> tuple[str, ...]:
    """The risk factors after these."""
    return risk_factors(fold(Story(told(*((0.0, what) for what in whats)))), DEFAULT.risk)


def details(**facts: object) -> Details:
    return Details.model_validate(facts)


ALONE: list[tuple[What, tuple[str, ...]]] = [
    (details(dam="Ash"), ()),
    (details(flat_faced=True), ("flat-faced breed",)),
    (details(breed="French Bulldog"), ("flat-faced breed",)),
    (details(breed="  PUG "), ("flat-faced breed",)),
    (details(breed="pug", flat_faced=False), ()),
    (details(breed="beagle"), ()),
    (details(toy=True), ("toy breed",)),
    (details(breed="chihuahua"), ("toy breed",)),
    (details(breed="chihuahua", toy=False), ()),
    (Expect(count=0), ()),
    (Expect(count=1), ("2 or fewer pups expected",)),
    (Expect(count=2), ("2 or fewer pups expected",)),
    (Expect(count=3), ()),
    (Expect(count=10), ()),
    (Expect(count=11), ("more than 10 pups expected",)),
    (details(first_litter=True, age_years="4"), ()),
    (details(first_litter=True, age_years="4.1"), ("first litter over 4 years",)),
    (details(first_litter=False, age_years="9"), ()),
    (details(age_years="9"), ()),
    (details(first_litter=True), ()),
    (details(earlier_dystocia=True), ("earlier difficult whelping",)),
    (details(earlier_dystocia=False), ()),
    (details(earlier_caesarean=True), ("earlier caesarean",)),
    (details(weight=4999), ("dam under 5 kg",)),
    (details(weight=5000), ()),
    (details(weight=45000), ()),
    (details(weight=45001), ("dam over 45 kg",)),
]


@pytest.mark.parametrize(("what", "wanted"), ALONE, ids=[str(what)[:60] for what, _ in ALONE])
def test_each_factor_alone(what: What, wanted: tuple[str, ...]) -> None:
    """Each at its boundary and beside it, and nothing else with it."""
    assert found(what) == wanted


def test_several_are_all_named() -> None:
    """A person should see every reason."""
    both = found(details(breed="pug", weight=4000, earlier_caesarean=True), Expect(count=1))
    assert both == (
        "flat-faced breed", "2 or fewer pups expected", "earlier caesarean", "dam under 5 kg",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("minutes", "level", "wanted"),
    [
        (0, Level.WATCH, 0), (0, Level.CALL, 0), (0, Level.GO, 0),
        (3, Level.WATCH, 3), (5, Level.GO, 5), (6, Level.CALL, 5),
        (10, Level.WATCH, 5), (15, Level.WATCH, 5), (20, Level.WATCH, 10), (19, Level.WATCH, 5),
        (20, Level.CALL, 15), (30, Level.CALL, 20), (30, Level.GO, 20), (60, Level.GO, 45),
        (90, Level.WATCH, 45), (120, Level.CALL, 90), (240, Level.GO, 180), (1440, Level.GO, 1080),
        (26, Level.GO, 15), (27, Level.GO, 20), (60, Level.PROMPT, 30),
    ],
)  # fmt: skip
def test_tightened(minutes: int, level: Level, wanted: int) -> None:
    """Half the watch, three quarters of the rest, down to steps of five minutes, one at least."""
    span = tightened(timedelta(minutes=minutes), level, DEFAULT.risk)
    assert span == timedelta(minutes=wanted)


@given(st.integers(0, 10_000_000), st.sampled_from(list(Level)))
def test_tightened_is_never_longer(seconds: int, level: Level) -> None:
    """A risk factor never lengthens a clock, and never skips the step."""
    span = timedelta(seconds=seconds)
    shorter = tightened(span, level, DEFAULT.risk)
    step = timedelta(seconds=DEFAULT.risk.round_down_to)
    assert shorter <= span
    assert shorter == span or shorter % step == timedelta(0)
    factor = DEFAULT.risk.watch_factor if level <= Level.WATCH else DEFAULT.risk.call_factor
    assert shorter >= min(span, step)
    assert shorter > timedelta(seconds=float(Decimal(seconds) * factor)) - step
