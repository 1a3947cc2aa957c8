"""Reading and writing records in the database. Whoever calls these holds the transaction."""

import sqlite3
from collections.abc import Iterable, Iterator
from datetime import datetime
from itertools import count
from typing import NamedTuple

from pydantic import ValidationError

from boxlamp.journal.chain import Opening, Record, digest, genesis
from boxlamp.journal.errors import DamagedError
from boxlamp.model.entry import Entry


class LitterRow(NamedTuple):
    """One litter in the list: its id, the name shown, when it was opened, how many entries."""

    slug: str
    name: str
    opened: datetime
    entries: int


def top(connection: sqlite3.Connection) -> int:
    """The number of records in all."""
    (seq,) = connection.execute("SELECT coalesce(max(seq), 0) FROM record").fetchone()
    return int(seq)


def last(connection: sqlite3.Connection, litter: str) -> tuple[int, str] | None:
    """Number and hash of a litter's last record, or None when there is no such litter."""
    # What a person typed on a command line may be no text at all; no litter is called that.
    name = litter.encode("utf-8", "replace").decode()
    found: tuple[int, str] | None = connection.execute(
        "SELECT number, hash FROM record WHERE litter = ? ORDER BY number DESC LIMIT 1", (name,)
    ).fetchone()
    return found


def chain_end(connection: sqlite3.Connection, litter: str) -> tuple[int, str]:
    """Number and hash that the next record of a litter follows, also for a new litter."""
    return last(connection, litter) or (-1, genesis(litter))


def hash_at(connection: sqlite3.Connection, litter: str, number: int) -> str:
    """The hash of one record; empty when there is no such record."""
    found = connection.execute(
        "SELECT hash FROM record WHERE litter = ? AND number = ?", (litter, number)
    ).fetchone()
    return found[0] if found else ""


def append(
    connection: sqlite3.Connection, litter: str, bodies: Iterable[str]
) -> tuple[str, int, str]:
    """Add records to the end of a litter's chain; the first of a new litter is its opening.

    What comes back is the new end: litter, number and hash.
    """
    number, prev = chain_end(connection, litter)
    seq = top(connection)
    for body in bodies:
        seq, number, prev = seq + 1, number + 1, digest(prev, body)
        connection.execute(
            "INSERT INTO record (seq, litter, number, hash, body) VALUES (?, ?, ?, ?, ?)",
            (seq, litter, number, prev, body),
        )
    return litter, number, prev


def entries_after(connection: sqlite3.Connection, litter: str, number: int) -> Iterator[Entry]:
    """The entries of a litter that come after this number, in order."""
    rows = connection.execute(
        "SELECT number, body FROM record WHERE litter = ? AND number > ? ORDER BY number",
        (litter, max(number, 0)),
    )
    for place, body in rows:
        try:
            yield Entry.model_validate_json(body)
        except (ValidationError, OverflowError) as error:
            raise DamagedError(
                f"Entry {place} of litter {litter} in the journal cannot be read. Nothing was "
                "changed. Run `boxlamp verify`, which can mend it from the mirror.",
            ) from error


def insert(connection: sqlite3.Connection, records: Iterable[Record]) -> None:
    """Add records as they are, with their own places and hashes."""
    connection.executemany(
        "INSERT INTO record (seq, litter, number, hash, body) VALUES (?, ?, ?, ?, ?)",
        ((one.seq, one.litter, one.number, one.hash, one.body) for one in records),
    )


def openings(connection: sqlite3.Connection) -> Iterator[LitterRow]:
    """All litters in the order they were opened."""
    openings_and_ends = connection.execute(
        "SELECT litter, (SELECT max(number) FROM record AS later "
        "WHERE later.litter = record.litter) FROM record WHERE number = 0 ORDER BY seq"
    ).fetchall()
    for slug, entries in openings_and_ends:
        found = opening(connection, slug)
        yield LitterRow(slug, found.name, found.opened, entries)


def opening(connection: sqlite3.Connection, litter: str) -> Opening:
    """How a litter was opened."""
    (body,) = connection.execute(
        "SELECT body FROM record WHERE litter = ? AND number = 0", (litter,)
    ).fetchone()
    try:
        return Opening.model_validate_json(body)
    except (ValidationError, OverflowError) as error:
        raise DamagedError(
            f"The opening of litter {litter} in the journal cannot be read. Nothing was changed. "
            "Run `boxlamp verify`, which can mend it from the mirror.",
        ) from error


def last_written(connection: sqlite3.Connection) -> str | None:
    """The litter that was written to last."""
    found = connection.execute("SELECT litter FROM record ORDER BY seq DESC LIMIT 1").fetchone()
    return found[0] if found else None


def slugs(base: str) -> Iterator[str]:
    """The ids a litter may get: its own, then numbered ones."""
    yield base
    for number in count(2):  # pragma: no branch - it never ends
        yield f"{base[:90]}-{number}"


def free_slug(connection: sqlite3.Connection, base: str) -> str:
    """The first of a litter's possible ids that is not taken."""
    return next(slug for slug in slugs(base) if last(connection, slug) is None)


def records_after(connection: sqlite3.Connection, seq: int) -> Iterator[Record]:
    """All records after ``seq`` in the order they were written, each with the hash before it."""
    rows = connection.execute(
        "SELECT seq, litter, number, (SELECT hash FROM record AS earlier WHERE "
        "earlier.litter = record.litter AND earlier.number = record.number - 1), hash, body "
        "FROM record WHERE seq > ? ORDER BY seq",
        (seq,),
    )
    for place, litter, number, prev, own, body in rows:
        before = prev or (genesis(litter) if number == 0 else "")
        yield Record(place, litter, number, before, own, body)


def records_of(connection: sqlite3.Connection, litter: str) -> list[Record]:
    """All records of one litter, its opening first."""
    prev = genesis(litter)
    found = []
    for seq, number, own, body in connection.execute(
        "SELECT seq, number, hash, body FROM record WHERE litter = ? ORDER BY number", (litter,)
    ):
        found.append(Record(seq, litter, number, prev, own, body))
        prev = own
    return found


def setting(connection: sqlite3.Connection, key: str) -> str | None:
    """A setting; settings are conveniences and no part of the record."""
    found = connection.execute("SELECT value FROM setting WHERE key = ?", (key,)).fetchone()
    return found[0] if found else None


def set_setting(connection: sqlite3.Connection, key: str, value: str) -> None:
    """Change a setting."""
    connection.execute("INSERT OR REPLACE INTO setting (key, value) VALUES (?, ?)", (key, value))
