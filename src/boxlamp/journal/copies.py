"""The two copies of the record, read as they are, with everything that is wrong with each."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal

from boxlamp.journal import mirror, rows
from boxlamp.journal.chain import Record, genesis, is_slug, salvaged
from boxlamp.journal.errors import DamagedError, NotAJournalError, translated
from boxlamp.journal.notices import Finding, FindingKind
from boxlamp.journal.paths import sides_of
from boxlamp.journal.schema import BUSY_SECONDS, GUARDS, check_kind

Place = tuple[str, int]
"""A litter and a number in it."""

_SPOILT = (sqlite3.DatabaseError, UnicodeDecodeError)
"""What reading a spoilt database may end in: SQLite quotes what it found, which may be no text."""


@dataclass
class Copy:
    """One copy of the record: what could be read, and what is wrong with it."""

    name: Literal["database", "mirror"]
    there: bool = True
    records: dict[Place, Record] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)
    current: str | None = None

    @property
    def sound(self) -> bool:
        """Whether it is there and whole. A torn last line never was part of it."""
        return self.there and all(one.kind == "torn-line" for one in self.findings)

    def litters(self) -> dict[str, list[Record]]:
        """The records of each litter in the order of their numbers."""
        found: dict[str, list[Record]] = {}
        for litter, number in sorted(self.records):
            found.setdefault(litter, []).append(self.records[litter, number])
        return found

    def hash_before(self, record: Record) -> str:
        """The hash this copy holds for the record before this one; empty when it has none."""
        if record.number == 0:
            return genesis(record.litter)
        before = self.records.get((record.litter, record.number - 1))
        return before.hash if before else ""

    def say(self, kind: FindingKind, sentence: str, place: Place | None = None) -> None:
        """Note down what is wrong."""
        litter, number = place or (None, None)
        self.findings.append(Finding(kind, sentence, litter, number))

    def take(self, record: Record) -> None:
        """Add a record. Of two in one place the one that is whole is kept."""
        place = record.litter, record.number
        known = self.records.get(place)
        if known is not None:
            self.say("chain-broken", f"{named(place)} is in the {self.name} twice.", place)
            if known.follows(known.prev):
                return
        self.records[place] = record


def named(place: Place, upto: int | None = None) -> str:
    """How a person calls a place: ``Entry 3 of bramble-2026-03-02``."""
    litter, number = place
    if upto is not None and upto > number:
        return f"Entries {number} to {upto} of {litter}"
    return f"Entry {number} of {litter}" if number else f"The opening of {litter}"


def from_database(path: Path) -> Copy:
    """Read the database, as far as it can be read."""
    copy = Copy("database")
    if not path.exists():
        copy.there = False
        copy.say("database-missing", f"The database {path} is missing.")
        for side in sides_of(path):
            copy.say("orphan-journal", f"{side} is left over from a database that is gone.")
        return copy
    try:
        with translated(path), closing(_plain(path)) as connection:
            if check_kind(connection, path):
                _read_database(connection, copy)
    except (DamagedError, NotAJournalError):
        copy.there = False
        copy.say("database-damaged", f"{path} cannot be read as a journal at all.")
    _check_chains(copy)
    return copy


def _plain(path: Path) -> sqlite3.Connection:
    connection = sqlite3.connect(
        f"{path.as_uri()}?mode=rw", uri=True, isolation_level=None, timeout=BUSY_SECONDS
    )
    # A damaged page must not hide the rest.
    connection.text_factory = lambda content: content.decode("utf-8", "replace")
    return connection


def _read_database(connection: sqlite3.Connection, copy: Copy) -> None:
    try:
        connection.execute("BEGIN")
        _check_file(connection, copy)
        copy.current = rows.setting(connection, "current")
        found = list(_scan(connection, "ASC"))
    except _SPOILT as error:
        if getattr(error, "sqlite_errorcode", 0) & 0xFF == sqlite3.SQLITE_BUSY:
            raise
        # Read from both ends up to the spot that is spoilt.
        found = [*_as_far_as_possible(connection, "ASC"), *_as_far_as_possible(connection, "DESC")]
        copy.say("database-damaged", f"The database is damaged: {error}.")
    sound = [record for record in found if _could_be(record)]
    if len(sound) < len(found):
        copy.say("database-damaged", "The database is damaged: rows in it are no records.")
    for record in sound:
        copy.records[record.litter, record.number] = record
    for place, record in copy.records.items():
        copy.records[place] = record._replace(prev=copy.hash_before(record))


def _check_file(connection: sqlite3.Connection, copy: Copy) -> None:
    (state,) = connection.execute("PRAGMA integrity_check(1)").fetchone()
    if state != "ok":
        copy.say("database-damaged", f"The database is damaged: {state}.")
    names = {name for (name,) in connection.execute("SELECT name FROM sqlite_master")}
    if not names >= GUARDS:
        copy.say("database-unguarded", "The guards that keep the database append-only are gone.")


def _scan(connection: sqlite3.Connection, order: str) -> Iterator[Record]:
    for seq, litter, number, own, body in connection.execute(
        f"SELECT seq, litter, number, hash, body FROM record ORDER BY seq {order}"  # noqa: S608 one of two constants
    ):
        yield Record(seq, litter, number, "", own, body)


def _could_be(record: Record) -> bool:
    """Whether a row is of the right kinds at all: from a spoilt page anything may come out."""
    kinds = (int, str, int, str, str, str)
    right = all(isinstance(value, kind) for value, kind in zip(record, kinds, strict=True))
    return right and record.number >= 0 and is_slug(record.litter)


def _as_far_as_possible(connection: sqlite3.Connection, order: str) -> Iterator[Record]:
    with suppress(*_SPOILT):
        yield from _scan(connection, order)


def from_mirror(path: Path) -> Copy:
    """Read a mirror, as far as it can be read."""
    copy = Copy("mirror")
    if not path.exists():
        copy.there = False
        copy.say("mirror-missing", f"The mirror {path} is missing.")
        return copy
    with translated(path):
        for place, record, line in mirror.read_records(path):
            inside = None if record and record.framed() else salvaged(line, place)
            if record is not None and inside is None:
                copy.take(record)
            elif line.endswith(b"\n"):
                copy.say("line-damaged", f"{path}:{place}: this line is damaged.")
                if inside is not None:
                    copy.take(inside)
            else:
                copy.say(
                    "torn-line",
                    f"{path}:{place}: the last line is torn; the next entry will mend it.",
                )
    _check_chains(copy)
    return copy


def _check_chains(copy: Copy) -> None:
    for litter, records in copy.litters().items():
        expected = 0
        for record in records:
            place = litter, record.number
            if record.number > expected:
                gap = named((litter, expected), record.number - 1)
                copy.say("chain-broken", f"{gap}: not in the {copy.name}.", (litter, expected))
            expected = record.number + 1
            before = copy.hash_before(record)
            if before and before != record.prev:
                copy.say(
                    "chain-broken",
                    f"{named(place)} in the {copy.name} does not follow the one before it.",
                    place,
                )
            if record.prev and not record.follows(record.prev):
                kind: FindingKind = "row-changed" if copy.name == "database" else "line-damaged"
                copy.say(
                    kind, f"{named(place)} in the {copy.name} is not as it was written.", place
                )
            elif not record.readable():
                copy.say(
                    "chain-broken", f"{named(place)} in the {copy.name} makes no sense.", place
                )
