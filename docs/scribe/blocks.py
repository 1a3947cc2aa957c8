"""The blocks of a page: what is typed in it, what is shown, and what the page says about running.

A block of a page is set between fences. What stands in a comment just above it counts for it:

``<!-- not run: why -->``  nobody can run this here, and why
``<!-- not run LINE: why -->``  the same for one line of it
``<!-- before: LINE -->``  what was typed on an earlier day, so that this one can be
``<!-- nightly: why -->``  takes too long for every change
``<!-- exit N -->``        a command of it leaves with N
``<!-- file NAME -->``     what it shows is put into this file
``<!-- clock DAY TIME -->``  the time of day from here on
``<!-- attend -->``        typed at the console: ``> line``, then the answer
"""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

TOP = Path(__file__).parents[2]
_FENCE = re.compile(r"^( *)```(\w*)\s*$")
_NOTE = re.compile(r"^\s*<!-- (.*) -->\s*$")


class Step(NamedTuple):
    """One line that is typed, and the lines that the page shows as its answer."""

    line: str
    shown: tuple[str, ...]


class Block(NamedTuple):
    """One fenced block: its kind, the notes above it, where it stands, its lines without indent."""

    kind: str
    notes: dict[str, str]
    first: int
    """The number of its first line in the page, counted from 0."""
    indent: int
    lines: tuple[str, ...]

    @property
    def typed(self) -> bool:
        """Whether it shows what is typed at a terminal."""
        return self.kind == "console"

    @property
    def answered(self) -> bool:
        """Whether it shows answers too."""
        return any(line.startswith(self.prompt) for line in self.lines)

    @property
    def prompt(self) -> str:
        """What stands before a typed line where answers are shown."""
        return "> " if "attend" in self.notes else "$ "

    @property
    def steps(self) -> tuple[Step, ...]:
        """What is typed, line by line, each with the answer shown."""
        return tuple(_steps(self.lines, self.prompt if self.answered else ""))


def _steps(lines: tuple[str, ...], prompt: str) -> Iterator[Step]:
    line, shown = "", list[str]()
    for text in lines:
        if not prompt:
            if text.strip():
                yield Step(text, ())
        elif text.startswith(prompt):
            if line:
                yield Step(line, tuple(shown))
            line, shown = text[2:], []
        else:
            shown.append(text)
    if line:
        yield Step(line, tuple(shown))


def blocks_of(text: str) -> Iterator[Block]:
    """Every fenced block of a page, in order."""
    notes: dict[str, str] = {}
    opened: tuple[str, int, int] | None = None
    inside: list[str] = []
    for number, line in enumerate(text.splitlines()):
        fence = _FENCE.match(line)
        if opened is not None:
            kind, first, indent = opened
            if fence and not fence[2] and len(fence[1]) == indent:
                yield Block(kind, notes, first, indent, tuple(inside))
                opened, notes, inside = None, {}, []
            else:
                inside.append(line[indent:] if line.strip() else "")
        elif fence:
            opened = (fence[2], number + 1, len(fence[1]))
        elif note := _NOTE.match(line):
            word, _, rest = note[1].partition(" ")
            name, colon, why = note[1].partition(": ")
            notes |= {name: why} if colon else {word: rest}
        elif line.strip():
            notes = {}


def pages() -> list[Path]:
    """Every page that people read, but those that are written whole from the program."""
    found = [TOP / "README.md", TOP / "DEVELOPERS.md", *sorted((TOP / "docs").rglob("*.md"))]
    return [page for page in found if not page.read_text(encoding="utf-8").startswith("<!-- Wri")]


def rewritten(text: str, block: Block, steps: list[Step]) -> str:
    """The page with the answers of a block replaced."""
    lines = text.splitlines()
    lead = " " * block.indent
    made = [
        (lead + line).rstrip()
        for step in steps
        for line in (block.prompt + step.line, *step.shown)
    ]  # fmt: skip
    lines[block.first : block.first + len(block.lines)] = made
    return "\n".join(lines) + "\n"
