"""Disks that are full, read-only or not ours, and how private the files are."""

import os
import resource
import subprocess
import tempfile
from collections.abc import Callable, Iterator
from contextlib import suppress
from multiprocessing.connection import Connection
from pathlib import Path

import pytest

from boxlamp.journal import Journal, open_journal
from boxlamp.journal.errors import DiskError, DiskFullError, JournalError, NotWritableError
from boxlamp.journal.paths import default_path, keep_copy, private_folder
from boxlamp.journal.verify import verify
from support.journals import CHILDREN, NOW, filled, later, note, small_disk, texts

NOBODY = 65534
LITTER = "bramble-2026-03-02"


def fill(journal: Journal, litter: str, told: Callable[[str], object]) -> None:
    """Record entries until something stops it, telling each that is acknowledged."""
    for turn in range(1000):
        text = f"{turn} " + "x" * 500
        journal.record(litter, note(text), recorded=later(turn))
        told(text)


def test_a_full_disk_says_so_and_loses_nothing(tmp_path: Path) -> None:
    """When the disk fills up the entry is refused aloud, and all before it are there."""
    with small_disk(tmp_path / "disk", "192k") as disk:
        path = disk / "journal.db"
        ballast = disk / "ballast"
        ballast.write_bytes(b"x" * 40_000)
        with open_journal(path) as journal:
            litter = journal.open_litter("Bramble", opened=NOW)
            known: list[str] = []
            with pytest.raises(DiskFullError, match="full"):
                fill(journal, litter, known.append)
            assert texts(journal, litter) == known
            ballast.unlink()
            journal.record(litter, note("room again"), recorded=later(2000))
        with open_journal(path) as journal:
            assert texts(journal, litter) == [*known, "room again"]
        assert verify(path).ok


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no /dev/full")
def test_a_full_disk_under_the_mirror(tmp_path: Path) -> None:
    """When only the mirror's disk is full the entry is kept and the person told; later it heals."""
    path, mirror = tmp_path / "journal.db", tmp_path / "journal.jsonl"
    filled(path)
    away = mirror.rename(tmp_path / "away")
    mirror.symlink_to("/dev/full")
    with open_journal(path) as journal:
        journal.take_notices()
        assert journal.record(LITTER, note("fourth"), recorded=later(4)).id == 4
        (notice,) = journal.take_notices()
        assert (notice.kind, "full" in notice.sentence) == ("mirror-behind", True)
        mirror.unlink()
        away.rename(mirror)
        journal.record(LITTER, note("fifth"), recorded=later(5))
        assert journal.take_notices() == ()
    assert verify(path).ok


def test_no_room_for_a_new_journal(tmp_path: Path) -> None:
    """On a disk without any room a new journal is refused in a sentence, and works later."""
    with small_disk(tmp_path / "disk", "64k") as disk:
        ballast = disk / "ballast"
        with ballast.open("wb", buffering=0) as file, suppress(OSError):
            while True:
                file.write(b"x" * 4096)
        with pytest.raises(DiskFullError):
            open_journal(disk / "journal.db")
        ballast.unlink()
        filled(disk / "journal.db")
        assert verify(disk / "journal.db").ok


def limited(path: Path, told: Connection) -> None:
    """In a child: write until no file may grow any more."""
    resource.setrlimit(resource.RLIMIT_FSIZE, (60_000, 60_000))
    with open_journal(path) as journal:
        try:
            fill(journal, LITTER, told.send)
        except DiskError as error:
            told.send(error.sentence)
    told.send(None)


def test_a_file_that_may_not_grow(tmp_path: Path) -> None:
    """When the system forbids a file to grow, what was acknowledged is kept and goes on later."""
    path = tmp_path / "journal.db"
    with open_journal(path) as journal:
        journal.open_litter("Bramble", opened=NOW)
    hear, tell = CHILDREN.Pipe(duplex=False)
    child = CHILDREN.Process(target=limited, args=(path, tell))
    child.start()
    told = list(iter(hear.recv, None))
    child.join()
    assert child.exitcode == 0
    assert "journal.db" in told.pop()
    with open_journal(path) as journal:
        assert texts(journal, LITTER) == told
        journal.record(LITTER, note("goes on"), recorded=later(2000))
    assert verify(path).ok


def as_nobody(path: Path, told: Connection) -> None:
    """In a child: read the journal and try to write it, without the rights of root."""
    if os.geteuid() == 0:
        os.setgid(NOBODY)
        os.setuid(NOBODY)
    try:
        with open_journal(path) as journal:
            told.send(len(journal.entries(LITTER)))
            journal.record(LITTER, note(), recorded=NOW)
    except JournalError as error:
        told.send(type(error))
    told.send(None)


@pytest.fixture
def open_folder() -> Iterator[Path]:
    """A folder that other users may enter."""
    with tempfile.TemporaryDirectory() as name:
        Path(name).chmod(0o755)
        yield Path(name)
        Path(name).chmod(0o755)


@pytest.mark.parametrize(
    ("folder", "file", "expected"),
    [
        (0o555, 0o444, [3, NotWritableError]),
        (0o555, 0o666, [3, NotWritableError]),
        (0o777, 0o444, [3, NotWritableError]),
        (0o555, 0o000, [NotWritableError]),
        (0o000, 0o666, [NotWritableError]),
    ],
)
def test_without_permission_it_reads_and_says_why_it_cannot_write(
    open_folder: Path, folder: int, file: int, expected: list[object]
) -> None:
    """In a folder or a file that may not be written the record is still read, never changed."""
    path = open_folder / "journal.db"
    filled(path)
    for name in (path, path.with_suffix(".jsonl")):
        name.chmod(file)
    before = path.read_bytes()
    open_folder.chmod(folder)
    hear, tell = CHILDREN.Pipe(duplex=False)
    child = CHILDREN.Process(target=as_nobody, args=(path, tell))
    child.start()
    told = list(iter(hear.recv, None))
    child.join()
    assert told == expected
    open_folder.chmod(0o755)
    assert path.read_bytes() == before


def test_a_read_only_disk(tmp_path: Path) -> None:
    """On a disk that is mounted read-only the record is read and writing is refused aloud."""
    with small_disk(tmp_path / "disk", "1m") as disk:
        path = disk / "journal.db"
        filled(path)
        path.with_suffix(".jsonl").unlink()
        subprocess.run(["mount", "-o", "remount,ro", str(disk)], check=True)
        with open_journal(path) as journal:
            assert [one.kind for one in journal.take_notices()] == ["mirror-behind"]
            assert len(journal.entries(LITTER)) == 3
            with pytest.raises(NotWritableError, match="read-only"):
                journal.record(LITTER, note(), recorded=NOW)
        with pytest.raises(NotWritableError):
            open_journal(disk / "other.db")
        assert [one.kind for one in verify(path).findings] == ["mirror-missing"]


@pytest.mark.parametrize("mask", [0o000, 0o022, 0o077, 0o777])
def test_files_are_private_whatever_the_mask(tmp_path: Path, mask: int) -> None:
    """New folders and files are for this user alone, from their first moment."""
    before = os.umask(mask)
    try:
        path = tmp_path / "deep" / "er" / "journal.db"
        filled(path)
    finally:
        os.umask(before)
    modes = {file.name: file.stat().st_mode & 0o777 for file in tmp_path.rglob("*")}
    assert modes == {"deep": 0o700, "er": 0o700, "journal.db": 0o600, "journal.jsonl": 0o600}


def test_folders_that_are_there_keep_their_rights(tmp_path: Path) -> None:
    """A folder somebody already has is left as it is."""
    tmp_path.chmod(0o755)
    filled(tmp_path / "journal.db")
    assert tmp_path.stat().st_mode & 0o777 == 0o755


def test_a_file_where_a_folder_should_be(tmp_path: Path) -> None:
    """A path through a file is refused in a sentence."""
    (tmp_path / "file").write_text("mine")
    with pytest.raises(JournalError, match="journal"):
        open_journal(tmp_path / "file" / "journal.db")
    with pytest.raises(JournalError, match="journal"):
        open_journal(tmp_path / "file" / "deeper" / "journal.db")
    with pytest.raises(FileExistsError):
        private_folder(tmp_path / "file")


def test_a_disk_without_hard_links(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """On a disk that knows no hard links the same promises are kept another way."""

    def refuses(*_: object) -> None:
        raise PermissionError

    monkeypatch.setattr(os, "link", refuses)
    old = tmp_path / "old"
    old.write_bytes(b"old" * 1_000_000)
    keep_copy(old, tmp_path / "kept")
    assert (tmp_path / "kept").read_bytes() == old.read_bytes()


def test_the_usual_place(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Without further wishes the journal lies in the user's data folder."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    monkeypatch.setenv("LOCALAPPDATA", str(tmp_path))
    place = default_path()
    assert place.name == "journal.db"
    assert place.parent.name == "boxlamp"
