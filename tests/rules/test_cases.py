"""Every rule's case file raises exactly what it says, to the second."""

import pytest

from boxlamp.rules.registry import BY_ID
from support.nights import CASES, Case, chapters, check

RULE_CASES = [
    case for path in sorted((CASES / "rules").glob("*.night")) for case in chapters(path, path.stem)
]


@pytest.mark.parametrize("case", RULE_CASES, ids=lambda case: case.name)
def test_case_file(case: Case) -> None:
    """The night raises and clears what its own lines say, and nothing else of its rule."""
    check(case)


def test_every_rule_has_a_case_file_and_every_case_file_a_rule() -> None:
    """No rule without a case file, no case file without a rule."""
    assert {path.stem for path in (CASES / "rules").glob("*.night")} == set(BY_ID)
