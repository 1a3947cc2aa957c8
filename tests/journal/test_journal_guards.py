"""The database file guards itself: append-only, recognised, versioned, and durable."""

import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing, suppress
from pathlib import Path

import pytest

from boxlamp.journal import open_journal, schema
from boxlamp.journal.errors import (
    BusyError,
    DamagedError,
    JournalError,
    NewerSchemaError,
    NotAJournalError,
)
from boxlamp.journal.verify import verify
from support.journals import NOW, filled, note


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A journal with three entries."""
    filled(tmp_path / "journal.db")
    return tmp_path / "journal.db"


@pytest.fixture
def raw(path: Path) -> Iterator[sqlite3.Connection]:
    """The same journal as a stranger's program opens it."""
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        yield connection


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE record SET body = '{}' WHERE number = 2",
        "UPDATE OR REPLACE record SET number = 1 WHERE number = 2",
        "DELETE FROM record WHERE number = 3",
        "DELETE FROM record",
        "INSERT OR REPLACE INTO record SELECT seq, litter, number, hash, '{}' FROM record",
        "REPLACE INTO record SELECT 99, litter, number, hash, '{}' FROM record WHERE number = 2",
        "INSERT OR REPLACE INTO record SELECT seq, 'new', 0, hash, '{}' FROM record WHERE seq = 2",
        "INSERT INTO record SELECT * FROM record WHERE true ON CONFLICT DO UPDATE SET body = '{}'",
        "INSERT INTO record (litter, number, hash, body) SELECT litter, 9, hash, body FROM record",
        "INSERT INTO record SELECT 99, litter, number + 1, hash, body FROM record WHERE number = 3",
    ],
)
def test_the_record_is_append_only(path: Path, raw: sqlite3.Connection, statement: str) -> None:
    """No statement changes, removes, replaces or skips a record, whatever program sends it."""
    with pytest.raises(sqlite3.IntegrityError, match="append-only"):
        raw.execute(statement)
    assert verify(path).ok


def test_tables_refuse_wrong_types(raw: sqlite3.Connection) -> None:
    """A number where text belongs is refused by the table itself."""
    with pytest.raises(sqlite3.IntegrityError, match="cannot store"):
        raw.execute("INSERT INTO record VALUES (5, 'bramble-2026-03-02', 'four', 'x', 'y')")


@pytest.mark.parametrize(
    ("version", "safe"),
    [
        ((3, 40, 1), False),
        ((3, 44, 5), False),
        ((3, 44, 6), True),
        ((3, 45, 9), False),
        ((3, 49, 99), False),
        ((3, 50, 6), False),
        ((3, 50, 7), True),
        ((3, 51, 0), False),
        ((3, 51, 2), False),
        ((3, 51, 3), True),
        ((3, 52, 0), True),
        ((4, 0, 0), True),
    ],
)
def test_wal_only_where_its_fault_is_repaired(version: tuple[int, int, int], safe: bool) -> None:  # noqa: FBT001
    """The faster mode is chosen only for versions known to be free of the WAL-reset fault."""
    assert schema.wal_is_safe(version) is safe


@pytest.mark.parametrize(("wal", "expected"), [(False, ("delete", 3)), (True, ("wal", 2))])
def test_commits_are_durable(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, wal: bool, expected: tuple[str, int]  # noqa: FBT001
) -> None:  # fmt: skip
    """Each mode syncs at every commit; entries, mirror and side files are right in both."""
    monkeypatch.setattr(schema, "wal_is_safe", lambda _version: wal)
    path = tmp_path / "journal.db"
    litter = filled(path)
    with closing(schema.connect(path)) as connection, open_journal(path) as journal:
        mode = connection.execute("PRAGMA journal_mode").fetchone()[0]
        assert (mode, connection.execute("PRAGMA synchronous").fetchone()[0]) == expected
        assert connection.execute("PRAGMA fullfsync").fetchone() == (1,)
        journal.record(litter, note(), recorded=NOW)
        assert {file.stat().st_mode & 0o777 for file in tmp_path.iterdir()} == {0o600}
    assert verify(path).ok


def test_another_mode_is_kept_while_somebody_uses_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """When the other terminal's SQLite chose the other mode, both still work."""
    path = tmp_path / "journal.db"
    monkeypatch.setattr(schema, "BUSY_SECONDS", 0.05)
    monkeypatch.setattr(schema, "wal_is_safe", lambda _version: True)
    litter = filled(path)
    with open_journal(path) as one:
        one.record(litter, note(), recorded=NOW)
        monkeypatch.setattr(schema, "wal_is_safe", lambda _version: False)
        with open_journal(path) as two:
            two.record(litter, note(), recorded=NOW)
            assert len(one.entries(litter)) == 5
    assert verify(path).ok


@pytest.mark.parametrize(
    "content", [b"x", b"not a database\n" * 100, b"SQLite format 3\0", b"\0" * 4096, b"%PDF-1.7"]
)
def test_a_strangers_file_is_left_alone(tmp_path: Path, content: bytes) -> None:
    """A file that is no journal is recognised, named, and not touched."""
    path = tmp_path / "letter.doc"
    path.write_bytes(content)
    with pytest.raises(JournalError, match="letter") as caught:
        open_journal(path)
    assert isinstance(caught.value, NotAJournalError | DamagedError)
    assert caught.value.exit_code == 2
    assert path.read_bytes() == content
    assert [file.name for file in tmp_path.iterdir()] == ["letter.doc"]


@pytest.mark.parametrize("setup", ["CREATE TABLE x (y)", "PRAGMA user_version = 3",
                                   "PRAGMA application_id = 7"])  # fmt: skip
def test_another_programs_database_is_left_alone(tmp_path: Path, setup: str) -> None:
    """A database of another program is recognised before anything in it is changed."""
    path = tmp_path / "other.db"
    with closing(sqlite3.connect(path)) as connection:
        connection.execute(setup)
    before = path.read_bytes()
    with pytest.raises(NotAJournalError):
        open_journal(path)
    assert path.read_bytes() == before


def test_a_folder_or_a_mirror_is_no_journal(path: Path) -> None:
    """A folder's or a mirror's name given by mistake is refused in a sentence."""
    with pytest.raises(JournalError):
        open_journal(path.parent)
    with pytest.raises(NotAJournalError, match=r"journal\.db"):
        open_journal(path.with_suffix(".jsonl"))


def test_a_newer_schema_is_refused(path: Path, raw: sqlite3.Connection) -> None:
    """A journal written by a newer version is left as it is."""
    raw.execute(f"PRAGMA user_version = {len(schema.MIGRATIONS) + 1}")
    with pytest.raises(NewerSchemaError, match="newer"):
        open_journal(path)


def test_a_journal_just_being_made_is_no_strangers_file(tmp_path: Path) -> None:
    """While another terminal lays the tables, a file is empty or a journal, never in between."""
    path = tmp_path / "journal.db"
    path.touch()

    def interfere(statement: str) -> None:
        if "user_version" in statement:
            with closing(sqlite3.connect(path, timeout=0, isolation_level=None)) as other:
                with suppress(sqlite3.OperationalError):
                    other.execute("PRAGMA user_version = 1")
                tried.append(statement)

    tried: list[str] = []
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        connection.set_trace_callback(interfere)
        assert schema.check_kind(connection, path) == 0
    assert tried


def test_migrations_run_once_each(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An older journal is brought up to date once, and a step that fails leaves no trace."""

    def adds(connection: sqlite3.Connection) -> None:
        connection.execute("CREATE TABLE extra (x)")

    def fails(connection: sqlite3.Connection) -> None:
        adds(connection)
        raise ZeroDivisionError

    steps = schema.MIGRATIONS
    monkeypatch.setattr(schema, "MIGRATIONS", (*steps, fails))
    with pytest.raises(ZeroDivisionError):
        open_journal(path)
    monkeypatch.setattr(schema, "MIGRATIONS", (*steps, adds))
    for _ in range(2):
        open_journal(path).close()
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("PRAGMA user_version").fetchone() == (2,)
    monkeypatch.setattr(schema, "MIGRATIONS", steps)
    with pytest.raises(NewerSchemaError):
        open_journal(path)


def test_a_busy_journal_says_so(
    path: Path, raw: sqlite3.Connection, monkeypatch: pytest.MonkeyPatch
) -> None:
    """When another program holds the file too long, the wait ends in a sentence."""
    monkeypatch.setattr(schema, "BUSY_SECONDS", 0.05)
    with open_journal(path) as journal:
        raw.execute("BEGIN EXCLUSIVE")
        with pytest.raises(BusyError, match="busy"):
            journal.record("bramble-2026-03-02", note(), recorded=NOW)
        with pytest.raises(BusyError, match="busy"):
            journal.litters()
        raw.execute("ROLLBACK")
        assert journal.record("bramble-2026-03-02", note(), recorded=NOW).id == 4


def test_a_row_that_makes_no_sense_is_named(path: Path, raw: sqlite3.Connection) -> None:
    """An entry that cannot be read is named, and nothing is built upon it."""
    raw.execute("DROP TRIGGER record_never_changes")
    raw.execute("UPDATE record SET body = '{}' WHERE number IN (0, 2)")
    with open_journal(path) as journal:
        with pytest.raises(DamagedError, match="Entry 2"):
            journal.record("bramble-2026-03-02", note(), recorded=NOW)
        with pytest.raises(DamagedError, match="opening"):
            journal.litters()


def test_loading_the_journal_loads_nothing_heavy() -> None:
    """One logged line starts fast: the journal loads no more than its database needs."""
    code = (
        "import sys; import boxlamp.model.entry; before = set(sys.modules); "
        "import boxlamp.journal; print(*sorted(set(sys.modules) - before))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=60
    )
    loaded = set(done.stdout.split())
    assert "sqlite3" in loaded
    heavy = {"platformdirs", "argparse", "logging", "shutil", "subprocess", "tempfile", "asyncio"}
    assert loaded.isdisjoint(heavy)
    assert loaded.isdisjoint({f"boxlamp.journal.{room}" for room in ("repair", "verify", "join")})
