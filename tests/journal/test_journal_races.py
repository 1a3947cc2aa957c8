"""What others do between two steps of the journal: nothing is lost, and nothing hangs."""

import sqlite3
from collections.abc import Callable
from contextlib import closing
from datetime import timedelta
from itertools import chain, count, cycle
from pathlib import Path

import pytest

from boxlamp.journal import copies, file, mirror, open_journal, paths, schema
from boxlamp.journal.chain import Opening, Record, digest, genesis, salvaged
from boxlamp.journal.errors import (
    BusyError,
    DamagedError,
    InTheWayError,
    RefusedError,
    translated,
)
from boxlamp.journal.file import JournalFile
from boxlamp.journal.repair import rebuild_mirror, recover
from boxlamp.journal.verify import verify
from boxlamp.model.entry import Draft
from boxlamp.model.happenings import Note
from support.journals import NOW, filled, later, note, texts

LITTER = "bramble-2026-03-02"


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A journal with three entries."""
    filled(tmp_path / "journal.db")
    return tmp_path / "journal.db"


def test_it_says_where_its_copies_lie(path: Path) -> None:
    """An open journal names its database and the mirror beside it."""
    with open_journal(path) as journal:
        assert (journal.path, journal.mirror) == (path, path.with_suffix(".jsonl"))


def test_a_folder_made_by_another_terminal(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder that another terminal makes in the same moment is used as it is."""
    make = Path.mkdir

    def made_twice(self: Path, mode: int = 0o777) -> None:
        make(self, mode)
        make(self, mode)

    with monkeypatch.context() as patch:
        patch.setattr(Path, "mkdir", made_twice)
        litter = filled(tmp_path / "new" / "journal.db")
    with open_journal(tmp_path / "new" / "journal.db") as journal:
        assert texts(journal, litter) == ["note 1", "note 2", "note 3"]


@pytest.mark.parametrize("moment", ["sides_of", "private_file"])
def test_a_journal_made_by_another_terminal(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, moment: str
) -> None:
    """Of two terminals that begin the same journal the slower one goes on with what is there."""
    path = tmp_path / "journal.db"
    real: Callable[[Path], object] = getattr(file, moment)

    def overtaken(where: Path) -> object:
        monkeypatch.undo()
        filled(path)
        return real(where)

    monkeypatch.setattr(file, moment, overtaken)
    with open_journal(path) as journal:
        assert journal.record(LITTER, note("fourth"), recorded=later(4)).id == 4
    assert verify(path).ok


def test_a_file_exchanged_again_and_again(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file exchanged whenever it is about to be written is busy; nothing is written."""
    with open_journal(path) as journal:
        # Looked at before it is opened, when it is, once more for its mirror, and when locked.
        looks = chain.from_iterable((4 * n, 4 * n + 1, 4 * n + 1, 4 * n + 2) for n in count())
        with monkeypatch.context() as patch:
            patch.setattr(file, "identity", lambda _path: (0, next(looks)))
            with pytest.raises(BusyError, match="busy"):
                journal.record(LITTER, note("lost"), recorded=later(4))
        assert journal.record(LITTER, note("fourth"), recorded=later(4)).id == 4
    assert verify(path).ok


def test_an_interrupt_before_the_first_word(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An interrupt while the mirror is looked at lets go of the lock: others write at once."""

    def interrupted(*_: object) -> None:
        raise KeyboardInterrupt

    with open_journal(path) as journal, open_journal(path) as other:
        with monkeypatch.context() as patch:
            patch.setattr(mirror, "standing", interrupted)
            with pytest.raises(KeyboardInterrupt):
                journal.record(LITTER, note("lost"), recorded=later(4))
        assert other.record(LITTER, note("fourth"), recorded=later(4)).id == 4
    assert verify(path).ok


def test_a_mirror_spoilt_at_every_look(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A mirror that somebody spoils whenever it is level keeps no entry from being taken.

    The next entry finds what it lacks.
    """
    with open_journal(path) as journal:
        looks = chain(("level",), cycle(("differs", "level")))
        with monkeypatch.context() as patch:
            patch.setattr(mirror, "standing", lambda *_: next(looks))
            assert journal.record(LITTER, note("fourth"), recorded=later(4)).id == 4
        assert journal.record(LITTER, note("fifth"), recorded=later(5)).id == 5
        assert len(texts(journal, LITTER)) == 5
    assert verify(path).ok


@pytest.mark.parametrize("between", ["written to", "torn", "removed"])
def test_a_mirror_changed_between_an_entry_and_its_line(
    path: Path, monkeypatch: pytest.MonkeyPatch, between: str
) -> None:
    """What happens to the mirror right after an entry is stored is seen: each line stands once."""
    with open_journal(path) as journal, open_journal(path) as other:
        whole = JournalFile.write_mirror

        def overtaken(self: JournalFile, end: tuple[str, int, str] | None = None) -> None:
            monkeypatch.undo()
            if between == "written to":
                other.record(LITTER, note("fifth"), recorded=later(5))
            elif between == "torn":
                with path.with_suffix(".jsonl").open("ab") as file:
                    file.write(b'{"schema":1,"seq":5,"lit')
            else:
                path.with_suffix(".jsonl").unlink()
            whole(self, end)

        monkeypatch.setattr(JournalFile, "write_mirror", overtaken)
        assert journal.record(LITTER, note("fourth"), recorded=later(4)).id == 4
        assert verify(path).ok
        assert texts(journal, LITTER) == texts(other, LITTER)


def test_a_check_waits_for_a_writer(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A journal in use is busy and not damaged: a check says so instead of a finding."""
    monkeypatch.setattr(copies, "BUSY_SECONDS", 0.05)
    look = schema.check_kind

    def locked_after(connection: sqlite3.Connection, where: Path) -> int:
        known = look(connection, where)
        held.execute("BEGIN EXCLUSIVE")
        return known

    monkeypatch.setattr(copies, "check_kind", locked_after)
    with closing(sqlite3.connect(path, isolation_level=None)) as held:
        with pytest.raises(BusyError, match="busy"):
            verify(path)
        held.execute("ROLLBACK")
    monkeypatch.undo()
    assert verify(path).ok


def test_no_name_is_left_to_keep_a_file_under(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """When every name for a file to be kept is taken, it stays where it is."""
    content = path.read_bytes()
    monkeypatch.setattr(Path, "exists", lambda _self: True)
    with pytest.raises(InTheWayError):
        paths.set_aside(path)
    assert path.read_bytes() == content


def test_a_mirror_is_not_rebuilt_from_nothing(path: Path) -> None:
    """Without a database there is nothing to rebuild its mirror from: the mirror stays."""
    path.unlink()
    there = path.with_suffix(".jsonl").read_bytes()
    with pytest.raises(DamagedError, match="nothing was rebuilt"):
        rebuild_mirror(path)
    assert path.with_suffix(".jsonl").read_bytes() == there
    assert not path.exists()


@pytest.mark.parametrize("number", [0, 4])
def test_a_senseless_record_is_not_taken_back(path: Path, number: int) -> None:
    """A line of the mirror with good hashes that says nothing an entry can say is left there.

    The mirror is kept under a dated name, and the database stays as it was.
    """
    with open_journal(path) as journal:
        before = journal.record(LITTER, note("last"), recorded=later(4))
    with closing(sqlite3.connect(path)) as connection:
        (prev,) = connection.execute("SELECT hash FROM record WHERE number = 4").fetchone()
    litter, seq = (LITTER, 6) if number else ("clover-2026-03-02", 6)
    prev = prev if number else genesis(litter)
    line = Record(seq, litter, number + 1 if number else 0, prev, digest(prev, "{}"), "{}").line()
    with path.with_suffix(".jsonl").open("ab") as end:
        end.write(line)
    with open_journal(path) as journal:
        assert [one.kind for one in journal.take_notices()] == ["mirror-set-aside"]
        assert journal.entries(LITTER)[-1] == before
        assert [row.slug for row in journal.litters()] == [LITTER]


def test_a_record_of_another_litter_is_not_read() -> None:
    """An opening stands for the litter it names and for no other, and only in first place."""
    body = Opening(slug=LITTER, name="Bramble", opened=NOW).model_dump_json()
    assert Record(1, LITTER, 0, "", "", body).readable()
    assert not Record(1, "clover-2026-03-02", 0, "", "", body).readable()
    assert not Record(1, LITTER, 1, "", "", body).readable()
    assert not Record(1, LITTER, 0, "", "", "{}").readable()


def test_a_time_that_no_calendar_holds(path: Path) -> None:
    """What cannot be reckoned while an entry is made is refused in a sentence; nothing is kept."""
    with open_journal(path) as journal:
        with pytest.raises(RefusedError, match="cannot be kept as it is"):
            journal.record(
                LITTER, lambda _: Draft(at=NOW + timedelta(days=10**7), what=Note()), recorded=NOW
            )
        assert len(journal.entries(LITTER)) == 3


def test_a_name_of_any_length_is_kept_or_told_how_to_be_shorter(path: Path) -> None:
    """Up to 500 characters it is kept; with one more it says where the name comes from."""
    draft = Draft(at=NOW, what=Note())
    with open_journal(path) as journal:
        assert journal.record(LITTER, lambda _: draft, recorded=NOW, by="x" * 500).by == "x" * 500
        with pytest.raises(RefusedError, match="--by NAME, or in the variable BOXLAMP_BY") as told:
            journal.record(LITTER, lambda _: draft, recorded=NOW, by="x" * 501)
        assert str(told.value).startswith("Nothing was written down: the name of who is typing is")
        assert len(journal.entries(LITTER)) == 4


def test_a_side_file_is_kept_with_its_database(path: Path) -> None:
    """What lies beside a spoilt database goes with it when a new one takes its place."""
    path.write_bytes(b"\xa5" * 4096)
    beside = path.with_name(f"{path.name}-shm")
    beside.write_bytes(b"left over")
    (kept,) = (one for one in recover(path).kept if one.suffix == path.suffix)
    assert kept.with_name(f"{kept.name}-shm").read_bytes() == b"left over"
    assert not beside.exists()
    assert verify(path).ok


def test_what_is_whole_inside_a_damaged_line_must_still_say_something() -> None:
    """A line damaged around its record gives it back; one with good hashes and no sense, none."""
    opening = Opening(slug=LITTER, name="Bramble", opened=NOW).model_dump_json()
    for body, number in ((opening, 0), ("{}", None), ('{"words":"x"}', None)):
        first = genesis(LITTER)
        line = Record(1, LITTER, 0, first, digest(first, body), body).line()
        found = salvaged(line.replace(b'"schema"', b'"sch\xffma"'), 7)
        assert (None if found is None else (found.seq, found.number)) == (
            None if number is None else (7, number)
        )


def test_a_complaint_that_quotes_a_spoilt_page(path: Path) -> None:
    """Where the database cannot even be complained about in letters, it is called damaged."""
    with pytest.raises(DamagedError, match=str(path)), translated(path):
        b"\xff".decode()


def test_a_relative_data_folder_counts_as_none(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The usual place does not depend on the folder one happens to stand in."""
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.delenv("XDG_DATA_HOME", raising=False)
    usual = paths.default_path()
    monkeypatch.setenv("XDG_DATA_HOME", "here")
    assert paths.default_path() == usual
    assert usual.is_absolute()
