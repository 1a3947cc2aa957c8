"""Litters and entries: numbers, order, the litter in use, and what is refused."""

import sqlite3
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import pytest

from boxlamp.journal import open_journal
from boxlamp.journal.errors import (
    ClosedError,
    JournalError,
    NoSuchLitterError,
    RefusedError,
    ReplacedError,
)
from boxlamp.journal.file import JournalFile
from boxlamp.journal.journal import slugged
from boxlamp.journal.notices import clock_went_back
from boxlamp.model.entry import Draft, Entry
from boxlamp.model.happenings import Birth, Details, Expect, Note
from support.journals import NOW, filled, later, next_pup, note, texts


def test_entries_come_back_as_they_were_written(tmp_path: Path) -> None:
    """What was acknowledged is read back whole, after closing and opening again."""
    path = tmp_path / "journal.db"
    with open_journal(path) as journal:
        litter = journal.open_litter("Bramble", opened=NOW)
        written = journal.record(litter, note("résumé \x1b[31m\x00 ☃"), recorded=later(1), by="Ann")
    with open_journal(path) as journal:
        assert journal.entries(litter) == (written,)
        assert (written.id, written.by, written.litter) == (1, "Ann", litter)
        assert journal.take_notices() == ()


def test_make_sees_every_entry_before_its_own(tmp_path: Path) -> None:
    """The next pup's number is counted from all entries that are there, also inside a batch."""
    with open_journal(tmp_path / "journal.db") as journal:
        litter = journal.open_litter("Bramble", opened=NOW)
        journal.record(litter, next_pup(), recorded=NOW)
        added = journal.record_many(litter, [next_pup(), next_pup()], recorded=NOW)
        assert [entry.what for entry in added] == [Birth(pup=2), Birth(pup=3)]
        assert [entry.id for entry in journal.entries(litter)] == [1, 2, 3]


def test_two_open_journals_see_each_other(tmp_path: Path) -> None:
    """What one terminal writes the other reads, and it can tell cheaply that there is more."""
    path = tmp_path / "journal.db"
    with open_journal(path) as one, open_journal(path) as two:
        litter = one.open_litter("Bramble", opened=NOW)
        assert two.entries(litter) == ()
        version = two.data_version()
        one.record(litter, note("first"), recorded=NOW)
        assert len(two.entries(litter)) == 1
        assert two.data_version() != version
        assert texts(two, litter) == ["first"]
        two.record(litter, note("second"), recorded=NOW)
        assert texts(one, litter) == ["first", "second"]


def test_a_failure_in_the_middle_leaves_nothing(tmp_path: Path) -> None:
    """Several entries at once are written all or not at all."""

    def fails(_entries: tuple[Entry, ...]) -> Draft:
        raise ZeroDivisionError

    path = tmp_path / "journal.db"
    litter = filled(path)
    with open_journal(path) as journal:
        with pytest.raises(ZeroDivisionError):
            journal.record_many(litter, [note("a"), fails], recorded=NOW)
        assert len(journal.entries(litter)) == 3
        assert journal.record_many(litter, [], recorded=NOW) == ()
        assert journal.record(litter, note("b"), recorded=later(9)).id == 4


def test_an_interrupt_leaves_nothing(tmp_path: Path) -> None:
    """Ctrl-C while an entry is being made leaves no half of it and no lock."""

    def interrupted(_entries: tuple[Entry, ...]) -> Draft:
        raise KeyboardInterrupt

    path = tmp_path / "journal.db"
    litter = filled(path)
    with open_journal(path) as one, open_journal(path) as two:
        with pytest.raises(KeyboardInterrupt):
            one.record(litter, interrupted, recorded=NOW)
        assert two.record(litter, note(), recorded=later(9)).id == 4


def test_opening_a_litter_writes_all_its_first_entries(tmp_path: Path) -> None:
    """A new litter has its first entries from the start, gets an id of its own, and is in use."""
    drafts = [
        Draft(at=NOW, what=Details(dam="Bramble")),
        Draft(at=NOW, what=Expect(count=6, method="xray")),
    ]
    local = datetime(2026, 3, 2, 1, 0, tzinfo=timezone(timedelta(hours=2)))
    with open_journal(tmp_path / "journal.db") as journal:
        assert journal.current() is None
        first = journal.open_litter("Brämble of Hill", opened=local, drafts=drafts, by="Ann")
        second = journal.open_litter("Bramble of Hill", opened=local)
        assert (first, second) == (
            "bramble-of-hill-2026-03-02",
            "bramble-of-hill-2026-03-02-2",
        )
        assert [entry.what for entry in journal.entries(first)] == [one.what for one in drafts]
        rows = journal.litters()
        assert [(row.slug, row.name, row.entries) for row in rows] == [
            (first, "Brämble of Hill", 2),
            (second, "Bramble of Hill", 0),
        ]
        assert rows[0].opened == datetime(2026, 3, 1, 23, 0, tzinfo=UTC)
        assert journal.current() == rows[1]
        assert journal.choose(first) == rows[0]
        assert journal.current() == rows[0]


def test_odd_names_make_plain_ids() -> None:
    """An id is short and plain whatever the dam is called."""
    assert slugged("Zoë's  Löwe!") == "zoe-s-lowe"
    assert slugged("犬") == "litter"
    assert len(slugged("x" * 1000)) <= 100
    assert slugged("../../etc/passwd") == "etc-passwd"


@pytest.mark.parametrize("name", ["bramble", "\udcff", "", "'; DROP TABLE record; --"])
def test_a_litter_that_is_not_there_is_named(tmp_path: Path, name: str) -> None:
    """Asking for an unknown litter says which there are, and changes nothing."""
    path = tmp_path / "journal.db"
    litter = filled(path)
    with open_journal(path) as journal:
        for ask in (journal.entries, journal.choose, journal.records):
            with pytest.raises(NoSuchLitterError, match=litter):
                ask(name)
        with pytest.raises(NoSuchLitterError, match=litter):
            journal.record(name, note(), recorded=NOW)


@pytest.mark.parametrize("junk", ["x" * 1_000_000, "☃" * 20_001, "\udcff"])
def test_junk_is_refused_in_a_sentence(tmp_path: Path, junk: str) -> None:
    """A megabyte of junk, or what is no text at all, is refused and the record stays as it was."""
    path = tmp_path / "journal.db"
    litter = filled(path)
    with open_journal(path) as journal:
        for make in (
            lambda _: Draft.model_construct(
                at=NOW, zone="UTC", certainty="seen", text=junk, note="", what=Note()
            ),
            lambda _: Draft(at=NOW, what=Note(words=junk)),
        ):
            with pytest.raises(RefusedError, match="cannot be kept"):
                journal.record(litter, make, recorded=NOW)
        with pytest.raises(RefusedError, match="cannot be kept"):
            journal.open_litter(junk, opened=NOW)
        assert len(journal.entries(litter)) == 3
        assert len(journal.litters()) == 1


def test_the_longest_line_fits(tmp_path: Path) -> None:
    """The longest text the model allows is kept, however many bytes it takes."""
    with open_journal(tmp_path / "journal.db") as journal:
        litter = journal.open_litter("Bramble", opened=NOW)
        for text in ("\x01" * 20_000, "🐕" * 20_000, "plain"):
            journal.record(litter, note(), recorded=NOW)
            entry = journal.record(litter, lambda _, t=text: Draft(at=NOW, text=t, what=Note()),  # type: ignore[misc]
                                   recorded=NOW)  # fmt: skip
            assert journal.entries(litter)[-1] == entry
        assert journal.take_notices() == ()


def test_a_clock_set_back_is_told_and_both_times_kept(tmp_path: Path) -> None:
    """When the computer's clock is set back an hour the entry is kept and the person told."""
    path = tmp_path / "journal.db"
    litter = filled(path)
    with open_journal(path) as journal:
        entry = journal.record(litter, note("late"), recorded=later(3 - 60))
        (notice,) = journal.take_notices()
        assert (notice.kind, "1 h 00 min earlier" in notice.sentence) == ("clock-back", True)
        assert journal.entries(litter)[-1] == entry
        assert entry.recorded == later(-57)
        assert clock_went_back(journal.entries(litter), later(-57)) is None
        assert clock_went_back((), NOW) is None


def test_a_closed_journal_says_so(tmp_path: Path) -> None:
    """Using a journal after closing it is an error with a sentence; closing twice is none."""
    journal = open_journal(tmp_path / "journal.db")
    journal.close()
    journal.close()
    with pytest.raises(ClosedError):
        journal.litters()
    with pytest.raises(ClosedError):
        journal.open_litter("Bramble", opened=NOW)
    with pytest.raises(ClosedError):
        journal.data_version()


def test_following_a_database_that_was_replaced(tmp_path: Path) -> None:
    """When the file is moved away under an open journal, the next use notices and loses nothing."""
    path = tmp_path / "journal.db"
    litter = filled(path)
    with open_journal(path) as journal:
        assert len(journal.entries(litter)) == 3
        path.rename(tmp_path / "elsewhere.db")
        assert journal.record(litter, note("fourth"), recorded=later(4)).id == 4
        assert [one.kind for one in journal.take_notices()] == ["database-rebuilt"]
        path.unlink()
        assert texts(journal, litter) == ["note 1", "note 2", "note 3", "fourth"]
        path.unlink()
        assert isinstance(journal.data_version(), int)
    with sqlite3.connect(path) as connection:
        assert connection.execute("SELECT count(*) FROM record").fetchone() == (5,)
    connection.close()


def test_many_entries_are_read_once(tmp_path: Path) -> None:
    """A long record is read in full once, and afterwards only its new end."""
    path = tmp_path / "journal.db"
    with open_journal(path) as journal:
        litter = journal.open_litter("Bramble", opened=NOW)
        journal.record_many(litter, [note(str(n)) for n in range(500)], recorded=NOW)
        first = journal.entries(litter)
        journal.record(litter, note("new"), recorded=NOW)
        second = journal.entries(litter)
    assert all(old is new for old, new in zip(first, second, strict=False))
    assert len(second) == 501


@pytest.mark.parametrize("replaced", [False, True])
def test_a_file_taken_away_in_the_moment_of_writing(tmp_path: Path, replaced: bool) -> None:  # noqa: FBT001
    """An entry written to a file that has just lost its name is never acknowledged."""
    path = tmp_path / "journal.db"
    litter = filled(path)

    def taken_away(_entries: tuple[Entry, ...]) -> Draft:
        path.rename(tmp_path / "away.db")
        if replaced:
            filled(tmp_path / "new" / "journal.db")
            (tmp_path / "new" / "journal.db").rename(path)
        return Draft(at=NOW, what=Note())

    with open_journal(path) as journal:
        with pytest.raises(ReplacedError, match="replaced"):
            journal.record(litter, taken_away, recorded=later(9))
        assert journal.record(litter, note("again"), recorded=later(9)).id == 4
        assert texts(journal, litter) == ["note 1", "note 2", "note 3", "again"]


def test_a_file_replaced_after_the_commit(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Even between the commit and the acknowledgement a file that is taken away is noticed."""
    path = tmp_path / "journal.db"
    litter = filled(path)
    with open_journal(path) as journal:
        whole = JournalFile.write_mirror

        def take_away(self: JournalFile, end: tuple[str, int, str] | None = None) -> None:
            monkeypatch.undo()
            path.unlink()
            whole(self, end)

        monkeypatch.setattr(JournalFile, "write_mirror", take_away)
        with pytest.raises(ReplacedError, match="replaced"):
            journal.record(litter, note("lost"), recorded=later(9))
        path.unlink()
        path.mkdir()
        with pytest.raises(JournalError):
            journal.entries(litter)
        path.rmdir()
        assert texts(journal, litter) == ["note 1", "note 2", "note 3"]
