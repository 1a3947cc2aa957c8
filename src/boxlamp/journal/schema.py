"""The database file: how it is opened, its tables and guards, and how it grows by migrations."""

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from boxlamp.journal.errors import NewerSchemaError, NotAJournalError, translated
from boxlamp.journal.paths import sides_of

APPLICATION_ID = 0x42784C70
"""``BxLp`` in ASCII: marks the file as a Boxlamp journal."""

BUSY_SECONDS = 10.0
"""How long to wait for another terminal before giving up."""

_SMALLEST = 512
"""The smallest page SQLite knows, and so the shortest file that can be a database."""

# The guards make the record append-only. Numbers go up by exactly one, which also refuses
# INSERT OR REPLACE: a replaced row is removed without firing the delete guard.
_TABLES = """
CREATE TABLE record (
  seq INTEGER PRIMARY KEY,
  litter TEXT NOT NULL,
  number INTEGER NOT NULL CHECK (number >= 0),
  hash TEXT NOT NULL CHECK (length(hash) = 64),
  body TEXT NOT NULL,
  UNIQUE (litter, number)
) STRICT;

CREATE INDEX opening ON record (seq) WHERE number = 0;

CREATE TABLE setting (key TEXT PRIMARY KEY NOT NULL, value TEXT NOT NULL) STRICT;

CREATE TRIGGER record_never_changes BEFORE UPDATE ON record
BEGIN SELECT RAISE(ABORT, 'the record is append-only'); END;

CREATE TRIGGER record_never_shrinks BEFORE DELETE ON record
BEGIN SELECT RAISE(ABORT, 'the record is append-only'); END;

CREATE TRIGGER record_only_grows BEFORE INSERT ON record
WHEN NEW.seq IS NOT (SELECT coalesce(max(seq), 0) + 1 FROM record)
  OR NEW.number IS NOT (SELECT coalesce(max(number), -1) + 1 FROM record WHERE litter = NEW.litter)
BEGIN SELECT RAISE(ABORT, 'the record is append-only'); END;
"""

GUARDS = frozenset({"record_never_changes", "record_never_shrinks", "record_only_grows"})


def _lay_tables(connection: sqlite3.Connection) -> None:
    # Not executescript: that would commit halfway.
    for statement in _TABLES.split(";\n\n"):
        connection.execute(statement)
    connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")


MIGRATIONS: tuple[Callable[[sqlite3.Connection], None], ...] = (_lay_tables,)
"""Each step takes the file one version further, once, in a transaction of its own."""


def wal_is_safe(version: tuple[int, int, int]) -> bool:
    """Whether this SQLite is free of the fault in which two writers at a WAL can spoil the file.

    The fault is present up to 3.51.2; the repair was carried back to 3.50.7 and 3.44.6.
    """
    if version >= (3, 51, 3):
        return True
    return version[:2] in {(3, 50), (3, 44)} and version[2] >= {50: 7, 44: 6}[version[1]]


def connect(path: Path) -> sqlite3.Connection:
    """Open a journal's database, which must exist; an empty file becomes a new journal."""
    with translated(path):
        if 0 < path.stat().st_size < _SMALLEST and not any(sides_of(path)):
            # SQLite would take so short a file for an empty one and write over it.
            raise NotAJournalError.about(path)
        connection = sqlite3.connect(
            f"{path.as_uri()}?mode=rw", uri=True, isolation_level=None, timeout=BUSY_SECONDS,
        )  # fmt: skip
        try:
            # A stranger's file is recognised before anything about it is changed.
            found = check_kind(connection, path)
            make_durable(connection, wal=wal_is_safe(sqlite3.sqlite_version_info))
            if found < len(MIGRATIONS):
                migrate(connection, path)
        except BaseException:
            connection.close()
            raise
    return connection


def make_durable(connection: sqlite3.Connection, *, wal: bool) -> None:
    """Choose the settings under which a commit that returned survives a power cut."""
    mode, level = ("WAL", "FULL") if wal else ("DELETE", "EXTRA")
    try:
        (got,) = connection.execute(f"PRAGMA journal_mode = {mode}").fetchone()
    except sqlite3.OperationalError:
        # Another terminal has the file open in the other mode; both modes are durable.
        got = mode.lower()
    if got != "wal":
        level = "EXTRA"
    connection.execute(f"PRAGMA synchronous = {level}")
    connection.execute("PRAGMA fullfsync = ON")
    connection.execute("PRAGMA checkpoint_fullfsync = ON")
    connection.execute("PRAGMA recursive_triggers = ON")
    connection.execute("PRAGMA trusted_schema = OFF")


def check_kind(connection: sqlite3.Connection, path: Path) -> int:
    """The schema version of a journal, 0 for an empty file; refuses anything else."""
    outermost = not connection.in_transaction
    if outermost:
        # All three are read of one moment: another terminal may just be laying the tables.
        connection.execute("BEGIN")
    try:
        (kind,) = connection.execute("PRAGMA application_id").fetchone()
        (version,) = connection.execute("PRAGMA user_version").fetchone()
        (things,) = connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
    finally:
        if outermost:
            undo(connection)
    if kind != APPLICATION_ID and (kind or version or things):
        raise NotAJournalError.about(path)
    if version > len(MIGRATIONS):
        raise NewerSchemaError.about(path)
    return int(version)


def migrate(connection: sqlite3.Connection, path: Path) -> None:
    """Bring the file up to the newest version, one transaction for each step."""
    for version, step in enumerate(MIGRATIONS, start=1):
        with writing(connection, path):
            # Asked again under the lock: another terminal may have done it meanwhile.
            if check_kind(connection, path) < version:
                step(connection)
                connection.execute(f"PRAGMA user_version = {version}")


@contextmanager
def writing(connection: sqlite3.Connection, path: Path) -> Iterator[None]:
    """One transaction: all of it is durable at the end of the block, or none of it happened."""
    with translated(path):
        connection.execute("BEGIN IMMEDIATE")
    try:
        with translated(path):
            yield
            connection.execute("COMMIT")
    except BaseException:
        undo(connection)
        raise


def undo(connection: sqlite3.Connection) -> None:
    """Roll back whatever is under way. Some faults have already done so by themselves."""
    if connection.in_transaction:
        connection.execute("ROLLBACK")
