"""Completion: what is offered, and the shells themselves pressing Tab."""

import hashlib
import os
import shutil
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pexpect
import pytest

from boxlamp.cli.catalogue import COMMANDS
from boxlamp.cli.completing import answer, offers
from boxlamp.cli.tree import pages
from boxlamp.language import VOCABULARY
from boxlamp.rules.registry import BY_ID
from support.calls import PROGRAM, Caller, surroundings


def offered(*words: str) -> list[str]:
    """The words that may stand for the last one."""
    return [offer.word for offer in offers(words)]


def test_every_command_is_offered() -> None:
    """With nothing typed, all of them, each once; a family once."""
    assert offered("") == [command.name for command in COMMANDS]


@pytest.mark.parametrize("page", list(pages()), ids=lambda page: page.words)
def test_every_option_of_a_command_is_offered(page) -> None:  # type: ignore[no-untyped-def] # noqa: ANN001
    """Each option by its beginning, none that the command does not have."""
    told = offered(*page.words.split(), "--")
    long = [name for option in page.options for name in option.names if name.startswith("--")]

    assert sorted(told) == sorted([*long, "--help"])


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (("bo",), ["board"]),
        (("--json", "che"), ["check"]),
        (("--journal", "x.db", "che"), ["check"]),
        (("protocol", "c"), ["check"]),
        (("rules", "contraction"), ["contraction-no-pup"]),
        (("words", "aft"), ["afterbirth"]),
        (("kit", "tow"), ["towels"]),
        (("log", "pus"), []),
        (("log", "after"), ["afterbirth"]),
        (("log", "02:14", "after"), ["afterbirth"]),
        (("log", "pup", "dog", "af"), []),
        (("log", "ack", "part-"), ["part-showing"]),
        (("log", "--by", "Jana", "after"), ["afterbirth"]),
        (("summary", "--form", "m"), ["md"]),
        (("summary", "--form=m"), ["--form=md"]),
        (("board", "--clock"), []),
        (("call-sheet", "--clock", ""), ["24h", "12h"]),
        (("export", "-o", ""), [":file"]),
        (("backup", ""), [":file"]),
        (("replay", "pup-s"), ["pup-stuck", ":file"]),
        (("imagine", "--trouble", "long"), ["long-gap"]),
        (("new", "--dam", ""), []),
        (("completion", "z"), ["zsh"]),
        (("check", "--", "--"), []),
        (("wish", ""), []),
    ],
)
def test_what_fits_is_offered(words: tuple[str, ...], expected: list[str]) -> None:
    """Words, rules, kit, nights, choices, files: where each may stand, and nowhere else."""
    assert offered(*words) == expected


def test_every_rule_and_word_is_offered() -> None:
    """The table knows all of them."""
    assert offered("rules", "") == list(BY_ID)
    assert offered("log", "") == [word.word for word in VOCABULARY]


def test_litters_are_offered_and_nothing_is_written(bramble: Caller) -> None:
    """The names of the journal's litters, the newest first; the folder stays byte for byte."""
    bramble.good("new", "--dam", "Ash")
    before = folder(bramble.journal.parent)
    assert offered("board", "--litter", "") == ["ash-2026-03-02", "bramble-2026-03-02"]
    assert offered("litters", "--use", "br") == ["bramble-2026-03-02"]
    assert offered("check", "--litter=a") == ["--litter=ash-2026-03-02"]
    other = str(bramble.journal.with_name("none.db"))
    assert offered("--journal", other, "board", "--litter", "") == []
    assert folder(bramble.journal.parent) == before


def test_a_name_that_would_act_on_the_terminal_is_not_offered(tmp_path: Path) -> None:
    """Even a journal that somebody tampered with sends no control code to the shell."""
    path = tmp_path / "j.db"
    with closing(sqlite3.connect(path)) as journal:
        journal.execute("CREATE TABLE record (seq INTEGER, litter TEXT, number INTEGER)")
        journal.executemany("INSERT INTO record VALUES (?, ?, 0)", [(1, "ash"), (2, "\x1b[2Jx")])
        journal.commit()

    assert offered("board", "--journal", str(path), "--litter", "") == ["ash"]


@pytest.mark.parametrize("mode", ["delete", "wal"])
def test_nothing_is_laid_beside_the_journal(bramble: Caller, mode: str) -> None:
    """In whichever way the journal keeps its writes, Tab leaves no file behind."""
    with closing(sqlite3.connect(bramble.journal, isolation_level=None)) as journal:
        journal.execute(f"PRAGMA journal_mode = {mode}")
    before = folder(bramble.journal.parent)

    assert offered("board", "--litter", "") == ["bramble-2026-03-02"]
    assert folder(bramble.journal.parent) == before


def test_a_file_that_is_no_journal_offers_nothing(bramble: Caller) -> None:
    """Whatever lies there, Tab is answered quietly."""
    bramble.journal.write_bytes(b"junk" * 1000)
    assert offered("board", "--litter", "") == []


def folder(path: Path) -> dict[str, str]:
    return {
        one.name: hashlib.sha256(one.read_bytes()).hexdigest() for one in path.iterdir()
    }  # fmt: skip


def test_bash_gets_the_rest_of_a_word() -> None:
    """Bash parts words at = and :, and wants only what comes behind; odd names are quoted."""
    assert answer(["bash", "boxlamp summary --form=m"]) == "md\n"
    assert answer(["bash", "boxlamp 'che"]) == "check\n"
    assert answer(["bash", "boxlamp "]).splitlines()[0] == "new"


def test_it_loads_nothing_heavy(tmp_path: Path) -> None:
    """Somebody waits with a finger on the key: neither typer nor the rules are loaded."""
    code = (
        "import sys; from boxlamp.cli import main; main(['__complete', 'fish', 'rules', 'con']); "
        "print(sorted({'typer', 'pydantic', 'rich', 'boxlamp.rules'} & set(sys.modules)))"
    )
    said = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True,
        env=surroundings(tmp_path / "j.db"),
    ).stdout.splitlines()  # fmt: skip

    assert said[0].startswith("contraction-no-pup\t")
    assert said[-1] == "[]"


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_the_script_is_printed_and_read_by_the_shell(
    call: Caller, tmp_path: Path, shell: str
) -> None:
    """`boxlamp completion SHELL` prints it; where the shell is there, it finds no fault in it."""
    script = tmp_path / "script"
    script.write_text(call.good("completion", shell), encoding="utf-8")

    if program := shutil.which(shell):
        subprocess.run([program, "-n", script], check=True, capture_output=True)


def test_another_shell_is_refused(call: Caller) -> None:
    """A shell there is no script for is named beside those there are."""
    said = call("completion", "powershell")

    assert (said.code, said.out) == (2, "")
    assert "zsh" in said.err


SITTINGS = {
    "bash": ("bash", ["--norc", "--noprofile", "-i"], "source {script}"),
    "zsh": ("zsh", ["-f", "-i"], "autoload -U compinit; compinit -u -D; source {script}"),
    "fish": ("fish", ["--no-config", "-i"], "source {script}"),
}
TYPED = [
    ("boxlamp rules contraction-n", "boxlamp rules contraction-no-pup"),
    ("boxlamp log 02:14 afterb", "boxlamp log 02:14 afterbirth"),
    ("boxlamp summary --form=p", "boxlamp summary --form=pdf"),
    ("boxlamp board --litter bram", "boxlamp board --litter bramble-2026-03-02"),
    ("boxlamp import night-o", "boxlamp import night-of-mine.night"),
]


@pytest.mark.parametrize("name", SITTINGS)
def test_the_shell_completes_at_tab(bramble: Caller, tmp_path: Path, name: str) -> None:
    """In a real terminal: half a rule, word, choice, litter or file, then Tab, and it is whole."""
    program, words, begin = SITTINGS[name]
    if shutil.which(program) is None:
        pytest.skip(f"{program} is not on this machine")
    (tmp_path / "night-of-mine.night").write_text("", encoding="utf-8")
    script = tmp_path / "script"
    script.write_text(bramble.good("completion", name), encoding="utf-8")
    path = f"{PROGRAM.parent}{os.pathsep}{os.environ['PATH']}"
    env = surroundings(bramble.journal, PATH=path, HOME=str(tmp_path), TERM="dumb", PS1="$ ",
                       fish_greeting="")  # fmt: skip
    child = pexpect.spawn(
        program, words, env=env, encoding="utf-8", timeout=20, dimensions=(24, 200),
        cwd=tmp_path,
    )  # fmt: skip
    child.delaybeforesend = 0.1
    try:
        child.sendline(begin.format(script=script))
        child.sendline("echo rea''dy")
        child.expect("\r\nready")
        for half, whole in TYPED:
            # The line is not run: `echo` in front of it says what it has become.
            child.send(f"{half}\t")
            child.expect(completed(half, whole))
            child.sendcontrol("u")
    finally:
        child.close(force=True)


def completed(half: str, whole: str) -> str:
    """What a terminal shows once the rest has been put behind what was typed."""
    import re

    return re.escape(whole.removeprefix(half))
