import os
from pathlib import Path

import pytest

from boxlamp.desk.handing_out import hand_out
from boxlamp.desk.session import UsageError

OURS = b"ours: 1"


def is_ours(content: bytes) -> bool:
    return content.startswith(b"ours")


def test_a_new_file_is_private_and_whole(tmp_path: Path) -> None:
    """Only its owner may read it, whatever the umask."""
    old = os.umask(0)
    try:
        hand_out(str(tmp_path / "a"), OURS, may_replace=is_ours)
    finally:
        os.umask(old)

    assert (tmp_path / "a").read_bytes() == OURS
    assert (tmp_path / "a").stat().st_mode & 0o777 == 0o600


def test_one_of_ours_is_replaced_in_one_step(tmp_path: Path) -> None:
    """By name or through a link, which stays a link; nothing is left beside it."""
    path, link = tmp_path / "a", tmp_path / "link"
    hand_out(str(path), OURS, may_replace=is_ours)
    link.symlink_to(path)
    hand_out(str(link), b"ours: 2", may_replace=is_ours)

    assert path.read_bytes() == b"ours: 2"
    assert link.is_symlink()
    assert sorted(each.name for each in tmp_path.iterdir()) == ["a", "link"]


@pytest.mark.parametrize("content", [b"", b"theirs"])
def test_any_other_stays_as_it_is(tmp_path: Path, content: bytes) -> None:
    """With a sentence that names it."""
    path = tmp_path / "a"
    path.write_bytes(content)
    with pytest.raises(UsageError, match="was not written by this command"):
        hand_out(str(path), OURS, may_replace=is_ours)

    assert path.read_bytes() == content


def test_a_device_or_a_folder_is_not_touched(tmp_path: Path) -> None:
    """Only a plain file is ever read or replaced."""
    for path in (tmp_path, Path("/dev/null")):
        with pytest.raises(UsageError):
            hand_out(str(path), OURS, may_replace=lambda _content: True)


@pytest.mark.parametrize("name", ["no/such/folder/a", "\0", "a" * 300])
def test_what_cannot_be_written_is_a_sentence(tmp_path: Path, name: str) -> None:
    """A missing folder, a name that is none, a name too long."""
    with pytest.raises(UsageError, match="cannot be written"):
        hand_out(str(tmp_path / name), OURS, may_replace=is_ours)

    assert not list(tmp_path.iterdir())


def test_a_full_disk_leaves_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The old one is whole, and nothing half-written lies beside it."""
    path = tmp_path / "a"
    hand_out(str(path), OURS, may_replace=is_ours)

    def full(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(UsageError, match="No space left"):
        hand_out(str(path), b"ours: 2", may_replace=is_ours)

    assert path.read_bytes() == OURS
    assert [each.name for each in tmp_path.iterdir()] == ["a"]


@pytest.mark.parametrize("file", ["~nobody-of-this-name/night.pdf", "/no/such/folder/night.pdf"])
def test_why_a_file_cannot_be_written_is_one_sentence(file: str) -> None:
    """Whoever found the reason may have ended it with a stop."""
    with pytest.raises(UsageError, match=r"cannot be written: [^.]+\.\Z"):
        hand_out(file, b"new", may_replace=lambda _found: True)
