"""What the library of invented nights promises to whoever practises with it."""

import re
from functools import cache

import pytest

from boxlamp.model.levels import Level
from boxlamp.rules.registry import BY_ID, RULES
from support.nights import DEMO, Case, chapters, steps_of

NIGHTS = {case.name: case for path in sorted(DEMO.glob("*.night")) for case in chapters(path)}
EVERY = pytest.mark.parametrize("case", NIGHTS.values(), ids=NIGHTS)

COVERED = {"before labour", "labour", "afterbirths"}
"""The groups of which no rule may be missing from the library."""

COMMON = (
    "dam-hot", "dam-cold", "dam-collapse", "dam-tremor", "dam-vomiting", "dam-off-food", "udder",
    "green-after-whelping", "vet-check-due",
    "sac-on-pup", "not-breathing", "cord-bleeding", "first-milk", "viability", "pup-cold",
    "nursing-gap", "pup-sign", "litter-losses", "birth-weight", "weight-loss",
)  # fmt: skip
"""The rules of the dam and the pups that a first litter is likeliest to meet."""

OF_DRIVING = re.compile(r"\b(drive|drives|driving|car|road)\b")
VET = re.compile(r".+ \(invented\)")
NUMBER = re.compile(r"000 555 \d{3}")


@cache
def raised(name: str) -> frozenset[tuple[Level, str]]:
    """The levels and rules that a night raises, from watch up."""
    steps = steps_of(NIGHTS[name].night, None, Level.WATCH)
    return frozenset((Level[level.upper()], rule) for _, level, rule, _ in steps)


def worst(name: str) -> Level:
    """The worst that a night raises; no more than a prompt when it only asks for records."""
    levels = (level for level, rule in raised(name) if BY_ID[rule].urgency != "records")
    return max(levels, default=Level.PROMPT)


@pytest.mark.parametrize(
    "rule", [*(rule.id for rule in RULES if rule.group in COVERED), *COMMON], ids=str
)
def test_every_rule_worth_practising_is_met(rule: str) -> None:
    """Each rule of labour, before it and of the afterbirths comes up; so do the common others."""
    assert any(rule == other for name in NIGHTS for _, other in raised(name))


def test_every_level_is_met() -> None:
    """There are nights that stay calm, and nights whose worst is a watch, a call and a go."""
    assert {worst(name) for name in NIGHTS} == {Level.PROMPT, Level.WATCH, Level.CALL, Level.GO}


def test_calm_is_practised_too() -> None:
    """Five nights or more never ask to ring; in three or more of them only records are wanted."""
    assert len(NIGHTS) >= 18
    assert sum(worst(name) <= Level.WATCH for name in NIGHTS) >= 5
    assert sum(worst(name) <= Level.PROMPT for name in NIGHTS) >= 3


@EVERY
def test_every_night_teaches(case: Case) -> None:
    """What a night teaches can be read in a breath."""
    assert 40 <= len(case.night.lesson) <= 400


@pytest.mark.parametrize("name", [name for name in NIGHTS if worst(name) is Level.GO])
def test_a_go_is_explained(name: str) -> None:
    """Where the board says to leave, the lesson speaks of driving."""
    assert OF_DRIVING.search(NIGHTS[name].night.lesson)


def test_nobody_is_met_twice() -> None:
    """Each night has a dam of its own, so that no one can go by the name."""
    dams = [case.night.header["dam"] for case in NIGHTS.values()]
    assert len(set(dams)) == len(dams)


@EVERY
def test_no_vet_is_real(case: Case) -> None:
    """Every vet is called invented, and the numbers lead nowhere."""
    header = case.night.header
    assert VET.fullmatch(header["vet"])
    numbers = {header["vet-phone"], header.get("night-phone", header["vet-phone"])}
    assert all(NUMBER.fullmatch(number) for number in numbers)


def test_late_and_corrected_lines_are_met() -> None:
    """Nights are not typed without a slip: some lines come late, are guessed, or are put right."""
    entries = [entry for case in NIGHTS.values() for entry in case.night.entries]
    assert sum(entry.recorded > entry.at and entry.certainty != "day" for entry in entries) >= 2
    assert sum(entry.certainty == "estimated" for entry in entries) >= 2
    assert {"amend", "strike"} <= {entry.what.kind for entry in entries}


def test_the_nights_differ() -> None:
    """Small dams and large ones, first litters and later, many breeds and zones, both units."""
    headers = [case.night.header for case in NIGHTS.values()]
    texts = "\n".join(case.text for case in NIGHTS.values())
    assert len({header["breed"] for header in headers}) >= 15
    assert len({header["zone"] for header in headers}) >= 10
    assert {header["first-litter"] for header in headers} == {"yes", "no"}
    assert re.search(r"\d(oz|lb)\b", texts)
    assert re.search(r"temp \d+(\.\d)?f\b", texts)
