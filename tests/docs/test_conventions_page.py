"""The table of command-line conventions names tests that are there, and hides no failure."""

import ast
import re
from typing import NamedTuple

import pytest

from scribe.blocks import TOP

PAGE = TOP / "docs" / "reference" / "conventions.md"
RESULTS = {"passes": 47, "does not apply": 4, "fails": 3}
"""How many points have which result: a change here is a decision."""


class Row(NamedTuple):
    """One line of the table."""

    number: int
    point: str
    result: str
    why: str

    @property
    def tests(self) -> list[str]:
        """The tests it names."""
        return re.findall(r"`(tests/[^`]+::[^`]+)`", self.why)


def rows() -> list[Row]:
    found = []
    for line in PAGE.read_text(encoding="utf-8").splitlines():
        cells = [cell.strip() for cell in line.strip("|").split(" | ")]
        if cells[0].isdecimal():
            found.append(Row(int(cells[0]), *cells[1:]))
    return found


def test_there_are_all_of_them() -> None:
    """Fifty-four points, each once, with a result of three kinds."""
    assert [row.number for row in rows()] == list(range(1, 55))
    counted = {result: sum(row.result == result for row in rows()) for result in RESULTS}
    assert counted == RESULTS


@pytest.mark.parametrize("row", rows(), ids=lambda row: str(row.number))
def test_a_point_has_its_test_or_its_reason(row: Row) -> None:
    """What passes names a test; what does not says why; every test that is named exists."""
    if row.result == "passes":
        assert row.tests
    else:
        assert len(row.why.split()) >= 6
    for name in row.tests:
        path, _, test = name.partition("::")
        tree = ast.parse((TOP / path).read_text(encoding="utf-8"))
        assert test in {node.name for node in tree.body if isinstance(node, ast.FunctionDef)}, name
