"""Checking the record, rebuilding a copy from the other, and joining two damaged ones."""

import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from boxlamp.journal import open_journal, repair, schema
from boxlamp.journal.backup import backup
from boxlamp.journal.chain import digest, genesis
from boxlamp.journal.errors import (
    BusyError,
    DamagedError,
    InTheWayError,
    NotAJournalError,
    RefusedError,
)
from boxlamp.journal.repair import rebuild_database, rebuild_mirror, recover
from boxlamp.journal.verify import verify
from boxlamp.model.happenings import Note
from support.journals import NOW, filled, later, note, texts

LITTER = "bramble-2026-03-02"
NOTES = [f"note {number}" for number in range(1, 7)]


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A journal with six entries."""
    filled(tmp_path / "journal.db", 6)
    return tmp_path / "journal.db"


def mirror_of(path: Path) -> Path:
    return path.with_suffix(".jsonl")


def edit(path: Path, *statements: str) -> None:
    """Change the database behind the guards' back, and put the guards up again."""
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        guards = connection.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'")
        known = guards.fetchall()
        for name, _ in known:
            connection.execute(f"DROP TRIGGER {name}")
        for statement in statements:
            connection.execute(statement)
        for _, text in known:
            connection.execute(text)


def edit_mirror(path: Path, change: Callable[[list[bytes]], list[bytes]]) -> None:
    """Change the lines of the mirror."""
    mirror = mirror_of(path)
    mirror.write_bytes(b"".join(change(mirror.read_bytes().splitlines(keepends=True))))


def found(path: Path) -> list[tuple[str, int | None]]:
    """Kinds and numbers of what a check finds."""
    return [(one.kind, one.number) for one in verify(path).findings]


def spoil(path: Path, start: int, length: int) -> None:
    """Overwrite a stretch of a file with rubbish."""
    with path.open("r+b") as file:
        file.seek(start)
        file.write(b"\xa5" * length)


def test_a_sound_journal_has_no_findings(path: Path) -> None:
    """A journal in order checks clean, says how much was looked at, and is not changed by it."""
    before = [file.read_bytes() for file in sorted(path.parent.iterdir())]
    report = verify(path)
    assert (report.ok, report.litters, report.entries) == (True, 1, 6)
    assert [file.read_bytes() for file in sorted(path.parent.iterdir())] == before


def test_an_empty_journal_is_sound(tmp_path: Path) -> None:
    """A journal nobody has written to yet has nothing wrong with it."""
    open_journal(tmp_path / "journal.db").close()
    assert verify(tmp_path / "journal.db").ok


def test_nothing_there_at_all(tmp_path: Path) -> None:
    """Where there is neither a database nor a mirror the check says so and makes neither."""
    assert found(tmp_path / "journal.db") == [("database-missing", None)]
    assert list(tmp_path.iterdir()) == []


CHANGED = "UPDATE record SET body = replace(body, 'note 3', 'note X') WHERE number = 3"


@pytest.mark.parametrize(
    ("statements", "expected"),
    [
        ([CHANGED], [("row-changed", 3), ("mirror-differs", 3)]),
        (
            ["UPDATE record SET hash = replace(hash, substr(hash, 1, 1), 'x') WHERE number = 6"],
            [("row-changed", 6), ("mirror-differs", 6)],
        ),
        (
            ["DELETE FROM record WHERE number IN (3, 4)"],
            [("chain-broken", 3), ("missing-in-database", 3)],
        ),
        (
            ["UPDATE record SET number = 9 WHERE number = 6"],
            [("chain-broken", 6), ("chain-broken", 9), ("missing-in-mirror", 9),
             ("missing-in-database", 6)],
        ),
        (["DROP TRIGGER IF EXISTS none"], []),
    ],
)  # fmt: skip
def test_a_changed_database_is_found_out(
    path: Path, statements: list[str], expected: list[tuple[str, int]]
) -> None:
    """A row edited, removed or moved behind the guards' back shows, with its number."""
    edit(path, *statements)
    assert found(path) == expected


def test_a_whole_chain_written_anew_is_found_out(path: Path) -> None:
    """Even with all hashes made to fit again, the mirror shows that the database was edited."""
    edit(path, CHANGED)
    with closing(sqlite3.connect(path)) as connection:
        bodies = connection.execute("SELECT body FROM record ORDER BY number").fetchall()
    prev, statements = genesis(LITTER), []
    for number, (body,) in enumerate(bodies):
        prev = digest(prev, body)
        statements.append(f"UPDATE record SET hash = '{prev}' WHERE number = {number}")  # noqa: S608 a test's own numbers
    edit(path, *statements)
    assert found(path) == [("mirror-differs", number) for number in range(3, 7)]


def test_missing_guards_are_found_out(path: Path) -> None:
    """A database without its guards is reported even when nothing was changed."""
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("DROP TRIGGER record_never_changes")
    assert found(path) == [("database-unguarded", None)]


@pytest.mark.parametrize(
    ("change", "expected"),
    [
        (lambda lines: [*lines[:3], *lines[4:]],
         [("chain-broken", 3), ("missing-in-mirror", 3)]),
        (lambda lines: [*lines, lines[3]], [("chain-broken", 3)]),
        (lambda lines: [*lines[:-1], lines[-1][:-9]],
         [("torn-line", None), ("missing-in-mirror", 6)]),
        (lambda lines: [line.replace(b"note 3", b"note X") for line in lines],
         [("line-damaged", 3), ("mirror-differs", 3)]),
        (lambda lines: [*lines[:3], b"rubbish\n", *lines[4:]],
         [("line-damaged", None), ("chain-broken", 3), ("missing-in-mirror", 3)]),
        (lambda lines: [line.replace(b'"id":6,', b'"id":7,') for line in lines],
         [("line-damaged", 6), ("mirror-differs", 6)]),
    ],
)  # fmt: skip
def test_a_changed_mirror_is_found_out(
    path: Path, change: Callable[[list[bytes]], list[bytes]], expected: list[tuple[str, int]]
) -> None:
    """A line lost, doubled, torn or changed in the mirror shows, with its number."""
    edit_mirror(path, change)
    assert found(path) == expected


def test_a_link_that_does_not_fit_is_found_out(path: Path) -> None:
    """A line that is whole but follows something else is reported."""

    def change(lines: list[bytes]) -> list[bytes]:
        body = lines[3].split(b'"entry":', 1)[1][:-2].decode()
        other = digest("0" * 64, body)
        start = b'{"schema":1,"seq":4,"litter":"%s","number":3,' % LITTER.encode()
        links = f'"prev":"{"0" * 64}","hash":"{other}","entry":{body}}}\n'.encode()
        return [*lines[:3], start + links, *lines[4:]]

    edit_mirror(path, change)
    assert found(path) == [
        ("chain-broken", 3), ("chain-broken", 4), ("mirror-differs", 3)
    ]  # fmt: skip


def test_a_record_that_makes_no_sense_is_found_out(path: Path) -> None:
    """A record with a good hash that says nothing an entry can say is reported."""
    with closing(sqlite3.connect(path)) as connection:
        (prev,) = connection.execute("SELECT hash FROM record WHERE number = 5").fetchone()
    own = digest(prev, "{}")
    edit(path, f"UPDATE record SET body = '{{}}', hash = '{own}' WHERE number = 6")  # noqa: S608 a test's own hash
    assert found(path) == [("chain-broken", 6), ("mirror-differs", 6)]


@pytest.mark.parametrize("start", [0, 4096, 8192])
def test_a_spoilt_database_is_reported_and_recovered(path: Path, start: int) -> None:
    """With any page of the database spoilt, the check says so and everything comes back."""
    with open_journal(path) as journal:
        journal.record_many(LITTER, [note("y" * 900)] * 30, recorded=later(7))
        before = journal.entries(LITTER)
    spoil(path, start, 4000)
    assert any(one.kind == "database-damaged" for one in verify(path).findings)
    repair = recover(path)
    assert repair.findings == ()
    assert len(repair.kept) == 2
    with open_journal(path) as journal:
        assert journal.entries(LITTER) == before
        assert journal.current() is not None
    assert verify(path).ok


def test_opening_a_spoilt_database_says_what_to_do(path: Path) -> None:
    """A journal that is damaged beyond reading is not taken for a stranger's file."""
    spoil(path, 0, 4000)
    with pytest.raises(DamagedError, match="boxlamp verify"):
        open_journal(path)


def test_either_copy_rebuilds_the_other(path: Path) -> None:
    """The mirror comes out of the database byte for byte, and the database out of the mirror."""
    whole = mirror_of(path).read_bytes()
    edit_mirror(path, lambda lines: lines[:3])
    repair = rebuild_mirror(path)
    assert mirror_of(path).read_bytes() == whole
    assert repair.records == 7
    (kept,) = repair.kept
    assert len(kept.read_bytes().splitlines()) == 3

    with open_journal(path) as journal:
        second = journal.open_litter("Clover", opened=NOW)
        journal.choose(LITTER)
    edit(path, CHANGED)
    (kept,) = rebuild_database(path).kept
    assert verify(path).ok
    with open_journal(path) as journal:
        assert texts(journal, LITTER) == NOTES
        assert [row.slug for row in journal.litters()] == [LITTER, second]
        current = journal.current()
        assert current is not None
        assert current.slug == LITTER
    with closing(sqlite3.connect(kept)) as connection:
        assert connection.execute("SELECT count(*) FROM record").fetchone() == (8,)
    path.unlink()
    assert rebuild_database(path).kept == ()
    mirror_of(path).unlink()
    assert rebuild_mirror(path).kept == ()
    assert verify(path).ok


def test_a_rebuild_never_puts_away_the_only_copy(path: Path) -> None:
    """Rebuilding from a copy that is damaged, or that knows less, is refused."""
    whole = mirror_of(path).read_bytes()
    edit_mirror(path, lambda lines: lines[:3])
    with pytest.raises(DamagedError, match="does not"):
        rebuild_database(path)
    mirror_of(path).write_bytes(whole.replace(b"note 3", b"note X"))
    with pytest.raises(DamagedError, match="not whole"):
        rebuild_database(path)
    mirror_of(path).write_bytes(whole)
    edit(path, "DELETE FROM record WHERE number = 6")
    with pytest.raises(DamagedError, match="does not"):
        rebuild_mirror(path)
    edit(path, CHANGED)
    with pytest.raises(DamagedError, match="not whole"):
        rebuild_mirror(path)
    assert mirror_of(path).read_bytes() == whole


def test_a_repair_waits_for_others(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing is replaced while another terminal is writing, and others follow the file."""
    monkeypatch.setattr(schema, "BUSY_SECONDS", 0.05)
    with open_journal(path) as journal:
        with closing(sqlite3.connect(path, isolation_level=None)) as other:
            other.execute("BEGIN IMMEDIATE")
            with pytest.raises(BusyError):
                recover(path)
        assert recover(path).findings == ()
        assert journal.record(LITTER, note("note 7"), recorded=later(7)).id == 7
        assert texts(journal, LITTER) == [*NOTES, "note 7"]
    assert verify(path).ok


def test_two_copies_damaged_in_different_places(path: Path) -> None:
    """What either copy can prove comes back, whichever it is, with its number."""
    edit(path, CHANGED, "DELETE FROM record WHERE number = 1")
    edit_mirror(path, lambda lines: [lines[0], lines[1], *lines[3:4], b"rubbish\n", *lines[6:]])
    repair = recover(path)
    assert repair.findings == ()
    with open_journal(path) as journal:
        assert texts(journal, LITTER) == NOTES
    assert verify(path).ok


def test_what_nobody_can_prove_is_said(path: Path) -> None:
    """An entry damaged in both copies leaves a note in its place; all others keep their numbers."""
    edit(path, CHANGED, "DELETE FROM record WHERE number = 5")
    edit_mirror(path, lambda lines: [*lines[:3], *lines[4:5], *lines[6:]])
    repair = recover(path)
    assert [(one.kind, one.number) for one in repair.findings] == [
        ("not-proven", 3), ("not-proven", 5)
    ]  # fmt: skip
    with open_journal(path) as journal:
        entries = journal.entries(LITTER)
        assert [entry.text for entry in entries] == ["note 1", "note 2", "", "note 4", "", "note 6"]
        third = entries[2].what
        assert isinstance(third, Note)
        assert third.unread
        assert third.words.endswith("Left of it: note X")
    assert verify(path).ok


def test_what_two_copies_tell_alike_is_believed(path: Path) -> None:
    """Where the link before is lost everywhere, two copies that read alike are enough."""
    edit(path, "DELETE FROM record WHERE number = 3")
    edit_mirror(
        path,
        lambda lines: [*lines[:3], _with_prev(lines[4], "0" * 64), *lines[5:]],
    )
    repair = recover(path)
    assert [(one.kind, one.number) for one in repair.findings] == [("not-proven", 3)]
    with open_journal(path) as journal:
        assert texts(journal, LITTER) == ["note 1", "note 2", "", "note 4", "note 5", "note 6"]


def _with_prev(line: bytes, prev: str) -> bytes:
    start = line.index(b'"prev":"') + 8
    return line[:start] + prev.encode() + line[start + 64 :]


def test_copies_that_went_different_ways_are_both_kept(path: Path) -> None:
    """Two true stories of one litter are kept as two litters, and neither is lost."""
    before, mirror = path.read_bytes(), mirror_of(path).read_bytes()
    with open_journal(path) as journal:
        journal.record_many(LITTER, [note("one a"), note("one b")], recorded=later(8))
    other = mirror_of(path).read_bytes()
    path.write_bytes(before)
    mirror_of(path).write_bytes(mirror)
    with open_journal(path) as journal:
        journal.record(LITTER, note("two a"), recorded=later(9))
    mirror_of(path).write_bytes(other)
    repair = recover(path)
    assert [(one.kind, one.number) for one in repair.findings] == [("forked", 7)]
    with open_journal(path) as journal:
        assert texts(journal, LITTER) == [*NOTES, "two a"]
        assert texts(journal, f"{LITTER}-other") == [*NOTES, "one a", "one b"]
        assert journal.litter(f"{LITTER}-other").name == "Bramble"
        current = journal.current()
        assert current is not None
        assert current.slug == LITTER
    assert verify(path).ok
    # The mirror kept from before can be joined in again without a third story.
    kept = next(one for one in repair.kept if one.suffix == ".jsonl")
    recover(path, also=[kept])
    with open_journal(path) as journal:
        assert [row.entries for row in journal.litters()][:2] == [7, 8]


def test_an_opening_that_is_lost_everywhere(path: Path) -> None:
    """A litter whose opening is lost is opened again under its id."""
    edit(path, "DELETE FROM record WHERE number = 0")
    edit_mirror(path, lambda lines: lines[1:])
    recover(path)
    with open_journal(path) as journal:
        assert journal.litter(LITTER).name == LITTER
        assert journal.litter(LITTER).opened == later(1)
        assert texts(journal, LITTER) == NOTES


def test_a_number_out_of_all_reason_is_left_out(path: Path) -> None:
    """Damage that reads like entry 900000 does not fill the record with notes."""
    edit(path, "UPDATE record SET number = 900000 WHERE number = 6")
    mirror_of(path).unlink()
    repair = recover(path)
    assert [one.kind for one in repair.findings] == ["not-proven"]
    with open_journal(path) as journal:
        assert texts(journal, LITTER) == NOTES[:5]


def test_nothing_left_to_prove(path: Path) -> None:
    """When only a doubtful row is left of a litter it is kept as a note with an opening."""
    edit(path, "DELETE FROM record WHERE number <> 1", CHANGED.replace("3", "1"))
    mirror_of(path).unlink()
    repair = recover(path)
    assert [one.number for one in repair.findings] == [0, 1]
    with open_journal(path) as journal:
        (entry,) = journal.entries(LITTER)
    assert "note X" in entry.what.model_dump()["words"]


def test_a_backup_is_whole_and_checked(path: Path, tmp_path: Path) -> None:
    """A backup made while the journal is open holds both copies and checks clean."""
    with open_journal(path) as journal:
        made = backup(path, tmp_path / "stick" / "copy.db")
        into = backup(path, tmp_path / "stick")
        journal.record(LITTER, note("note 7"), recorded=later(7))
    assert made.report.ok
    assert made.mirror.read_bytes() == into.mirror.read_bytes()
    assert {file.stat().st_mode & 0o777 for file in (tmp_path / "stick").iterdir()} == {0o600}
    with open_journal(made.path) as journal:
        assert texts(journal, LITTER) == NOTES


def test_a_backup_overwrites_nothing(path: Path, tmp_path: Path) -> None:
    """A name that is taken is refused, also when only the mirror is in the way."""
    for name in ("copy.db", "copy.jsonl"):
        (tmp_path / name).write_text("mine")
        with pytest.raises(InTheWayError, match=name):
            backup(path, tmp_path / "copy.db")
        assert (tmp_path / name).read_text() == "mine"
        (tmp_path / name).unlink()
    with pytest.raises(NotAJournalError, match="no journal"):
        backup(tmp_path / "nothing.db", tmp_path / "copy.db")


def test_a_damaged_journal_makes_no_backup(path: Path, tmp_path: Path) -> None:
    """A copy that does not check is not left lying about as if it were one."""
    edit(path, CHANGED)
    with pytest.raises(DamagedError, match="Entry 3"):
        backup(path, tmp_path / "copy.db")
    assert not list(tmp_path.glob("copy*"))


def test_a_line_told_twice_is_taken_where_it_is_whole(path: Path) -> None:
    """Of two lines for one number the one that is whole counts."""
    edit_mirror(
        path, lambda lines: [*lines[:3], lines[3].replace(b"note 3", b"note X"), *lines[3:]]
    )
    path.unlink()
    with open_journal(path) as journal:
        assert texts(journal, LITTER) == NOTES
        kinds = [one.kind for one in journal.take_notices()]
        assert kinds[0] == "database-rebuilt"


def test_a_file_to_join_must_be_there(path: Path) -> None:
    """A wrong name for another mirror is refused before anything is done."""
    with pytest.raises(RefusedError, match="not a file"):
        recover(path, also=[path.parent / "none.jsonl"])


def test_a_litter_missing_in_the_middle(path: Path) -> None:
    """Whole litters missing from a copy are found, each in its own finding."""
    with open_journal(path) as journal:
        journal.open_litter("Clover", opened=NOW)
        journal.open_litter("Daisy", opened=NOW)
        before = journal.litters()
    edit_mirror(path, lambda lines: lines[:7])
    edit(path, "DELETE FROM record WHERE litter = 'bramble-2026-03-02'")
    kinds = [one.kind for one in verify(path).findings]
    assert kinds == ["missing-in-mirror", "missing-in-mirror", "missing-in-database"]
    assert recover(path).findings == ()
    with open_journal(path) as journal:
        assert journal.litters() == before
    assert verify(path).ok


def test_a_rebuilt_database_takes_the_place_whole_or_not_at_all(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What a WAL still holds is moved into the new file first; where it cannot be, all stays.

    A disk that was full in that moment once left half a database in the place of a whole one.
    """
    monkeypatch.setattr(schema, "wal_is_safe", lambda _version: True)
    monkeypatch.setattr(schema, "BUSY_SECONDS", 0.05)
    before = path.read_bytes()
    others: list[sqlite3.Connection] = []

    def connect(name: Path) -> sqlite3.Connection:
        connection = schema.connect(name)
        if ".new-" in name.name:
            # While somebody else reads it, closing moves nothing.
            others.append(sqlite3.connect(name))
            others[-1].execute("SELECT count(*) FROM record").fetchall()
        return connection

    monkeypatch.setattr(repair, "connect", connect)
    with pytest.raises(BusyError):
        rebuild_database(path)
    for other in others:
        other.close()
    assert others
    assert verify(path).ok
    assert path.read_bytes()[100:] == before[100:]


def test_rows_that_are_no_records_are_left_out(path: Path) -> None:
    """From a spoilt page a row may come out as anything; checking and repairing go on without."""
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        connection.execute("PRAGMA writable_schema = ON")
        for trigger in schema.GUARDS:
            connection.execute(f"DROP TRIGGER {trigger}")
        # Without STRICT, SQLite hands out whatever kinds of values lie in the page.
        connection.execute(
            "UPDATE sqlite_master SET sql = replace(replace(sql, 'STRICT', ''), 'INTEGER NOT', '"
            "BLOB NOT') WHERE name = 'record'"
        )
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        connection.execute("PRAGMA ignore_check_constraints = ON")
        connection.execute("INSERT INTO record VALUES (90, '', 'b*', 7, x'00ff')")
        connection.execute("INSERT INTO record VALUES (91, 'ash', 1.5, 'x', 'y')")
    assert "database-damaged" in {one.kind for one in verify(path).findings}
    recover(path)
    assert verify(path).ok
    with open_journal(path) as journal:
        assert texts(journal, LITTER) == NOTES


@pytest.mark.parametrize(
    ("frame", "damaged"),
    [(b'"schema":1', b'"schema":9'), (b'"seq":', b'"sez":'), (b'"litter":"b', b'"litter":"B'),
     (b'"number":', b'"number":9'), (b'"entry":', b'"eotry":')],
)  # fmt: skip
def test_a_record_that_is_whole_in_a_damaged_line_comes_back(
    path: Path, frame: bytes, damaged: bytes
) -> None:
    """Only what stands around it is damaged: the record itself proves what it is."""
    edit(path, CHANGED)
    edit_mirror(path, lambda lines: [line.replace(frame, damaged, 1) for line in lines])
    assert "line-damaged" in {one.kind for one in verify(path).findings}
    assert recover(path).findings == ()
    with open_journal(path) as journal:
        assert texts(journal, LITTER) == NOTES
    assert verify(path).ok
