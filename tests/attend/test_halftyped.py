from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boxlamp.attend.halftyped import HalfTyped


@pytest.fixture
def journal(tmp_path: Path) -> Path:
    """Where a journal would lie."""
    return tmp_path / "journal.db"


def files(journal: Path) -> list[str]:
    return sorted(path.name for path in journal.parent.iterdir())


def test_a_line_comes_back_at_the_next_start(journal: Path) -> None:
    """What stood in the input when the terminal went away."""
    HalfTyped(journal).save("pup dog 31")

    assert HalfTyped(journal).restore() == "pup dog 31"


def test_an_emptied_line_leaves_nothing(journal: Path) -> None:
    """No file is left behind once the line was written down."""
    half = HalfTyped(journal)
    half.save("pup")
    half.save("")

    assert files(journal) == []
    assert HalfTyped(journal).restore() == ""


def test_nothing_to_restore_is_nothing(journal: Path) -> None:
    """At the first start there is no file and none is made."""
    half = HalfTyped(journal)

    assert half.restore() == ""
    half.save("")
    assert files(journal) == []


def test_it_is_private(journal: Path) -> None:
    """Only its owner can read it."""
    HalfTyped(journal).save("pup")
    [name] = files(journal)

    assert (journal.parent / name).stat().st_mode & 0o777 == 0o600


def test_an_unchanged_line_is_not_written_again(journal: Path) -> None:
    """A second that changed nothing costs no write."""
    half = HalfTyped(journal)
    half.save("pup")
    [name] = files(journal)
    (journal.parent / name).unlink()
    half.save("pup")

    assert files(journal) == []


@pytest.mark.parametrize("content", [b"\xff\xfe", b"", b"a\nb\x00", b"x" * 100_000])
def test_a_spoilt_file_disturbs_nothing(journal: Path, content: bytes) -> None:
    """What comes back is one line of bearable length, or nothing."""
    HalfTyped(journal).save("x")
    [name] = files(journal)
    (journal.parent / name).write_bytes(content)
    line = HalfTyped(journal).restore()

    assert "\n" not in line
    assert len(line) <= 4000


def test_a_disk_that_cannot_be_written_disturbs_nothing(tmp_path: Path) -> None:
    """The night goes on without it."""
    half = HalfTyped(tmp_path / "nowhere" / "journal.db")
    half.save("pup")
    half.save("")

    assert half.restore() == ""


@given(st.text(max_size=60))
def test_any_text_can_be_saved(tmp_path_factory: pytest.TempPathFactory, text: str) -> None:
    """Spaces aside, whatever can be typed comes back, and nothing raises."""
    journal = tmp_path_factory.getbasetemp() / "any.db"
    HalfTyped(journal).save("something else")
    half = HalfTyped(journal)
    half.restore()
    half.save(text)

    restored = HalfTyped(journal).restore()
    assert restored == " ".join(text.encode("utf-8", "replace").decode().split())


def test_lone_surrogates_disturb_nothing(journal: Path) -> None:
    """A terminal that sends broken bytes cannot end the night."""
    HalfTyped(journal).save("pup \udcff")

    assert HalfTyped(journal).restore() == "pup ?"
