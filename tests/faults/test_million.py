"""A journal of a million entries: what it costs beside one of ten thousand, as ratios.

Processor time and memory of a child that does only that, so that whatever else runs hardly counts.
"""

import os
import resource
import time
from collections.abc import Callable, Iterator
from contextlib import suppress
from datetime import UTC, datetime
from multiprocessing.connection import Connection
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

import pytest

from boxlamp.cli.shell import run
from boxlamp.journal import open_journal, rows
from boxlamp.journal.chain import Opening
from boxlamp.journal.file import JournalFile
from boxlamp.journal.verify import verify
from boxlamp.model.entry import Draft
from boxlamp.model.happenings import Note
from support.effort import NIGHTLY, effort
from support.fuzzing import in_memory
from support.journals import CHILDREN, note

EACH = effort(50, nightly=10_000)
LITTERS = effort(4, nightly=100)
TIMES = 20
NOW = datetime(2026, 3, 2, 2, 14, tzinfo=UTC)


class Cost(NamedTuple):
    """Seconds of processor time, and megabytes at most."""

    seconds: float
    megabytes: float


def fill(path: Path, litters: int) -> None:
    """So many litters of ``EACH`` entries, written as the journal itself writes them."""
    draft = Draft(at=NOW, text="note all quiet", what=Note(words="all quiet"))
    body = draft.numbered(77_777, "LITTER", NOW).model_dump_json()
    file = JournalFile(path)
    for number in range(litters):
        slug = f"ash-{number}"
        bodies = [Opening(slug=slug, name="Ash", opened=NOW).model_dump_json()]
        own = body.replace("LITTER", slug)
        bodies += [own.replace("77777", str(turn), 1) for turn in range(1, EACH + 1)]
        with file.writing() as connection:
            rows.append(connection, slug, bodies)
        file.write_mirror()
    file.close()


def _open(path: Path) -> None:
    for _ in range(TIMES):
        open_journal(path).close()


def _append(path: Path) -> None:
    with open_journal(path) as journal:
        for _ in range(TIMES):
            journal.record("ash-0", note(), recorded=NOW)


def _verify(path: Path) -> None:
    report = verify(path)
    assert report.ok, report.findings[:3]


def _board(path: Path) -> None:
    with Path(os.devnull).open("w") as nowhere:
        os.dup2(nowhere.fileno(), 1)
        with suppress(SystemExit):
            run(["board", "--journal", str(path), "--litter", "ash-0"])


WORKS: dict[str, Callable[[Path], None]] = {
    "open": _open, "append": _append, "board": _board, "verify": _verify,
}  # fmt: skip


def measured(name: str, path: Path, tell: Connection) -> None:
    """In a child: do one of the works and tell what it cost."""
    began = time.process_time()
    WORKS[name](path)
    spent = time.process_time() - began
    tell.send(Cost(spent, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024))


def cost(name: str, path: Path) -> Cost:
    """What one of the works costs at this journal."""
    hear, tell = CHILDREN.Pipe(duplex=False)
    child = CHILDREN.Process(target=measured, args=(name, path, tell))
    child.start()
    tell.close()
    told: Cost = hear.recv()
    child.join()
    return told


@pytest.fixture
def folder() -> Iterator[Path]:
    """A folder in memory that is gone afterwards: a million entries are nearly a gigabyte."""
    with TemporaryDirectory(dir=in_memory()) as name:
        yield Path(name)


def test_many_litters_cost_little_more_than_one(folder: Path) -> None:
    """Opening, writing and looking at one litter do not grow with the others; checking does."""
    few, many = folder / "few.db", folder / "many.db"
    fill(few, 1)
    fill(many, LITTERS)
    lines = [f"{LITTERS * EACH:,} entries beside {EACH:,}:"]
    ratios: dict[str, float] = {}
    # What does not grow is shown in short too; the rest only says something of a large journal.
    for name in WORKS if NIGHTLY else ("open", "append"):
        one, other = cost(name, few), cost(name, many)
        ratios[name] = other.seconds / max(one.seconds, 1e-4)
        lines.append(
            f"  {name}: {ratios[name]:.1f} x the time ({other.seconds:.2f} s), "
            f"{other.megabytes / one.megabytes:.1f} x the memory ({other.megabytes:.0f} MB)"
        )
    print("\n".join(lines))  # noqa: T201 the figure of the nightly run
    assert ratios.pop("verify", 0) < 5 * LITTERS
    assert max(ratios.values()) < 5
