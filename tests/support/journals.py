"""Journals for tests: what to write into one, children that write, and small disks."""

import multiprocessing
import os
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from multiprocessing.connection import Connection
from pathlib import Path
from types import FrameType
from typing import BinaryIO

import pytest

from boxlamp.journal import Intake, Journal, open_journal
from boxlamp.journal.exchange import read_litter
from boxlamp.model.entry import Draft, Entry
from boxlamp.model.happenings import Birth, Note, Strike

NOW = datetime(2026, 3, 2, 2, 14, tzinfo=UTC)

# A server that forks children quickly and has no threads of its own, whatever runs the tests.
CHILDREN = multiprocessing.get_context("forkserver")
CHILDREN.set_forkserver_preload(["support.journals", "boxlamp.journal.repair"])


def note(words: str = "all quiet") -> Callable[[tuple[Entry, ...]], Draft]:
    """Makes a note."""
    return lambda _entries: Draft(at=NOW, text=words, what=Note(words=words))


def strike(target: int) -> Callable[[tuple[Entry, ...]], Draft]:
    """Makes a strike of an earlier entry."""
    return lambda _entries: Draft(at=NOW, text=f"strike {target}", what=Strike(target=target))


def next_pup(text: str = "pup") -> Callable[[tuple[Entry, ...]], Draft]:
    """Makes a birth of the next pup, counted from the entries that are there."""

    def make(entries: tuple[Entry, ...]) -> Draft:
        born = sum(isinstance(entry.what, Birth) for entry in entries)
        return Draft(at=NOW, text=text, what=Birth(pup=born + 1))

    return make


def later(minutes: float) -> datetime:
    """Some minutes after the tests' beginning of time."""
    return NOW + timedelta(minutes=minutes)


def filled(path: Path, count: int = 3) -> str:
    """A closed journal with one litter and some notes; returns the litter's id."""
    with open_journal(path) as journal:
        litter = journal.open_litter("Bramble", opened=NOW)
        for number in range(1, count + 1):
            journal.record(litter, note(f"note {number}"), recorded=later(number))
    return litter


def texts(journal: Journal, litter: str) -> list[str]:
    """The typed lines of a litter's entries."""
    return [entry.text for entry in journal.entries(litter)]


def write_for_ever(path: Path, litter: str, told: Connection) -> None:
    """In a child: record entries and tell each number only when it is acknowledged."""
    with open_journal(path) as journal:
        for turn in range(100_000):
            text = f"{os.getpid()} {turn}"
            entry = journal.record(litter, note(text), recorded=later(turn))
            told.send((entry.id, text))


OPENED = Draft(at=NOW, text="litter opened", what=Note(words="litter opened"))
"""The first line of a litter."""


def write_notes(path: Path, litter: str, words: list[str]) -> None:
    """Open the journal and record these notes at once."""
    with open_journal(path) as journal:
        journal.record_many(litter, [note(one) for one in words], recorded=NOW)


def open_a_litter(path: Path) -> None:
    """Open the journal and a litter in it."""
    with open_journal(path) as journal:
        journal.open_litter("Elm", opened=NOW, drafts=[OPENED])


def write_births(path: Path, litter: str, count: int, told: Connection) -> None:
    """In a child: record births, each numbered after the ones that are there."""
    with open_journal(path) as journal:
        for _ in range(count):
            entry = journal.record(litter, next_pup(str(os.getpid())), recorded=NOW)
            told.send(entry.id)
    told.close()


_STEPS = frozenset(
    ("execute", "executemany", "write", "truncate", "fsync", "open", "link", "replace", "rename",
     "unlink", "chmod", "close", "backup")
)  # fmt: skip
"""The calls by which the journal touches a disk."""


def killed_at(step: int) -> None:
    """In a child: die by kill -9 just before, or just after, the journal next touches a disk.

    Even steps lie before a call and odd ones behind it, counted from here.
    """
    left = step

    def count(frame: FrameType, event: str, called: object) -> None:
        nonlocal left
        touches = event in {"c_call", "c_return"} and getattr(called, "__name__", "") in _STEPS
        if touches and f"{os.sep}journal{os.sep}" in frame.f_code.co_filename:
            if left == 0:
                os.kill(os.getpid(), signal.SIGKILL)
            left -= 1

    sys.setprofile(count)


def until_killed(step: int, work: Callable[[], object]) -> bool:
    """Let a child do this and be killed at that step; says whether it came to the end."""
    hear, tell = CHILDREN.Pipe(duplex=False)
    child = CHILDREN.Process(target=_work_until, args=(step, work, tell))
    child.start()
    tell.close()
    child.join()
    # Without a killing there is an answer; a child that failed otherwise is no answer at all.
    assert child.exitcode in {0, -signal.SIGKILL}
    done = hear.poll() and child.exitcode == 0
    hear.close()
    return done


def _work_until(step: int, work: Callable[[], object], told: Connection) -> None:
    killed_at(step)
    work()
    sys.setprofile(None)
    told.send(None)


@contextmanager
def small_disk(folder: Path, size: str) -> Iterator[Path]:
    """A disk of its own with little room; skips the test where that is not permitted."""
    folder.mkdir()
    mounting = ["mount", "-t", "tmpfs", "-o", f"size={size},mode=0700", "tmpfs", str(folder)]
    if os.name == "nt" or os.geteuid() != 0:
        pytest.skip("mounting a small disk takes root")
    done = subprocess.run(mounting, capture_output=True, text=True, check=False)
    if done.returncode:
        pytest.skip(f"mounting a small disk is not permitted here: {done.stderr.strip()}")
    try:
        yield folder
    finally:
        subprocess.run(["umount", str(folder)], check=True)


def import_stream(
    journal: Journal, stream: BinaryIO, name: str, *, as_new: bool = False, dry_run: bool = False
) -> Intake:
    """Take in a litter's file as the command does: read it whole, then all or nothing."""
    header, entries = read_litter(stream, name)
    return journal.import_entries(
        header.litter, header.name, entries, opened=header.opened, as_new=as_new, dry_run=dry_run
    )


def import_jsonl(
    journal: Journal, source: Path, *, as_new: bool = False, dry_run: bool = False
) -> Intake:
    """The same from a file."""
    with source.open("rb") as file:
        return import_stream(journal, file, str(source), as_new=as_new, dry_run=dry_run)
