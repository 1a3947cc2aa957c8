"""A real disk that is really full: the command, the console, and every file that is handed out."""

from pathlib import Path

import pytest

from boxlamp.journal import open_journal
from boxlamp.journal.verify import verify
from support.calls import Caller, started
from support.effort import effort
from support.journals import NOW, small_disk
from support.terminal import terminal

LINES = effort(2, nightly=40)


def _fill(ballast: Path, leave: int) -> None:
    """Leave so many bytes free."""
    with ballast.open("ab", buffering=0) as file:
        try:
            while True:
                file.write(b"x" * 4096)
        except OSError:
            file.truncate(max(0, file.tell() - leave))


def typed(path: Path) -> list[str]:
    """The lines in the journal."""
    with open_journal(path) as journal:
        (row,) = journal.litters()
        return [entry.text for entry in journal.entries(row.slug)]


@pytest.mark.parametrize("leave", [0, 12_288] if LINES < 9 else range(0, 40_960, 4096))
def test_the_command_on_a_full_disk(tmp_path: Path, leave: int) -> None:
    """What was echoed is kept, what was not is refused in a sentence, and all goes on with room."""
    with small_disk(tmp_path / "disk", "400k") as disk:
        path, ballast = disk / "journal.db", disk / "ballast"
        with open_journal(path) as journal:
            journal.open_litter("Bramble", opened=NOW)
        _fill(ballast, leave)
        echoed: list[str] = []
        for turn in range(LINES):
            line = f"note {turn} {'x' * 1500}"
            done = started("log", line, journal=path)
            if done.returncode == 0:
                echoed.append(line)
            else:
                assert done.returncode == 2, done
                assert b"full" in done.stderr
                assert b"Traceback" not in done.stderr
        assert typed(path) == echoed
        ballast.unlink()
        assert started("log", "rest", journal=path).returncode == 0
        assert typed(path) == [*echoed, "rest"]
        assert verify(path).ok


def test_no_file_is_left_half_on_a_full_disk(tmp_path: Path, call: Caller) -> None:
    """A summary, an export, a calendar, a sheet, a backup: refused aloud, and no piece is left."""
    call.good("new", "--dam", "Ash", "--no-input", "--mated", "2026-01-01")
    call.good("log", "push")
    with small_disk(tmp_path / "disk", "64k") as disk:
        _fill(disk / "ballast", 0)
        for words in (
            ("summary", "-o", disk / "a.pdf"), ("summary", "-o", disk / "a.html"),
            ("export", "-o", disk / "a.jsonl"), ("due", "--ics", disk / "a.ics"),
            ("blank-sheet", "-o", disk / "b.pdf"), ("backup", disk),
            ("imagine", "--seed", "1", "-o", disk / "a.night"),
        ):  # fmt: skip
            said = call(*words)
            assert said.code == 2, (words, said)
            assert "No space left" in said.err or "full" in said.err, (words, said)
            assert "the program has failed" not in said.err, (words, said)
            assert [one.name for one in disk.iterdir()] == ["ballast"], words


def test_the_console_on_a_full_disk(tmp_path: Path) -> None:
    """The line stays in the input with the reason; with room again Enter writes it down."""
    with small_disk(tmp_path / "disk", "400k") as disk:
        path, ballast = disk / "journal.db", disk / "ballast"
        with open_journal(path) as journal:
            journal.open_litter("Bramble", opened=NOW)
        with terminal(path, "attend") as console:
            console.wait("F10 leave")
            console.line("push")
            _fill(ballast, 0)
            console.type("pup dog 312g")
            console.press("enter")
            console.wait("The disk is full")
            assert console.prompt == "pup dog 312g"
            ballast.unlink()
            console.press("enter")
            console.until(lambda: console.prompt == "", "the line to be taken")
        assert typed(path) == ["push", "pup dog 312g"]
        assert verify(path).ok
