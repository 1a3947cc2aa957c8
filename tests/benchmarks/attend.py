"""The console with 2,000 entries: key press to repaint, and what it costs to leave it open.

The real program in a pseudo-terminal. A press is timed from the moment the key is sent to the
moment its letter comes back on the screen; a line from Enter to the first sign of it, with its
durable writing and a pass of the rules between. Idle, the processor time and memory of the
process are read from the system (Linux). Asserts nothing.

Usage: python tests/benchmarks/attend.py [PRESSES] [IDLE_MINUTES] [ENTRIES]
"""

import os
import select
import statistics
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from support.long_logs import night
from support.terminal import Terminal

from boxlamp.journal import open_journal

ENTRIES, PRESSES, IDLE_MINUTES = 2_000, 500, 10.0
_LETTERS = "zjxqkv"
"""Letters that no clock on the board draws when it ticks."""
_WORDS = ("zjzjzj", "qkqkqk")
"""Two notes that differ in every place: only what changes is drawn."""
_LINE = 30
_QUIET = 0.05
_MEGABYTE = 1024


def measure(
    presses: int = PRESSES, minutes: float = IDLE_MINUTES, entries: int = ENTRIES
) -> dict[str, float]:
    """Milliseconds from key to repaint (median, 99th of 100), and the cost of an open console."""
    with tempfile.TemporaryDirectory() as folder:
        journal = Path(folder, "journal.db")
        _fill(journal, entries)
        with _console(journal) as (console, process):
            keys = [_press(console, place) for place in range(presses)]
            lines = [_line(console, _WORDS[place % 2]) for place in range(max(5, presses // 20))]
            idle = _idle(process, console, minutes * 60) if minutes else {}
    return {
        "entries": entries,
        "key to repaint, median ms": 1000 * statistics.median(keys),
        "key to repaint, 99th percentile ms": 1000 * statistics.quantiles(keys, n=100)[98],
        "line to repaint, median ms": 1000 * statistics.median(lines),
        **idle,
    }


def _fill(journal: Path, entries: int) -> None:
    """Bring the invented night up to the present: the last line was half a minute ago."""
    told = night(entries)
    later = datetime.now(UTC) - timedelta(seconds=30) - told[-1].at
    moved = [
        one.model_copy(update={"at": one.at + later, "recorded": one.recorded + later})
        for one in told
    ]
    with open_journal(journal) as opened:
        opened.import_entries("ash", "Ash", moved, opened=moved[0].at)
        opened.choose("ash")


@contextmanager
def _console(journal: Path) -> Iterator[tuple[Terminal, int]]:
    console = Terminal(journal, "attend")
    try:
        console.wait("F1")
        _drain(console)
        yield console, console.child.pid
    finally:
        console.child.close(force=True)


def _press(console: Terminal, place: int) -> float:
    if place % _LINE == 0:
        console.child.send("\x15")  # an empty line again: one that scrolls draws itself anew
    # Another letter than stood here on the line before: what does not change is not drawn.
    letter = _LETTERS[(place + place // _LINE) % len(_LETTERS)].encode()
    return _answer(console, letter, letter)


def _line(console: Terminal, words: str) -> float:
    console.child.send(f"\x15note {words}")
    _drain(console)
    return _answer(console, b"\r", words.encode())


def _answer(console: Terminal, sent: bytes, seen: bytes) -> float:
    """Seconds from sending until what is looked for has come back."""
    _drain(console)
    begun = time.perf_counter()
    os.write(console.child.child_fd, sent)
    content = b""
    while seen not in content:
        content += os.read(console.child.child_fd, 65536)
    return time.perf_counter() - begun


def _drain(console: Terminal) -> None:
    """Read until nothing has come for a moment, so that no tick answers for a key."""
    while select.select([console.child.child_fd], [], [], _QUIET)[0]:
        os.read(console.child.child_fd, 65536)


def _idle(process: int, console: Terminal, seconds: float) -> dict[str, float]:
    before, first = _busy(process), _memory(process)
    begun = time.monotonic()
    while time.monotonic() < begun + seconds:
        select.select([console.child.child_fd], [], [], 0.5)
        _drain(console)
    spent = time.monotonic() - begun
    return {
        "idle minutes": spent / 60,
        "idle, % of a core": 100 * (_busy(process) - before) / spent,
        "memory at first, MB": first,
        "memory at the end, MB": _memory(process),
    }


def _busy(process: int) -> float:
    """Seconds of processor time so far."""
    fields = Path(f"/proc/{process}/stat").read_text(encoding="ascii").rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def _memory(process: int) -> float:
    lines = Path(f"/proc/{process}/status").read_text(encoding="ascii").splitlines()
    (held,) = (line.split()[1] for line in lines if line.startswith("VmRSS"))
    return int(held) / _MEGABYTE


def main(asked: list[float]) -> None:
    """Print one figure a line."""
    presses, minutes, entries = (*asked, *[PRESSES, IDLE_MINUTES, ENTRIES][len(asked) :])
    for name, figure in measure(int(presses), minutes, int(entries)).items():
        sys.stdout.write(f"{name:<40}{figure:>10.2f}\n")


if __name__ == "__main__":
    main([float(word) for word in sys.argv[1:]])
