"""Work at a journal that is stopped, or refused by the disk, at one system call after another."""

import os
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from multiprocessing.connection import Connection
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

from boxlamp.journal import open_journal, schema
from boxlamp.journal.errors import JournalError
from boxlamp.journal.repair import rebuild_database, rebuild_mirror
from boxlamp.journal.verify import verify
from support.fuzzing import in_memory
from support.journals import NOW, filled, later, note, texts
from support.syscalls import follow

LITTER = "bramble-2026-03-02"
_MOST_CALLS = 1_000
_STRETCH = 25
"""After so many stops a new journal is begun: an old one has ever more to rebuild."""

Tell = Callable[[str], None]


class Work(NamedTuple):
    """What is stopped, and how the journal is made ready for it beforehand."""

    do: Callable[[Path, Tell], None]
    ready: Callable[[Path], object] = lambda _path: None


def _entries(path: Path, tell: Tell) -> None:
    """Two entries, one after the other."""
    with open_journal(path) as journal:
        for turn in range(2):
            text = f"{os.getpid()} {turn}"
            journal.record(LITTER, note(text), recorded=later(turn))
            tell(text)


def _from_nothing(path: Path, tell: Tell) -> None:
    """A journal made anew beside the other, a litter opened, its first entry; then as above."""
    with open_journal(path.with_name(f"{os.getpid()}.db")) as journal:
        litter = journal.open_litter("Ash", opened=NOW)
        journal.record(litter, note("first"), recorded=NOW)
    _entries(path, tell)


def _rebuilt(path: Path, tell: Tell) -> None:
    """The mirror rebuilt from the database, then the database from the mirror."""
    rebuild_mirror(path)
    rebuild_database(path)
    _entries(path, tell)


def _tear(path: Path) -> None:
    mirror = path.with_suffix(".jsonl")
    os.truncate(mirror, mirror.stat().st_size - 9)


WORKS: dict[str, Work] = {
    "entries": Work(_entries),
    "torn mirror": Work(_entries, _tear),
    "no mirror": Work(_entries, lambda path: path.with_suffix(".jsonl").unlink()),
    "no database": Work(_entries, lambda path: path.unlink()),
    "from nothing": Work(_from_nothing),
    "rebuilt": Work(_rebuilt),
}


@dataclass
class Tally:
    """What came of stopping: at which calls, how much was acknowledged, how much of it is gone."""

    stopped: Counter[str] = field(default_factory=Counter)
    acknowledged: int = 0
    lost: list[str] = field(default_factory=list)
    damaged: list[str] = field(default_factory=list)
    refused: int = 0
    refused_but_kept: int = 0
    unexplained: list[str] = field(default_factory=list)

    def add(self, other: "Tally") -> None:
        """Take over what came of more of it."""
        self.stopped += other.stopped
        self.acknowledged += other.acknowledged
        self.refused += other.refused
        self.refused_but_kept += other.refused_but_kept
        self.lost += other.lost
        self.damaged += other.damaged
        self.unexplained += other.unexplained

    def __str__(self) -> str:
        calls = ", ".join(f"{name} {count}" for name, count in self.stopped.most_common())
        return (
            f"{self.stopped.total()} times ({calls}); {self.acknowledged} entries acknowledged, "
            f"{len(self.lost)} lost"
        )


class Stop(NamedTuple):
    """How a work is stopped: killed before or ``after`` a call, or the call refused (``fail``).

    ``wal`` chooses how SQLite writes.
    """

    wal: bool
    after: bool = False
    fail: int | None = None


def in_a_child(work: str, stop: Stop, every: int, tell: Connection) -> None:
    """In a child without threads: stop the work at each ``every``-th call, and tally."""
    setattr(schema, "wal_is_safe", lambda _version: stop.wal)  # noqa: B010 this process only
    tally, last = Tally(), _MOST_CALLS * every
    for first in range(1, last, _STRETCH * every):
        places = range(first, first + _STRETCH * every, every)
        if not _stopped_at(places, WORKS[work], stop, tally):
            break
    else:
        tally.unexplained.append(f"{work} never came to an end")
    tell.send(tally)


def _stopped_at(places: range, work: Work, stop: Stop, tally: Tally) -> bool:
    """A journal that is stopped at one place after the other; False once there are no more."""
    with TemporaryDirectory(dir=in_memory()) as folder:
        path = Path(folder) / "journal.db"
        filled(path)
        return all(_stopped_once(work, path, at, stop, tally) for at in places)


def _stopped_once(work: Work, path: Path, at: int, stop: Stop, tally: Tally) -> bool:
    """One turn: do the work, stop it, look at what is there. False when it came to its end."""
    with open_journal(path) as journal:
        before = texts(journal, LITTER)
    work.ready(path)
    hear, told = os.pipe()
    seen = follow(lambda: _telling(work, path, told), at, after=stop.after, fail=stop.fail)
    os.close(told)
    with os.fdopen(hear, "rb") as stream:
        said = stream.read().decode().splitlines()
    if not seen.met:
        return False
    tally.stopped[seen.call or ""] += 1
    _look(path, before, said, tally)
    if stop.fail is None and not os.WIFSIGNALED(seen.status):
        tally.unexplained.append(f"not killed at {seen.call}: {seen.status}")
    return True


def _telling(work: Work, path: Path, told: int) -> None:
    """In the grandchild: the work, each entry told when acknowledged; a refusal told as such."""
    try:
        work.do(path, lambda text: _say(told, f"+{text}"))
    except JournalError as error:
        _say(told, f"-{type(error).__name__}")
    except BaseException as error:  # noqa: BLE001 - told, and counted as a fault
        _say(told, f"!{type(error).__name__}: {error}")


def _say(told: int, line: str) -> None:
    try:
        os.write(told, f"{line}\n".encode())
    except OSError:  # the very call that was refused; the entry was not told, then
        return


def _look(path: Path, before: list[str], said: list[str], tally: Tally) -> None:
    """Everything acknowledged is there, in order, and both copies are whole."""
    acknowledged = [line[1:] for line in said if line[0] == "+"]
    refused = [line for line in said if line[0] == "-"]
    tally.unexplained += [line for line in said if line[0] == "!"]
    with open_journal(path) as journal:
        found = texts(journal, LITTER)
    new = found[len(before) :]
    tally.acknowledged += len(acknowledged)
    tally.refused += bool(refused)
    tally.lost += [text for text in before if text not in found]
    tally.lost += [text for text in acknowledged if text not in new]
    if refused:
        tally.refused_but_kept += len(new) - len(acknowledged)
    elif len(new) > len(acknowledged) + 1:
        tally.unexplained.append(f"{len(new)} entries for {len(acknowledged)} acknowledged")
    if found[: len(before)] != before:
        tally.damaged.append(f"what was there before reads differently: {found}")
    report = verify(path)
    tally.damaged += [finding.sentence for finding in report.findings]
