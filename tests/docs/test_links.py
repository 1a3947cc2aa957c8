"""Every link leads somewhere, and every name in the documents is the name of something."""

import re
from pathlib import Path
from urllib.parse import unquote

import pytest

from boxlamp.cli.catalogue import BY_NAME
from boxlamp.cli.tree import pages as commands
from scribe.blocks import TOP

PAGES = sorted([TOP / "README.md", TOP / "DEVELOPERS.md", *(TOP / "docs").rglob("*.md")])
_FENCED = re.compile(r"^ *```.*?^ *```", flags=re.MULTILINE | re.DOTALL)
_LINK = re.compile(r"!?\[[^\]]*\]\(([^)\s]+)\)")
_CODE = re.compile(r"`([^`]+)`")
OPTIONS = {
    page.words: {name for option in page.options for name in option.names} | {"-h", "--help"}
    for page in commands()
}
EVERYWHERE = {"--debug", "--version", "--journal", "--litter", "--by", "--json", "--plain"}

each_page = pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(TOP)))


def prose(page: Path) -> str:
    return _FENCED.sub("", page.read_text(encoding="utf-8"))


def anchors(page: Path) -> set[str]:
    """The anchors of a page, as its headings make them."""
    found: set[str] = set()
    for title in re.findall(r"^#+ (.+)$", prose(page), flags=re.MULTILINE):
        bare = re.sub(r"[^\w\- ]", "", re.sub(r"\[([^\]]*)\]\([^)]*\)", r"\1", title.lower()))
        found.add(bare.strip().replace(" ", "-"))
    return found


@each_page
def test_every_link_leads_somewhere(page: Path) -> None:
    """A link names a file that is there and, behind a #, a heading that stands in it."""
    for link in _LINK.findall(prose(page)):
        if link.startswith(("http:", "https:")):
            continue
        name, _, anchor = unquote(link).partition("#")
        target = (page.parent / name).resolve() if name else page
        assert target.exists(), link
        if anchor:
            assert target.suffix == ".md"
            assert anchor in anchors(target), link


def test_every_page_can_be_reached() -> None:
    """From the README and the index of the documents one comes to every page and picture."""
    seen: set[Path] = set()
    ahead = [TOP / "README.md", TOP / "docs" / "index.md"]
    while ahead:
        page = ahead.pop()
        if page in seen or not page.is_file():
            continue
        seen.add(page)
        if page.suffix == ".md":
            ahead += [
                (page.parent / link.partition("#")[0]).resolve()
                for link in _LINK.findall(prose(page)) if ":" not in link and link[0] != "#"
            ]  # fmt: skip

    every = {path.resolve() for path in (TOP / "docs").rglob("*.*") if path.suffix in _SHOWN}
    assert every <= {path.resolve() for path in seen}


_SHOWN = {".md", ".svg", ".1"}


@each_page
def test_every_command_that_is_named_exists(page: Path) -> None:
    """A command in the running text is one of the program's, with options that it has."""
    for code in _CODE.findall(prose(page)):
        words = re.split(r"[\s=]+", code.partition(" | ")[0].partition(" > ")[0])
        if words[0].removeprefix(".venv/bin/") != "boxlamp" or len(words) == 1:
            continue
        if words[1].startswith("-") or words[1] == "ID":
            continue
        assert words[1] in BY_NAME, code
        if words[1] == "log":
            continue
        full = " ".join(words[1:3]) if BY_NAME[words[1]].nest else words[1]
        known = OPTIONS.get(full, set().union(*OPTIONS.values()))
        asked = {word for word in words[2:] if re.fullmatch(r"--?[a-z][a-z-]*", word)}
        assert asked <= known | EVERYWHERE, code


@each_page
def test_every_file_that_is_named_is_there(page: Path) -> None:
    """A path of the source in the running text is there, and so is a name behind its colon."""
    for code in _CODE.findall(prose(page)):
        path, _, name = code.partition("::" if "::" in code else ": ")
        if not re.fullmatch(r"(tests|docs|src|demo)/[\w./-]*", path) or "<" in path:
            continue
        assert (TOP / path).exists(), code
        if "::" in code:
            assert f"def {name}(" in (TOP / path).read_text(encoding="utf-8"), code


def test_the_readme_begins_with_the_job() -> None:
    """The README opens with the job in one paragraph and shows the two lines."""
    text = (TOP / "README.md").read_text(encoding="utf-8")
    paragraphs = [part for part in text.split("\n\n") if not part.startswith("#")]

    assert paragraphs[0].startswith("Boxlamp is for the person who sits up at night")
    assert "boxlamp replay demo/" in text
    assert "tests/all.py" in text


@each_page
def test_no_page_names_a_dose(page: Path) -> None:
    """No amount of a drug stands anywhere: no milligrams, no units per kilogram."""
    assert not re.search(r"\d\s*(mg|µg|mcg|IU)\b|\bmL?/kg", page.read_text(encoding="utf-8"))


def test_the_index_leads_each_of_the_three() -> None:
    """Breeder, vet and novice each find a page to begin with."""
    text = (TOP / "docs" / "index.md").read_text(encoding="utf-8")
    for reader in ("a breeder", "a vet", "a novice"):
        [row] = [line for line in text.splitlines() if line.startswith(f"| **{reader}**")]
        assert row.count("](") >= 3
