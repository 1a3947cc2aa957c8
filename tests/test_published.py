"""Whelpings from the literature, told as night logs, raise exactly what they should."""

import re

import pytest

from boxlamp.model.levels import Level
from support.nights import CASES, Case, chapters, check, steps_of

FILES = sorted((CASES / "published").glob("*.night"))
NIGHTS = [case for path in FILES for case in chapters(path)]
AT_LEAST = 10
CODE = re.compile(r"(?:[ADP]\d\d|REF-TEMP-(?:PRE|POST))(?=-)")
SOURCE = re.compile(
    r"\bdoi:10\.\d{4,}/\S+"  # a DOI
    r"|\bhttps?://[^\s/]+"  # a page
    r"|\b\d+\([^()]+\):\w+"  # volume, issue and page of a journal
)
DOSE = re.compile(r"\d\s*-?(?:mg|mcg|[µu]g|ml\s*/\s*kg|i\.?u|units?)\b", re.IGNORECASE)
WELL = "# all was well"

each_night = pytest.mark.parametrize("case", NIGHTS, ids=lambda case: case.name)


def comments(case: Case) -> list[str]:
    """The comments of a night, without its expectations."""
    lines = case.text.splitlines()
    return [line for line in lines if line.startswith("#") and not line.startswith("#=")]


@each_night
def test_published_night(case: Case) -> None:
    """Every call and go it raises is written down in it, and all it says comes true."""
    check(case, least=Level.CALL)


def test_there_are_enough_of_them() -> None:
    """At least ten, one night in a file, each with its own case."""
    codes = {match[0] for path in FILES if (match := CODE.match(path.name))}

    assert len(NIGHTS) == len(FILES) == len(codes) >= AT_LEAST


@each_night
def test_it_says_where_it_comes_from(case: Case) -> None:
    """Case code first, then the source, and what in the log is a placeholder."""
    code = CODE.match(case.name)
    said = comments(case)
    source = re.search(r"# Source: .*?(?=\n# [A-Z])", "\n".join(said), re.DOTALL)

    assert code is not None
    assert said[0].startswith(f"# {code[0]}: ")
    assert source is not None
    assert SOURCE.search(source[0])
    assert any(line.startswith("# Placeholders: ") for line in said)
    assert case.night.header["dam"].endswith(f" of case {code[0]}")


@each_night
def test_it_expects_something(case: Case) -> None:
    """A night without any expectation would prove nothing."""
    assert case.night.expected


@each_night
def test_it_holds_no_dose(case: Case) -> None:
    """What was given is told; how much of it is nobody's business but the vet's."""
    assert not DOSE.search(case.text)


@pytest.mark.parametrize(
    "dose", ["5 mg", "0.2 IU/kg", "30IU", "0.5 mL/kg", "10 units", "4 mcg", "2 µg", "5 i.u. given"]
)
def test_a_dose_would_be_seen(dose: str) -> None:
    """The search above finds what it is for."""
    assert DOSE.search(f"12:00 given a medicine {dose} by the vet")


@pytest.mark.parametrize(
    "case", [case for case in NIGHTS if WELL in comments(case)], ids=lambda case: case.name
)
def test_where_all_was_well_nobody_has_to_drive(case: Case) -> None:
    """A healthy whelping from the literature never reaches go, by any rule."""
    assert not steps_of(case.night, None, Level.GO)


def test_some_of_them_went_well() -> None:
    """The test above has something to look at."""
    assert any(WELL in comments(case) for case in NIGHTS)
