"""A judge that looks at one instant at a time agrees with the engine, to the second."""

from collections.abc import Iterable, Iterator

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from boxlamp.imagine import TROUBLES, imagine
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Finished, Rest
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules.registry import BY_ID
from judge.counts.compare import Judge, Tally, compared
from judge.counts.judged_counts import BY_RULE, JUDGED_COUNTS, JUDGES, LEFT
from judge.counts.streams import NIGHTS, SCALE, WEEKS
from judge.counts.told import SECOND, Levels, Then
from support.effort import NIGHTLY, effort
from support.made import STREAMS, told
from support.messy import MESSY
from support.nights import CASES, DEMO, Case, chapters

OWN = [
    case
    for rule in BY_RULE
    for case in chapters(CASES / "rules" / f"{rule}.night", rule)
]  # fmt: skip
OTHERS = [case for path in sorted((CASES / "rules").glob("*.night")) for case in chapters(path)]
TOLD = [
    case
    for path in (*sorted(DEMO.glob("*.night")), *sorted((CASES / "published").glob("*.night")))
    for case in chapters(path)
]


@pytest.fixture(scope="module")
def tally() -> Iterator[Tally]:
    """Everything that is compared here; the nightly run prints it."""
    counted = Tally("slow judge")
    yield counted
    if NIGHTLY:
        print(f"\n{counted}")  # noqa: T201  (a proof prints its figure)


def agree(tally: Tally, name: str, entries: Iterable[Entry], judges: Iterable[Judge]) -> None:
    """Both histories of these rules over a night are the same."""
    found = compared(Story(entries), [*judges])
    tally.add(found)
    apart = [str(one) for one in found if not one.agrees]
    assert not apart, "\n".join([name, *apart])


def test_every_rule_is_judged_or_left_for_a_reason() -> None:
    """No rule of the registry is forgotten, and none is both judged and left."""
    assert set(JUDGED_COUNTS) == set(BY_ID)
    assert all(JUDGED_COUNTS.values())
    assert not set(BY_RULE) & set(LEFT)


def test_a_second_off_would_be_found_out() -> None:
    """A judge whose clocks run a second late, or that is one degree of alarm off, is caught."""
    night = Story(told((0, Birth(pup=1)), (30, Finished()), (400, Rest())))
    judge = BY_RULE["afterbirth-missing-at-end"][0]

    def late(then: Then) -> Levels:
        return judge.now(then._replace(now=then.now - SECOND))

    def milder(then: Then) -> Levels:
        return {subject: min(level, Level.CALL) for subject, level in judge.now(then).items()}

    assert compared(night, [judge])[0].agrees
    assert not compared(night, [judge._replace(now=late)])[0].agrees
    assert not compared(night, [judge._replace(now=milder)])[0].agrees


@pytest.mark.parametrize("rule", BY_RULE)
def test_the_cases_of_a_rule(rule: str, tally: Tally) -> None:
    """Over each night that was written for the rule."""
    for case in OWN:
        if case.rule == rule:
            agree(tally, case.name, case.night.entries, BY_RULE[rule])


def _some(nights: list[Case], many: int) -> list[Case]:
    """So many of these, spread over all of them; all when there are fewer."""
    return nights[:: max(1, len(nights) // many)]


def test_the_cases_of_all_other_rules(tally: Tally) -> None:
    """Over the nights that were written for another rule as well."""
    for case in _some(OTHERS, effort(10, 10_000)):
        agree(tally, case.name, case.night.entries, JUDGES)


def test_demo_nights_and_published_whelpings(tally: Tally) -> None:
    """Over what is told whole: the library, the eight weeks, the literature."""
    for case in _some(TOLD, effort(4, 10_000)):
        agree(tally, case.name, case.night.entries, JUDGES)


def test_imagined_nights(tally: Tally) -> None:
    """Over nights drawn from published figures, with every kind of trouble."""
    troubles = [None, "none", *TROUBLES]
    for seed in range(effort(2, 600)):
        night = imagine(seed, trouble=troubles[seed % len(troubles)])
        agree(tally, f"imagined night {seed}", night.entries, JUDGES)


@settings(
    max_examples=effort(10, 2500), deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow,
                           HealthCheck.data_too_large],
)  # fmt: skip
@given(night=st.one_of(STREAMS, MESSY, NIGHTS, WEEKS, SCALE))
def test_random_nights_and_weeks(night: tuple[Entry, ...], tally: Tally) -> None:
    """Over anything at all: readings beside every limit, lines typed late, amended and struck."""
    agree(tally, "a random night", night, JUDGES)
