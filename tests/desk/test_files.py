import io
import sys
from pathlib import Path

import pytest

from boxlamp.desk import files
from boxlamp.desk.files import read_record
from boxlamp.desk.session import UsageError
from boxlamp.journal import JournalError
from boxlamp.journal.exchange import export_jsonl
from boxlamp.language import NightError, write_night
from support.boxes import seated
from support.nights import DEMO

NIGHT = """dam: Ash
zone: America/New_York
date: 2026-03-01
mated: 2025-12-28

22:30 contraction strong
00:10 pup
"""


def test_a_night_log_is_told_from_a_record(tmp_path: Path) -> None:
    """By how the file begins, whatever it is called."""
    night, record = tmp_path / "a.jsonl", tmp_path / "b.night"
    with seated(tmp_path / "journal.db") as here:
        record.write_text("\n".join(export_jsonl(here.journal, here.litter)), encoding="utf-8")
        night.write_text("\ufeff" + write_night(here.entries), encoding="utf-8")
        entries = here.entries

    for path in (night, record):
        found = read_record(str(path))
        assert (found.slug, found.name) == ("ash-2026-03-02", "Ash")
        assert found.entries == entries
        assert found.opened == entries[0].recorded


def test_a_night_is_named_after_its_evening(tmp_path: Path) -> None:
    """The litter's id carries the dam's name and the local day of the night, not of the mating."""
    path = tmp_path / "x.night"
    path.write_text(NIGHT, encoding="utf-8")
    found = read_record(str(path))

    assert (found.slug, found.name) == ("ash-2026-03-01", "Ash")
    assert {entry.litter for entry in found.entries} == {"ash-2026-03-01"}


def test_a_night_without_a_dam_is_named_after_the_file(tmp_path: Path) -> None:
    """There is always a name."""
    path = tmp_path / "Last Spring.night"
    path.write_text("date: 2026-03-02\n\n02:00 pup\n", encoding="utf-8")

    assert read_record(str(path)).slug == "last-spring-2026-03-02"


def test_the_promises_of_a_file_come_with_it() -> None:
    """Expected alerts are read beside the entries."""
    assert len(read_record(str(DEMO / "pup-stuck.night")).expected) >= 10


def test_standard_input(monkeypatch: pytest.MonkeyPatch) -> None:
    """`-` reads the pipe."""
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(NIGHT.encode())))

    assert read_record("-").name == "Ash"


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "there is no entry in it"),
        (b"dam: Ash\n", "there is no entry in it|date"),
        (b"\xff\xfe\x00\x01", "not a text file"),
        (b"\x7fELF\x02\x01\x01\x00", "junk:"),
        (b"{}", "header"),
        (b'{"boxlamp": "litter"', "header"),
        (b"[1, 2]", "junk:"),
        (b"\x00" * 9, "junk:"),
    ],
)
def test_junk_is_refused_in_a_sentence(tmp_path: Path, content: bytes, said: str) -> None:
    """The sentence begins with the file's name and carries an exit code."""
    path = tmp_path / "junk"
    path.write_bytes(content)
    with pytest.raises((UsageError, JournalError, NightError), match=said) as refused:
        read_record(str(path))

    assert str(refused.value).startswith(str(path))
    assert getattr(refused.value, "exit_code", None) == 2
    assert str(refused.value).isprintable() or "\n" in str(refused.value)


def test_a_file_too_large_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """No more than the limit is ever read."""
    monkeypatch.setattr(files, "MAX_BYTES", 1024 * 1024)
    path = tmp_path / "large.night"
    path.write_bytes(b"#" * (1024 * 1024 + 1))
    with pytest.raises(UsageError, match=r"large\.night is larger than 1 MB"):
        read_record(str(path))


@pytest.mark.parametrize(("name", "why"), [("nowhere", "There is no file"), (".", "is no file to")])
def test_a_file_that_is_not_there(tmp_path: Path, name: str, why: str) -> None:
    """A missing file and a folder are refused by name."""
    with pytest.raises(UsageError, match=why):
        read_record(str(tmp_path / name))


def test_a_shipped_night_is_read_by_its_name(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where there is no such file; a file of that name comes first."""
    monkeypatch.chdir(tmp_path)
    assert read_record("pup-stuck") == read_record(str(DEMO / "pup-stuck.night"))
    Path("pup-stuck").write_text(NIGHT, encoding="utf-8")
    assert read_record("pup-stuck").name == "Ash"
