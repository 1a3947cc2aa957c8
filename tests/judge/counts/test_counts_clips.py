"""A production system agrees with the engine after every entry."""

from collections.abc import Iterable, Iterator

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from boxlamp.engine import assess
from boxlamp.imagine import TROUBLES, imagine
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Reflexes
from boxlamp.model.story import Story
from boxlamp.rules.registry import BY_ID
from judge.counts.clips_judge import CLIPS_RULES, Levels, verdicts
from judge.counts.compare import Tally
from judge.counts.streams import NIGHTS, SCALE, WEEKS
from support.effort import NIGHTLY, effort
from support.made import STREAMS
from support.messy import MESSY
from support.nights import CASES, DEFAULT, DEMO, chapters

RULES = tuple(BY_ID[rule] for rule in CLIPS_RULES)
OWN = [case for rule in CLIPS_RULES for case in chapters(CASES / "rules" / f"{rule}.night", rule)]
OTHERS = [
    case
    for path in (*sorted(CASES.glob("*/*.night")), *sorted(DEMO.glob("*.night")))
    for case in chapters(path)
]


@pytest.fixture(scope="module")
def tally() -> Iterator[Tally]:
    """Everything that is compared here; the nightly run prints it."""
    counted = Tally("CLIPS")
    yield counted
    if NIGHTLY:
        print(f"\n{counted}")  # noqa: T201  (a proof prints its figure)


def agree(tally: Tally, name: str, entries: Iterable[Entry]) -> None:
    """After the entries of every instant both say the same of each rule and subject.

    A reflex is no score: what is said of reflexes is left out, for both.
    """
    kept = [one for one in Story(entries).entries if not isinstance(one.what, Reflexes)]
    story = Story(kept)
    assessment = assess(story, DEFAULT, RULES)
    apart = []
    for at, said in verdicts(story):
        alerts = assessment.verdict(at).alerts
        engine: Levels = {(alert.rule.id, alert.subject): alert.level for alert in alerts}
        differing = {key for key in {*engine, *said} if engine.get(key) != said.get(key)}
        tally.count(CLIPS_RULES, {rule for rule, _subject in differing})
        apart += [(at, key, engine.get(key), said.get(key)) for key in sorted(differing)]
    tally.nights += 1
    assert not apart, f"{name}: {apart}"


def test_the_cases_of_these_rules(tally: Tally) -> None:
    """Over the nights that were written for them."""
    for case in OWN[:: effort(9, 1)]:
        agree(tally, case.name, case.night.entries)


def test_all_other_nights_that_are_written_down(tally: Tally) -> None:
    """Over those for other rules, the library, the eight weeks and the literature."""
    for case in OTHERS[:: effort(90, 1)]:
        agree(tally, case.name, case.night.entries)


def test_imagined_nights(tally: Tally) -> None:
    """Over nights drawn from published figures, with every kind of trouble."""
    troubles = [None, "none", *TROUBLES]
    for seed in range(effort(1, 300)):
        night = imagine(seed, trouble=troubles[seed % len(troubles)])
        agree(tally, f"imagined night {seed}", night.entries)


@settings(
    max_examples=effort(10, 500), deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow,
                           HealthCheck.data_too_large],
)  # fmt: skip
@given(night=st.one_of(STREAMS, MESSY, NIGHTS, WEEKS, SCALE))
def test_random_nights_and_weeks(night: tuple[Entry, ...], tally: Tally) -> None:
    """Over anything at all: readings beside every limit, lines typed late, amended and struck."""
    agree(tally, "a random night", night)
