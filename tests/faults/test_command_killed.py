"""`boxlamp log` killed in the middle: what was echoed is recorded, and nothing else is harmed."""

import os
import random
import subprocess
import time
from collections import Counter
from multiprocessing.connection import Connection
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from boxlamp.journal import open_journal
from boxlamp.journal.verify import verify
from support.calls import PROGRAM, surroundings
from support.effort import NIGHTLY, effort
from support.fuzzing import in_memory
from support.journals import CHILDREN, NOW, texts
from support.syscalls import WRITING, follow, unavailable

KILLS = effort(3, nightly=200)
_STEPS = {number: name for number, name in WRITING.items() if name not in {"openat", "chmod"}}


class Kept:
    """A journal that is written to by commands that are killed, and what came of them."""

    def __init__(self, folder: Path) -> None:
        self.path = folder / "journal.db"
        with open_journal(self.path) as journal:
            self.litter = journal.open_litter("Bramble", opened=NOW)
        self.known: list[str] = []
        self.kills = self.told = 0

    def look(self, text: str, echo: bytes) -> None:
        """After one command: an echo means an entry; no echo, at most one."""
        with open_journal(self.path) as journal:
            found = texts(journal, self.litter)
        told = text.encode() in echo
        self.kills += 1
        self.told += told
        assert found[: len(self.known)] == self.known
        assert found[len(self.known) :] in ([text], *([[]] if not told else []))
        report = verify(self.path)
        assert report.ok, report.findings
        self.known = found

    def __str__(self) -> str:
        return f"{self.kills} kills of the command, {self.told} had answered, none of these lost"


@pytest.fixture
def kept(tmp_path: Path) -> Kept:
    """A journal with an open litter."""
    return Kept(tmp_path)


def test_killed_at_random_what_was_echoed_is_recorded(kept: Kept) -> None:
    """Kill -9 at any moment of its short life."""
    chance = random.Random(20260302)  # noqa: S311 no secret, the same moments each time
    began = time.monotonic()
    with _logged(kept.path, "first") as child:
        child.communicate()
    whole = time.monotonic() - began
    kept.known = ["first"]
    for turn in range(KILLS):
        text = f"note turn {turn}."
        with _logged(kept.path, text) as child:
            time.sleep(whole * (0.5 + 0.7 * chance.random()))
            child.kill()
            echo = child.stdout.read() if child.stdout else b""
        kept.look(text, echo)
    print(f"at random: {kept}")  # noqa: T201 the figure of the nightly run


def _logged(path: Path, text: str) -> "subprocess.Popen[bytes]":
    return subprocess.Popen(
        [PROGRAM, "log", text], stdin=subprocess.DEVNULL, stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL, env=surroundings(path),
    )  # fmt: skip


def stopped_at_each(every: int, tell: Connection) -> None:
    """In a child without threads: the command stopped at each of its writing calls."""
    why = unavailable()
    if why:
        tell.send(why)
        return
    with TemporaryDirectory(dir=in_memory()) as folder:
        tell.send(_at_each(Kept(Path(folder)), every))


def _at_each(kept: Kept, every: int) -> tuple[str, Counter[str]]:
    calls = Counter[str]()
    for after in (False, True):
        for at in range(1, 200, every):
            text = f"note call {at}{' done' if after else ''}."
            hear, told = os.pipe()
            seen = follow(lambda: _become(kept.path, text, told), at, after=after, calls=_STEPS)  # noqa: B023 called here
            os.close(told)
            with os.fdopen(hear, "rb") as stream:
                echo = stream.read()
            kept.look(text, echo)
            if not seen.met:
                break
            calls[seen.call or ""] += 1
    return str(kept), calls


def _become(path: Path, text: str, told: int) -> None:
    os.dup2(told, 1)
    os.execve(PROGRAM, [str(PROGRAM), "log", text], surroundings(path))  # noqa: S606 the program


def test_killed_at_each_step_what_was_echoed_is_recorded() -> None:
    """Kill -9 before and after each call by which it writes, the echo among them."""
    hear, tell = CHILDREN.Pipe(duplex=False)
    child = CHILDREN.Process(target=stopped_at_each, args=(effort(31, nightly=1), tell))
    child.start()
    tell.close()
    told = hear.recv()
    child.join()
    if isinstance(told, str):
        pytest.skip(told)
    text, calls = told
    print(f"at each step: {text}; {dict(calls)}")  # noqa: T201 the figure of the nightly run
    assert calls.total() >= (40 if NIGHTLY else 2)
