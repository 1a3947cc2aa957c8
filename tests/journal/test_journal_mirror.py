"""The mirror: readable without the program, never in the way, and always healed."""

import json
from pathlib import Path

import pytest

from boxlamp.journal import mirror as mirrors
from boxlamp.journal import open_journal
from boxlamp.journal.chain import digest, from_line, genesis
from boxlamp.journal.verify import verify
from support.journals import NOW, filled, later, note, texts


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A journal with three entries."""
    filled(tmp_path / "journal.db")
    return tmp_path / "journal.db"


LITTER = "bramble-2026-03-02"


def mirror_of(path: Path) -> Path:
    return path.with_suffix(".jsonl")


def test_each_line_is_plain_json_in_a_chain(path: Path) -> None:
    """Any program can read the mirror: one JSON object a line, each with the hash before it."""
    lines = [json.loads(line) for line in mirror_of(path).read_text("utf-8").splitlines()]
    assert [line["seq"] for line in lines] == [1, 2, 3, 4]
    assert {line["litter"] for line in lines} == {LITTER}
    assert lines[0]["opened"]["name"] == "Bramble"
    assert [line["entry"]["text"] for line in lines[1:]] == ["note 1", "note 2", "note 3"]
    assert lines[0]["prev"] == genesis(LITTER)
    assert [line["prev"] for line in lines[1:]] == [line["hash"] for line in lines[:-1]]
    body = json.dumps(lines[1]["entry"], separators=(",", ":"))
    assert digest(lines[1]["prev"], body) == lines[1]["hash"]


@pytest.mark.parametrize("left", [*range(0, 1800, 37), -1, -2, -3, -4])
def test_a_torn_mirror_is_mended(path: Path, left: int) -> None:
    """Cut off after any byte, the mirror is whole again after the next entry."""
    whole = mirror_of(path).read_bytes()
    mirror_of(path).write_bytes(whole[:left])
    with open_journal(path) as journal:
        assert mirror_of(path).read_bytes() == whole
        mirror_of(path).write_bytes(whole[:left])
        journal.record(LITTER, note("fourth"), recorded=later(4))
        assert {one.kind for one in journal.take_notices()} <= {"mirror-mended"}
    assert mirror_of(path).read_bytes().startswith(whole)
    assert verify(path).ok


@pytest.mark.parametrize("tail", [b"\0" * 5000, b'{"schema":1,"seq":5,"li', b"\xff\xfe", b"{"])
def test_rubbish_after_the_last_line_is_cut_off(path: Path, tail: bytes) -> None:
    """What a power cut leaves behind the last line is removed, and the person is told."""
    with mirror_of(path).open("ab") as file:
        file.write(tail)
    assert [one.kind for one in verify(path).findings] == ["torn-line"]
    with open_journal(path) as journal:
        assert [one.kind for one in journal.take_notices()] == ["mirror-mended"]
    assert verify(path).ok


def test_a_missing_line_end_is_added(path: Path) -> None:
    """A last line that lacks only its line end is kept as it is."""
    whole = mirror_of(path).read_bytes()
    mirror_of(path).write_bytes(whole[:-1])
    open_journal(path).close()
    assert mirror_of(path).read_bytes() == whole


def test_a_missing_mirror_is_written_again(path: Path) -> None:
    """Without its mirror the journal works, and writes it anew, private as before."""
    whole = mirror_of(path).read_bytes()
    mirror_of(path).unlink()
    assert [one.kind for one in verify(path).findings] == ["mirror-missing"]
    open_journal(path).close()
    assert mirror_of(path).read_bytes() == whole
    assert mirror_of(path).stat().st_mode & 0o777 == 0o600


def test_a_mirror_that_cannot_be_written_does_not_lose_the_entry(path: Path) -> None:
    """The entry is kept in the database, the person is told, and the next one catches up."""
    whole = mirror_of(path).read_bytes()
    with open_journal(path) as journal:
        mirror_of(path).unlink()
        mirror_of(path).mkdir()
        assert journal.record(LITTER, note("fourth"), recorded=later(4)).id == 4
        (notice,) = journal.take_notices()
        assert notice.kind == "mirror-behind"
        assert "safe" in notice.sentence
        mirror_of(path).rmdir()
        mirror_of(path).write_bytes(whole)
        journal.record(LITTER, note("fifth"), recorded=later(5))
        assert journal.take_notices() == ()
    assert verify(path).ok


def test_an_unreadable_mirror_does_not_keep_the_journal_shut(path: Path) -> None:
    """With something else in the mirror's place the journal still opens and says so."""
    mirror_of(path).unlink()
    mirror_of(path).mkdir()
    with open_journal(path) as journal:
        assert [one.kind for one in journal.take_notices()] == ["mirror-behind"]
        assert len(journal.entries(LITTER)) == 3


def test_entries_the_database_lost_come_back(path: Path) -> None:
    """When a disk that lied about syncing lost the last commits, the mirror gives them back."""
    before = path.read_bytes()
    with open_journal(path) as journal:
        journal.record(LITTER, note("fourth"), recorded=later(4))
        other = journal.open_litter("Clover", opened=NOW)
        journal.record(other, note("fifth"), recorded=later(5))
    path.write_bytes(before)
    with open_journal(path) as journal:
        assert [one.kind for one in journal.take_notices()] == ["entries-returned"]
        assert texts(journal, LITTER)[-1] == "fourth"
        assert texts(journal, other) == ["fifth"]
    assert verify(path).ok


@pytest.mark.parametrize("fault", ["forked", "changed", "foreign", "nonsense"])
def test_a_mirror_that_does_not_belong_is_kept_aside(path: Path, fault: str) -> None:
    """A mirror of another story is never built upon nor overwritten: it is kept under a date."""
    before = path.read_bytes()
    with open_journal(path) as journal:
        journal.record(LITTER, note("one way"), recorded=later(4))
        journal.record(LITTER, note("one way"), recorded=later(5))
    content = mirror_of(path).read_bytes()
    if fault == "forked":
        path.write_bytes(before)
        mirror_of(path).rename(path.with_suffix(".away"))
        with open_journal(path) as journal:
            journal.record(LITTER, note("another"), recorded=later(4))
    elif fault == "changed":
        path.write_bytes(before)
        content = content.replace(b"one way", b"own way")
    else:
        content = b"somebody's notes" + (b"\n" if fault == "nonsense" else b"")
    mirror_of(path).write_bytes(content)
    with open_journal(path) as journal:
        (notice,) = journal.take_notices()
        assert notice.kind == "mirror-set-aside"
    (kept,) = path.parent.glob("journal.kept-*.jsonl")
    assert kept.read_bytes() == content
    assert str(kept) in notice.sentence
    assert verify(path).ok


def test_a_lost_database_is_built_again_from_the_mirror(path: Path) -> None:
    """With only the mirror left, opening the journal brings everything back and says so."""
    for leftover in (None, b""):
        path.unlink()
        if leftover is not None:
            path.write_bytes(leftover)
        with open_journal(path) as journal:
            (notice,) = journal.take_notices()
            assert notice.kind == "database-rebuilt"
            assert texts(journal, LITTER) == ["note 1", "note 2", "note 3"]
        assert verify(path).ok
    assert not list(path.parent.glob("*.new-*"))


def test_a_lost_database_and_a_damaged_mirror(path: Path) -> None:
    """What the damaged mirror can still prove comes back; the rest is noted, and kept aside."""
    lines = mirror_of(path).read_bytes().splitlines(keepends=True)
    lines[2] = lines[2].replace(b"note 2", b"note X")
    mirror_of(path).write_bytes(b"".join(lines))
    path.unlink()
    with open_journal(path) as journal:
        kinds = [notice.kind for notice in journal.take_notices()]
        assert kinds == ["database-rebuilt", "mirror-set-aside"]
        entries = journal.entries(LITTER)
    assert [entry.text for entry in entries] == ["note 1", "", "note 3"]
    assert "note X" in entries[1].what.model_dump()["words"]
    assert verify(path).ok


def test_a_leftover_journal_file_does_not_spoil_a_new_database(path: Path) -> None:
    """A side file of a database that is gone is kept aside, not played into the new one."""
    path.unlink()
    side = path.with_name("journal.db-journal")
    side.write_bytes(b"\xd9\xd5\x05\xf9\x20\xa1\x63\xd7" + b"\0" * 600)
    assert {one.kind for one in verify(path).findings} == {"database-missing", "orphan-journal"}
    with open_journal(path) as journal:
        assert len(journal.entries(LITTER)) == 3
    assert not side.exists()
    assert len(list(path.parent.glob("journal.kept-*.db-journal"))) == 1


def test_a_long_mirror_is_caught_up_in_pieces(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:  # fmt: skip
    """However much the mirror lacks, it is written without holding all of it at once."""
    monkeypatch.setattr(mirrors, "_BATCH", 1000)
    with open_journal(path) as journal:
        journal.record_many(LITTER, [note("x" * 3000) for _ in range(20)], recorded=NOW)
    assert verify(path).ok
    lines = mirror_of(path).read_bytes().splitlines()
    head = mirrors.read_head(mirror_of(path))
    assert head is not None
    assert head.record == from_line(lines[-1])


def test_lines_that_are_no_lines(path: Path) -> None:
    """What only looks like a line of a mirror is not taken for one."""
    line = mirror_of(path).read_bytes().splitlines()[1]
    assert from_line(line) is not None
    for wrong in (
        line.replace(b'"schema":1', b'"schema":2'),
        line.replace(b'"entry":', b'"opened":'),
        line.replace(b'"number":1', b'"number":01'),
        line[:-2],
        b"\xff" + line,
        b"",
    ):
        assert from_line(wrong) is None
