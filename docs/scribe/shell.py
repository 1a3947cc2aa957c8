"""A very small shell: enough for the lines of the documents, with the program in this process."""

import io
import os
import shlex
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import NamedTuple
from unittest.mock import patch
from zoneinfo import ZoneInfo

from boxlamp import outside
from boxlamp.cli import output
from boxlamp.cli.shell import run
from boxlamp.view.text import clean

OTHERS = frozenset({"cat", "cp", "grep", "head", "ls", "mkdir", "rm", "sqlite3", "tail", "wc"})
"""Programs besides our own that a page may use."""

BY_RULE = ("python3 -m venv", ".venv/bin/pip", "source .venv/bin/activate", ".venv/bin/python ")
"""Never run here: what sets the program up has been done, and what checks it is running this."""


class Told(NamedTuple):
    """What a line came back with: everything that a person would see, and its exit code."""

    text: str
    code: int


class NotForPagesError(Exception):
    """A page uses something that is not run here."""

    exit_code = 2


class _Screen(io.TextIOWrapper):
    """A terminal that cannot move its cursor, to look at or to type at."""

    def isatty(self) -> bool:
        """It is a terminal."""
        return True


class _Nobody(io.BytesIO):
    """Nobody's hands: what asks a question would ask it of the reader too."""

    def read1(self, _size: int | None = -1, /) -> bytes:
        """Nobody answers."""
        raise NotForPagesError("it asks a question here, and the page does not show it")


class Shell:
    """One session at a terminal of its own folder, at a clock that stands still."""

    def __init__(self, home: Path) -> None:
        self.home = home
        self.zone = "Europe/London"
        self.now = datetime(2026, 3, 2, 2, 15, tzinfo=ZoneInfo(self.zone))
        self.code = 0
        self.ran, self.by_rule = 0, 0
        self.watched = False
        """Whether somebody sits at it, so that what may ask, asks."""

    def set_clock(self, words: str) -> None:
        """Turn the clock: ``2026-03-02 02:15``, or a time of the same day."""
        day, _, at = words.rpartition(" ")
        day = day or self.now.date().isoformat()
        self.now = datetime.fromisoformat(f"{day} {at}").replace(tzinfo=ZoneInfo(self.zone))

    @contextmanager
    def at_home(self) -> Iterator[None]:
        """The folder, the environment and the clock of this session."""
        kept = {
            name: value for name, value in os.environ.items()
            if not name.startswith(("BOXLAMP_", "XDG_", "LINES", "NO_COLOR", "PYTHON"))
        }  # fmt: skip
        with patch.dict(os.environ, clear=True):
            os.environ.update(
                kept | {"HOME": str(self.home), "COLUMNS": "80", "TERM": "dumb", "LC_ALL": "C"}
            )
            before = Path.cwd()
            os.chdir(self.home)
            try:
                with (
                    patch.object(output, "clean", self._shown),
                    patch.object(outside, "now", self._now),
                    patch.object(outside, "local_zone", lambda: self.zone),
                ):
                    yield
            finally:
                os.chdir(before)

    def _shown(self, text: str) -> str:
        """A text as it is printed, with the folder that nobody else has called ``~``."""
        return clean(text).replace(str(self.home), "~")

    def _now(self) -> datetime:
        return self.now.astimezone(ZoneInfo("UTC"))

    def line(self, line: str) -> Told:
        """Run one line as it is typed."""
        seen = io.BytesIO()
        self.code = 0
        for joint, words in _chained(line):
            if joint == "&&" and self.code:
                break
            self._chain(words, seen)
        text = seen.getvalue().decode()
        return Told(text.replace(str(self.home), "~"), self.code)

    def _chain(self, words: list[str], seen: io.BytesIO) -> None:
        """One pipeline: each program gets what the one before it wrote."""
        if words == ["echo", "$?"]:
            seen.write(f"{self.code}\n".encode())
            self.code = 0
            return
        if " ".join(words).startswith(BY_RULE):
            self.by_rule += 1
            return
        if words[0] == "export":
            name, _, value = words[1].partition("=")
            os.environ[name] = value
            return
        passed = b""
        parts = list(_piped(words))
        for place, part in enumerate(parts):
            last = place + 1 == len(parts)
            out = seen if last and part.into is None else io.BytesIO()
            given = (self.home / part.source).read_bytes() if part.source else passed
            self.code = self._program(part.words, given, out, seen)
            passed = out.getvalue()
            if part.into is not None:
                target = self.home / part.into
                target.write_bytes((target.read_bytes() if part.adds else b"") + passed)

    def _program(self, words: list[str], given: bytes, out: io.BytesIO, seen: io.BytesIO) -> int:
        name = words[0].removeprefix(".venv/bin/")
        words = words[1:]
        self.ran += 1
        if name == "boxlamp":
            hands = self.watched and not given
            return _ours(words, None if hands else given, out, seen)
        if name not in OTHERS:
            raise NotForPagesError(f"{name}: say in the page why this is not run")
        ended = subprocess.run(  # noqa: S603 - one of a few harmless programs
            [name, *words], input=given, capture_output=True, check=False
        )
        out.write(ended.stdout)
        seen.write(ended.stderr)
        return ended.returncode


def _ours(words: list[str], given: bytes | None, out: io.BytesIO, seen: io.BytesIO) -> int:
    """The program itself, in this process."""
    streams = {
        "stdin": _Screen(_Nobody(), "utf-8")
        if given is None
        else io.TextIOWrapper(io.BytesIO(given), "utf-8"),
        "stdout": (_Screen if out is seen else io.TextIOWrapper)(out, "utf-8", write_through=True),
        "stderr": io.TextIOWrapper(seen, "utf-8", write_through=True),
    }
    kept = [(stream, getattr(sys, stream)) for stream in streams]
    try:
        for name, stream in streams.items():
            setattr(sys, name, stream)
        # A page that shows `--speed` is not waited for.
        with patch.object(time, "sleep", lambda _seconds: None):
            return run(words)
    except SystemExit as left:
        return left.code if isinstance(left.code, int) else 1
    finally:
        for name, stream in kept:
            setattr(sys, name, stream)
        for name in ("stdout", "stderr"):
            streams[name].flush()
            streams[name].detach()


class _Part(NamedTuple):
    words: list[str]
    source: str | None
    into: str | None
    adds: bool


def _tokens(line: str) -> list[str]:
    lexer = shlex.shlex(line, posix=True, punctuation_chars="|&;<>")
    lexer.whitespace_split = True
    return [os.path.expanduser(token) for token in lexer]  # noqa: PTH111 - as a shell does


def _chained(line: str) -> Iterator[tuple[str, list[str]]]:
    """The commands of a line, each with what joins it to the one before."""
    joint, words = ";", list[str]()
    for token in _tokens(line):
        if token in {"&&", ";"}:
            yield joint, words
            joint, words = token, []
        else:
            words.append(token)
    if words:
        yield joint, words


def _piped(words: list[str]) -> Iterator[_Part]:
    """The programs of a pipeline, with the files they read and write."""
    mine, source, into, adds = list[str](), None, None, False
    rest = iter([*words, "|"])
    for word in rest:
        if word == "|":
            yield _Part(mine, source, into, adds)
            mine, source, into, adds = [], None, None, False
        elif word == "<":
            source = next(rest)
        elif word in {">", ">>"}:
            into, adds = next(rest), word == ">>"
        else:
            mine.append(word)
