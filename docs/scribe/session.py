"""A page played through: every line typed in order, each answer set beside the one shown."""

import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import NamedTuple

from boxlamp.attend.sitting import Sitting
from boxlamp.desk.session import session
from boxlamp.view.text import width_of, wrap
from scribe.blocks import TOP, Block, Step, blocks_of, rewritten
from scribe.shell import NotForPagesError, Shell, Told

_ACROSS = 80
ELISION = "..."
"""A line of an answer that stands for any lines that are left out."""


class Fault(NamedTuple):
    """One line of a page that does not do what the page says."""

    where: str
    says: str


class Played(NamedTuple):
    """What became of a page: what was run and compared, what was not and why, what is wrong."""

    page: Path
    ran: int
    """Commands that were run; each of a chain or a pipe counts."""
    by_rule: int
    """Commands that are never run here: see ``shell.BY_RULE``."""
    compared: int
    left: tuple[tuple[str, str], ...]
    """Blocks that were not run, by their place, each with the reason the page gives."""
    faults: tuple[Fault, ...]
    text: str
    """The page as it would have to read."""


def play(page: Path, *, nightly: bool = False) -> Played:
    """Type every line of a page in a fresh folder, in order, at a clock that stands still."""
    text = page.read_text(encoding="utf-8")
    found = _Found()
    with fresh() as shell:
        for block in blocks_of(text):
            _prepare(shell, block)
            if block.typed or "attend" in block.notes:
                where = f"{page.relative_to(TOP)}:{block.first}"
                _play_block(shell, block, where, found, nightly=nightly)
    # Answers may grow: the later blocks are put in place first, so that numbers stay right.
    for block, steps in reversed(found.changes):
        text = rewritten(text, block, steps)
    return Played(
        page, shell.ran, shell.by_rule, found.compared, tuple(found.left), tuple(found.faults), text
    )


class _Found:
    """What has been found in a page so far."""

    def __init__(self) -> None:
        self.compared = 0
        self.left: list[tuple[str, str]] = []
        self.faults: list[Fault] = []
        self.changes: list[tuple[Block, list[Step]]] = []


def _prepare(shell: Shell, block: Block) -> None:
    """Turn the clock and put a file in its place, where a block asks for it."""
    if "clock" in block.notes:
        shell.set_clock(block.notes["clock"])
    if name := block.notes.get("file"):
        (shell.home / name).write_text("\n".join(block.lines) + "\n", encoding="utf-8")


def _play_block(shell: Shell, block: Block, where: str, found: _Found, *, nightly: bool) -> None:
    """Type the lines of one block and set the answers beside those shown."""
    reason = block.notes.get("not run") or ("" if nightly else block.notes.get("nightly"))
    if reason:
        found.left.append((where, reason))
        return
    if prepared := block.notes.get("before"):
        told = shell.line(prepared)
        found.faults += [Fault(f"{where}: {prepared}", told.text)] if told.code else []
    found.left += [(f"{where}: {line}", why) for line, why in _by_hand(block)]
    shell.watched = block.answered
    typed = list(_typed(shell, block, where, found.faults))
    shell.watched = False
    if not block.answered:
        return
    found.compared += 1
    pairs = list(zip(block.steps, typed, strict=True))
    if not all(fits(shown.shown, true.shown) for shown, true in pairs):
        found.faults.append(Fault(where, "the answer shown is not the one that is printed"))
        kept = [shown if fits(shown.shown, true.shown) else true for shown, true in pairs]
        found.changes.append((block, kept))


def _typed(shell: Shell, block: Block, where: str, faults: list[Fault]) -> Iterator[Step]:
    """Every line of a block with the answer it truly gets."""
    wanted = int(block.notes.get("exit", "0"))
    codes = set()
    byhand = dict(_by_hand(block))
    for step in block.steps:
        if _bare(step.line) in byhand:
            yield step
            continue
        try:
            told = _attended(shell, step.line) if "attend" in block.notes else shell.line(step.line)
        except NotForPagesError as error:
            faults.append(Fault(f"{where}: {step.line}", str(error)))
            yield step
            continue
        codes.add(told.code)
        if told.code not in {0, wanted}:
            faults.append(Fault(f"{where}: {step.line}", f"exit code {told.code}\n{told.text}"))
        yield Step(step.line, tuple(line.rstrip() for line in told.text.splitlines()))
    if codes and wanted not in codes:
        faults.append(Fault(where, f"nothing in it leaves with {wanted}"))


def _by_hand(block: Block) -> Iterator[tuple[str, str]]:
    """Single lines of a block that are not run here, each with its reason."""
    typed = {_bare(step.line) for step in block.steps}
    for name, why in block.notes.items():
        if (line := name.removeprefix("not run ")) in typed:
            yield line, why


def _bare(line: str) -> str:
    """A line without the remark behind it."""
    return line.partition("  #")[0].strip()


def _attended(shell: Shell, line: str) -> Told:
    """A line as it is typed at the console: what its answer says."""
    with session(None, None) as here:
        sitting = Sitting(here, clock=lambda: shell.now, monotonic=lambda: 0.0)
        sitting.enter(line)
        shell.ran += 1
        return Told("\n".join(_folded(sitting.message)), 0)


def _folded(message: list[str]) -> Iterator[str]:
    """What is said at the console, as wide as a terminal."""
    for line in message:
        yield from wrap(line, _ACROSS) if width_of(line) > _ACROSS else [line]


def fits(shown: tuple[str, ...], printed: tuple[str, ...]) -> bool:
    """Whether an answer that is shown, perhaps with lines left out, is the one that is printed."""
    parts: list[list[str]] = [[]]
    for line in shown:
        if line.strip() == ELISION:
            parts.append([])
        else:
            parts[-1].append(line.rstrip())
    if len(parts) == 1:
        return tuple(parts[0]) == printed
    first, *middle, last = parts
    end = len(printed) - len(last)
    if end < len(first) or list(printed[: len(first)]) != first or list(printed[end:]) != last:
        return False
    at = len(first)
    for part in middle:
        found = next(
            (n for n in range(at, end - len(part) + 1) if list(printed[n : n + len(part)]) == part),
            None,
        )
        if found is None:
            return False
        at = found + len(part)
    return True


@contextmanager
def fresh() -> Iterator[Shell]:
    """A folder that nobody has used, with the invented nights of the project in it."""
    with tempfile.TemporaryDirectory(prefix="boxlamp-page-") as folder:
        home = Path(folder).resolve()
        shutil.copytree(TOP / "demo", home / "demo")
        shell = Shell(home)
        with shell.at_home():
            yield shell
