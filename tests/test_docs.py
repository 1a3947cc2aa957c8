"""The documents say what the program says."""

import re
import subprocess
import sys
from pathlib import Path

import pytest

from boxlamp.cli.catalogue import BY_NAME

TOP = Path(__file__).parents[1]
PAGES = sorted([TOP / "README.md", TOP / "DEVELOPERS.md", *(TOP / "docs").rglob("*.md")])


def test_the_reference_is_fresh() -> None:
    """docs/reference/ is what the program would write now."""
    checked = subprocess.run(
        [sys.executable, str(TOP / "docs" / "generate.py"), "--check"],
        capture_output=True, text=True, check=False,
    )  # fmt: skip

    assert checked.returncode == 0, checked.stderr


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_every_command_in_the_documents_exists(page: Path) -> None:
    """A document names no command that the program does not have."""
    text = page.read_text(encoding="utf-8")
    named = re.findall(r"(?:^|`|&& |bin/)boxlamp ([a-z-]+)", text, flags=re.MULTILINE)

    assert set(named) <= set(BY_NAME)


def test_the_readme_names_every_command_group_a_newcomer_needs() -> None:
    """The README opens with the job in one paragraph and shows the two lines."""
    text = (TOP / "README.md").read_text(encoding="utf-8")
    paragraphs = [part for part in text.split("\n\n") if not part.startswith("#")]

    assert paragraphs[0].startswith("Boxlamp is for the person who sits up at night")
    assert "boxlamp replay demo/" in text
    assert "tests/all.py" in text


def test_every_relative_link_leads_somewhere() -> None:
    """No document links to a file that is not there."""
    for page in PAGES:
        for link in re.findall(r"\]\(([^)#:]+)\)", page.read_text(encoding="utf-8")):
            assert (page.parent / link).exists(), f"{page.name}: {link}"
