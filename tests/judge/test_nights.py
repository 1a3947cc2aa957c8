"""The engine and the judge say the same of every night: raised and cleared, to the second."""

import sys
from collections import Counter
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings

from boxlamp.engine import assess
from boxlamp.imagine import imagine
from boxlamp.model.entry import Entry
from boxlamp.model.story import Story
from boxlamp.rules.registry import RULES
from judge.engine_says import engine_says
from judge.nights import OWN
from judge.verdicts import JUDGED, judge
from support.effort import NIGHTLY, effort
from support.made import STREAMS
from support.messy import MESSY, SET_BACK
from support.nights import CASES, DEFAULT, DEMO, chapters

pytest.importorskip("rtamt")

NEVER_RELAXED = frozenset(rule.id for rule in RULES if rule.never_relaxed)
WATCHED = tuple(rule for rule in RULES if rule.id in JUDGED)
_USUAL: dict[str, Any] = {"deadline": None, "derandomize": not NIGHTLY}
"""On every change the same nights; the long run looks for new ones each time."""
NIGHTS, CHANGES, APART = Counter[str](), Counter[str](), Counter[str]()
"""What has been compared: nights by where they come from, changes and disagreements by rule."""


@pytest.fixture(scope="module", autouse=True)
def _figures() -> Iterator[None]:
    """The long run prints its figures when all nights have been judged."""
    yield
    if NIGHTLY:
        sys.stdout.write(
            f"\njudge: {NIGHTS.total()} nights ({_list(NIGHTS)}), {CHANGES.total()} transitions of"
            f" {len(JUDGED)} rules compared, {APART.total()} disagreements"
            f" ({_list(APART) or 'none'})\njudge: transitions by rule: {_list(CHANGES)}\n"
        )


def _list(counts: Counter[str]) -> str:
    return ", ".join(f"{name} {count}" for name, count in sorted(counts.items()))


def compare(entries: Iterable[Entry], where: str) -> None:
    """One night judged by both: the same levels, from the same second to the same second."""
    story = Story(entries)
    engine = engine_says(assess(story, DEFAULT, WATCHED))
    formulas = judge(story, DEFAULT, NEVER_RELAXED)
    NIGHTS[where] += 1
    for (rule, _), changes in engine.items():
        CHANGES[rule] += len(changes)
    for key in engine.keys() | formulas.keys():
        if engine.get(key) != formulas.get(key):
            APART[key[0]] += 1
    assert formulas == engine


def test_an_empty_night_is_quiet() -> None:
    """Nothing written down, nothing said by either."""
    compare((), "empty")
    assert judge(Story(), DEFAULT, NEVER_RELAXED) == {}


@settings(max_examples=effort(30, 6000), **_USUAL)
@given(STREAMS)
def test_random_nights(night: tuple[Entry, ...]) -> None:
    """Whatever happens in whatever order."""
    compare(night, "random")


@settings(max_examples=effort(25, 3000), **_USUAL)
@given(MESSY)
def test_messy_nights(night: tuple[Entry, ...]) -> None:
    """Lines typed late, typed ahead, amended and struck."""
    compare(night, "messy")


@settings(max_examples=effort(10, 1000), **_USUAL)
@given(SET_BACK)
def test_nights_on_a_clock_that_was_set_back(night: tuple[Entry, ...]) -> None:
    """What was typed later carries the earlier time of typing."""
    compare(night, "set back")


@settings(max_examples=effort(80, 20_000), **_USUAL)
@given(OWN)
def test_nights_of_the_judges_own(night: tuple[Entry, ...]) -> None:
    """Few kinds of line, met again and again at the limits themselves."""
    compare(night, "own")


def test_imagined_nights() -> None:
    """Normal and troubled whelpings drawn from published figures."""
    for seed in range(effort(10, 1500)):
        compare(imagine(seed).entries, "imagined")


PUBLISHED = sorted((CASES / "published").glob("*.night"))
LIBRARY = sorted(DEMO.glob("*.night"))
RULE_CASES = sorted((CASES / "rules").glob("*.night"))


@pytest.mark.parametrize("path", [*PUBLISHED, *LIBRARY], ids=lambda path: path.stem)
def test_told_nights(path: Path) -> None:
    """Every whelping from the literature, and every invented night of the library."""
    [case] = chapters(path)
    compare(case.night.entries, path.parent.name)


@pytest.mark.parametrize("path", RULE_CASES, ids=lambda path: path.stem)
def test_the_cases_of_each_rule(path: Path) -> None:
    """All of them in the long run, the first few of each on every change."""
    for case in chapters(path)[: effort(3, 1000)]:
        compare(case.night.entries, "cases")
