import os
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest

from boxlamp.desk import session
from boxlamp.journal import open_journal
from boxlamp.model.happenings import Birth
from support.calls import PROGRAM, Caller, started, surroundings

WORDS = [("board",), ("check",), ("log", "pup"), ("litters",), ("new", "--dam", "Ash"),
         ("export",), ("attend",), ("protocol", "show")]  # fmt: skip


def test_a_journal_that_is_a_folder(call: Caller) -> None:
    """A folder where the file should be: one sentence, exit code 2."""
    call.journal.mkdir(parents=True)
    for words in WORDS[:-2]:
        said = call(*words)
        assert (said.code, said.out) == (2, "")
        assert said.err.startswith("boxlamp: ")
        assert said.err.count("\n") == 1


def test_a_journal_below_a_file(call: Caller) -> None:
    """A file where the folder should be: one sentence that names it, and the file unharmed."""
    call.journal.parent.write_text("mine", encoding="utf-8")
    said = call("new", "--dam", "Ash")

    assert (said.code, said.out) == (2, "")
    assert str(call.journal) in said.err
    assert call.journal.parent.read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize("content", [b"junk", b"SQLite format 3\0" + b"\xff" * 5000])
def test_a_file_that_is_no_journal_is_left_alone(call: Caller, content: bytes) -> None:
    """One sentence, exit code 2, no traceback; the file stays byte for byte."""
    call.journal.parent.mkdir()
    call.journal.write_bytes(content)
    for words in (*WORDS[:-2], ("verify",), ("backup", call.journal.with_name("copy.db"))):
        said = call(*words)
        assert said.code in ({1, 2} if words == ("verify",) else {2})
        assert "Traceback" not in said.out + said.err
    assert call.journal.read_bytes() == content


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="root may write anywhere")
def test_a_folder_that_may_not_be_written(call: Caller) -> None:
    """A read-only folder: the sentence says what to do."""
    call.journal.parent.mkdir(mode=0o500)
    said = call("new", "--dam", "Ash")

    assert said.code == 2
    assert "cannot be written" in said.err


def crash(*_args: object) -> None:
    raise ZeroDivisionError("a fault in the program")


def test_a_fault_in_the_program_is_written_down(
    bramble: Caller, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The person gets sentences and the name of a private file with the traceback; exit code 2."""
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    monkeypatch.setattr(session, "assess", crash)
    said = bramble("check")

    [report] = tmp_path.glob("boxlamp-*.txt")
    assert (said.code, said.out) == (2, "")
    assert str(report) in said.err
    assert "Traceback" not in said.err
    assert "ring the vet when in doubt" in said.err
    assert "ZeroDivisionError: a fault in the program" in report.read_text(encoding="utf-8")
    assert report.stat().st_mode & 0o777 == 0o600


def test_a_fault_while_logging_keeps_the_line(
    bramble: Caller, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """When the rules fail to answer, what was typed is in the journal all the same."""
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    with monkeypatch.context() as patch:
        patch.setattr(session, "assess", crash)
        assert bramble("log", "pup", "dog", "312g").code == 2
    with open_journal(bramble.journal) as journal:
        assert [e.text for e in journal.entries("bramble-2026-03-02")][2:] == ["pup dog 312g"]


def test_a_report_that_cannot_be_written(
    bramble: Caller, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With no room for the report the sentence says how to see the fault."""
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "nowhere"))
    monkeypatch.setattr(session, "assess", crash)

    assert "run again with --debug" in bramble("check").err


@pytest.mark.parametrize("words", [("--debug", "check"), ("check", "--debug")])
def test_debug_shows_the_fault(
    bramble: Caller, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...]
) -> None:
    """With --debug, before or after the command, the exception itself comes out."""
    monkeypatch.setattr(session, "assess", crash)
    with pytest.raises(ZeroDivisionError):
        bramble(*words)


def test_the_program_runs_as_installed(call: Caller) -> None:
    """Open, write, look, check: the installed program, one process per line."""
    home = call.journal
    assert started("new", "--dam", "Bramble", journal=home).returncode == 0
    assert started("log", "-5m", "pup", "m", "312g", journal=home).returncode == 0
    assert b"312g" in started("board", journal=home).stdout
    assert started("check", journal=home).returncode == 0
    assert started("log", "dam", "collapsed", journal=home).returncode == 0
    assert started("check", journal=home).returncode == 1
    assert started("nonsense", journal=home).returncode == 2
    assert home.stat().st_mode & 0o777 == 0o600
    assert home.parent.stat().st_mode & 0o777 == 0o700


def test_the_usual_place_of_the_journal(call: Caller, tmp_path: Path) -> None:
    """Without BOXLAMP_JOURNAL it lies in the person's own data folder."""
    env = surroundings(call.journal, HOME=str(tmp_path), XDG_DATA_HOME=str(tmp_path / "data"))
    del env["BOXLAMP_JOURNAL"]
    subprocess.run([PROGRAM, "new", "--dam", "Ash"], env=env, check=True, capture_output=True)

    if sys.platform == "linux":
        assert (tmp_path / "data" / "boxlamp" / "journal.db").is_file()
    else:
        assert list(tmp_path.rglob("journal.db"))


def test_two_processes_at_once_lose_nothing(call: Caller) -> None:
    """Lines written at the same time from several terminals get numbers of their own."""
    started("new", "--dam", "Bramble", journal=call.journal)
    running = [
        subprocess.Popen(
            [PROGRAM, "log", "pup", "--yes"],
            env=surroundings(call.journal),
            stdout=subprocess.PIPE,
        )
        for _ in range(4)
    ]
    for program in running:
        program.communicate(timeout=60)
        assert program.returncode == 0

    with open_journal(call.journal) as journal:
        [litter] = journal.litters()
        births = [entry.what for entry in journal.entries(litter.slug)[1:]]
    assert sorted(what.pup for what in births if isinstance(what, Birth)) == [1, 2, 3, 4]


def test_one_birth_from_several_terminals_at_once_is_one_pup(call: Caller) -> None:
    """Whichever line comes first is the birth; each of the others is asked about."""
    started("new", "--dam", "Bramble", journal=call.journal)
    running = [
        subprocess.Popen(
            [PROGRAM, "log", *words],
            env=surroundings(call.journal),
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
        )
        for words in (("pup", "300"), ("pup", "300g", "girl"))
    ]
    said = [program.communicate(timeout=60) for program in running]

    assert sorted(program.returncode for program in running) == [0, 2]
    assert (
        sum(
            b"Is this another pup (then Enter, or --yes), or pup 1 again?" in err
            for _out, err in said
        )
        == 1
    )
    with open_journal(call.journal) as journal:
        [litter] = journal.litters()
        assert len(journal.entries(litter.slug)) == 2
