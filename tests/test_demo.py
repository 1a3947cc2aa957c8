"""The invented nights in demo/ raise exactly what they say, to the second."""

import pytest

from boxlamp.outside import shipped_nights
from support.nights import DEMO, Case, chapters, check

NIGHTS = [case for path in sorted(DEMO.glob("*.night")) for case in chapters(path)]


@pytest.mark.parametrize("case", NIGHTS, ids=lambda case: case.name)
def test_demo_night(case: Case) -> None:
    """Every alert the night raises stands in the file, and every one in the file is raised."""
    check(case)


@pytest.mark.parametrize("case", NIGHTS, ids=lambda case: case.name)
def test_demo_nights_are_called_invented(case: Case) -> None:
    """A demo record says in its first line that it is invented."""
    assert case.text.startswith("# An invented ")


def test_a_normal_night_stays_calm() -> None:
    """A whelping that goes as it should never asks to ring or to drive."""
    normal = next(case for case in NIGHTS if case.name.startswith("normal"))

    assert " call " not in normal.text.replace("vet call", "")
    assert " go " not in "\n".join(
        line for line in normal.text.splitlines() if line.startswith("#=")
    )


def test_the_program_carries_the_nights() -> None:
    """Whoever installs it can practise: every night in demo/ is found by the program."""
    assert {path.name for path in shipped_nights()} == {path.name for path in DEMO.glob("*.night")}
