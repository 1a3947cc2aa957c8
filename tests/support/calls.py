"""Calls of the command line for tests: inside this process, and as a program of its own."""

import io
import os
import subprocess
import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import NamedTuple

import pytest

from boxlamp import outside
from boxlamp.cli.shell import run

PROGRAM = Path(sys.executable).with_name("boxlamp")
QUARTER_PAST_TWO = datetime(2026, 3, 2, 1, 15, tzinfo=UTC)
"""02:15 in Prague, a winter night."""


class Said(NamedTuple):
    """What a call came back with."""

    code: int
    out: str
    err: str


class Caller:
    """Calls the command line in this process, with a clock that the test turns."""

    def __init__(
        self, journal: Path, capsys: pytest.CaptureFixture[str], patch: pytest.MonkeyPatch
    ) -> None:
        self.journal, self.now = journal, QUARTER_PAST_TWO
        self._capsys, self._patch = capsys, patch
        patch.setenv("BOXLAMP_JOURNAL", str(journal))
        patch.delenv("BOXLAMP_BY", raising=False)
        patch.setattr(outside, "now", lambda: self.now)
        patch.setattr(outside, "local_zone", lambda: "Europe/Prague")

    def __call__(self, *words: str | Path, stdin: bytes = b"") -> Said:
        """Call with these words; no terminal anywhere."""
        self._patch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(stdin), "utf-8"))
        self._capsys.readouterr()
        try:
            code = run([str(word) for word in words])
        except SystemExit as left:
            code = left.code if isinstance(left.code, int) else 1
        out, err = self._capsys.readouterr()
        return Said(code, out, err)

    def good(self, *words: str | Path, stdin: bytes = b"") -> str:
        """What a call that must go well answers."""
        said = self(*words, stdin=stdin)
        assert said.code == 0, said
        return said.out

    def later(self, minutes: float) -> None:
        """Let time go by."""
        self.now += timedelta(minutes=minutes)


def started(
    *words: str | Path, journal: Path, stdin: bytes = b"", **more: str
) -> subprocess.CompletedProcess[bytes]:
    """The installed program run to its end as a process of its own."""
    return subprocess.run(
        [PROGRAM, *words],
        input=stdin,
        capture_output=True,
        check=False,
        timeout=30,
        env=surroundings(journal, **more),
    )


def surroundings(journal: Path, **more: str) -> dict[str, str]:
    """An environment in which the program keeps to this journal and looks the same anywhere."""
    kept = {name: value for name, value in os.environ.items() if not name.startswith("BOXLAMP_")}
    for name in ("NO_COLOR", "COLUMNS", "LINES", "PYTHONIOENCODING", "PYTHONUNBUFFERED"):
        kept.pop(name, None)
    return kept | {
        "BOXLAMP_JOURNAL": str(journal), "TERM": "xterm-256color", "LC_ALL": "C.UTF-8",
        "TZ": "Europe/Prague",
    } | more  # fmt: skip
