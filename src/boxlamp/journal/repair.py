"""Putting the record right: one copy rebuilt from the other, or the best made of both.

Whatever is replaced is kept beside it under a dated name. Nothing is ever overwritten.
"""

import os
import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from contextlib import ExitStack, closing, contextmanager
from dataclasses import dataclass
from pathlib import Path

from boxlamp.journal import rows
from boxlamp.journal.chain import Record
from boxlamp.journal.copies import Copy, from_database, from_mirror
from boxlamp.journal.errors import (
    DamagedError,
    NotAJournalError,
    RefusedError,
    translated,
)
from boxlamp.journal.join import join
from boxlamp.journal.notices import Finding
from boxlamp.journal.paths import (
    flush,
    mirror_of,
    open_private,
    private_file,
    put_in_place,
    settled,
    sides_of,
    write_all,
)
from boxlamp.journal.schema import connect, undo, writing


@dataclass(frozen=True, slots=True)
class Repair:
    """What a repair did: how much there is now, where the old files are, what stays open."""

    records: int
    kept: tuple[Path, ...] = ()
    findings: tuple[Finding, ...] = ()


def rebuild_mirror(path: Path) -> Repair:
    """Write the mirror anew from the database. Refused when the mirror knows more."""
    path = settled(path)
    with _locked(path):
        database, mirror = from_database(path), from_mirror(mirror_of(path))
        _must_be_sound(database, path)
        _must_not_lose(mirror, database, path)
        new = _new_mirror(path, database.records.values())
        kept = put_in_place(new, mirror_of(path))
    return Repair(len(database.records), _those(kept))


def rebuild_database(path: Path) -> Repair:
    """Build the database anew from the mirror. Refused when the database knows more."""
    path = settled(path)
    with _locked(path, make=True) as made:
        database, mirror = from_database(path), from_mirror(mirror_of(path))
        _must_be_sound(mirror, path)
        _must_not_lose(database, mirror, path)
        new = _new_database(path, mirror.records.values(), database.current)
        kept = put_in_place(new, path, keep=not made)
    return Repair(len(mirror.records), _those(kept))


def recover(path: Path, also: Sequence[Path] = ()) -> Repair:
    """Make the best of both copies, and of the mirrors in ``also``, and write both anew.

    What is proven by its chain, or read alike in two copies, comes back with its number. In the
    place of what cannot be proven stands a note that says so, and the findings name it. When the
    copies went different ways, both ways are kept, as two litters.
    """
    path = settled(path)
    for other in also:
        if not other.is_file():
            raise RefusedError(f"{other} is not a file that can be read. Check the name.")
    with _locked(path, make=True) as made:
        mirrors = [mirror_of(path), *also]
        copies = [from_database(path), *(from_mirror(mirror) for mirror in mirrors)]
        joined = join(copies)
        new = _new_database(path, joined.records, joined.current)
        kept = put_in_place(new, path, keep=not made)
        kept_mirror = put_in_place(_new_mirror(path, joined.records), mirror_of(path))
    return Repair(len(joined.records), _those(kept, kept_mirror), tuple(joined.findings))


@contextmanager
def _locked(path: Path, *, make: bool = False) -> Iterator[bool]:
    """Keep everybody else from writing, as far as the file is still a database at all.

    A missing one is made first if wanted, so that there is something to lock; the answer says
    whether it was. Who waits for the lock meanwhile will notice that the name means another
    file, and follow.
    """
    with translated(path), ExitStack() as held:
        made = make and not path.exists()
        if made:
            private_file(path)
        if path.exists():
            _lock(path, held)
        held.callback(_tidy, path)
        yield made


def _lock(path: Path, held: ExitStack) -> None:
    try:
        connection = connect(path)
    except (NotAJournalError, DamagedError):
        return
    held.enter_context(closing(connection))
    # Side files of a WAL go by name and would meet the new file: this takes them away, and is
    # refused as busy while anybody else has the file open.
    connection.execute("PRAGMA journal_mode = DELETE")
    connection.execute("BEGIN IMMEDIATE")
    held.callback(undo, connection)


def _tidy(path: Path) -> None:
    """Remove what a repair that failed was about to put in place."""
    for new in (_beside(path), _beside(mirror_of(path))):
        for name in (new, *sides_of(new)):
            name.unlink(missing_ok=True)


def _new_database(path: Path, records: Iterable[Record], current: str | None) -> Path:
    new = _beside(path)
    private_file(new)
    with closing(connect(new)) as connection:
        with writing(connection, new):
            rows.insert(connection, sorted(records, key=lambda record: record.seq))
            if current is not None:
                rows.set_setting(connection, "current", current)
        _in_one_file(connection, new)
    return new


def _in_one_file(connection: sqlite3.Connection, new: Path) -> None:
    """Move what still lies in a WAL into the file itself, for the file alone will be renamed.

    Closing would do so too, and would not say when the disk refused it.
    """
    with translated(new):
        connection.execute("PRAGMA journal_mode = DELETE")


def _new_mirror(path: Path, records: Iterable[Record]) -> Path:
    new = _beside(mirror_of(path))
    with open_private(new, "x") as file:
        for record in sorted(records, key=lambda record: record.seq):
            write_all(file, record.line())
        flush(file.fileno())
    return new


def _beside(path: Path) -> Path:
    return path.with_name(f"{path.name}.new-{os.getpid()}")


def _must_be_sound(copy: Copy, path: Path) -> None:
    if not copy.sound:
        raise DamagedError(
            f"The {copy.name} of {path} is not whole itself ({len(copy.findings)} findings), so "
            "nothing was rebuilt from it. Recover from both copies instead.",
        )


def _must_not_lose(old: Copy, source: Copy, path: Path) -> None:
    """A rebuild must not put away an entry that only the old copy has."""
    for place, record in old.records.items():
        known = source.records.get(place)
        if (known is None or known.body != record.body) and record.follows(record.prev):
            raise DamagedError(
                f"The {old.name} of {path} holds entries that the {source.name} does not, so "
                "nothing was rebuilt. Recover from both copies instead.",
            )


def _those(*kept: Path | None) -> tuple[Path, ...]:
    return tuple(path for path in kept if path is not None)
