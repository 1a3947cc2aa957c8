"""What one durable entry costs, beside a bare SQLite insert with the same settings.

Three rows: a bare insert (one table, one transaction, the journal's own settings), the same
with one line appended to a file and synced beside it, and the journal's own ``record``. All
are done in turn, so that what else the disk does falls on all alike. Asserts nothing.

Usage: python tests/benchmarks/append.py [ROUNDS] [FOLDER]; the folder says which disk.
"""

import os
import sqlite3
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from contextlib import ExitStack, closing
from datetime import UTC, datetime
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from support.journals import note

from boxlamp.journal import open_journal
from boxlamp.journal.schema import make_durable, wal_is_safe

NOW = datetime(2026, 3, 2, 20, 0, tzinfo=UTC)
ROUNDS = 300


def _bare(path: Path) -> sqlite3.Connection:
    connection = sqlite3.connect(path, isolation_level=None)
    make_durable(connection, wal=wal_is_safe(sqlite3.sqlite_version_info))
    connection.execute("CREATE TABLE record (seq INTEGER PRIMARY KEY, body TEXT NOT NULL) STRICT")
    return connection


def _insert(connection: sqlite3.Connection, body: str) -> None:
    connection.execute("BEGIN IMMEDIATE")
    connection.execute("INSERT INTO record (body) VALUES (?)", (body,))
    connection.execute("COMMIT")


def measure(rounds: int = ROUNDS, folder: Path | None = None) -> dict[str, float]:
    """Median milliseconds of each way, and their ratios to the bare insert."""
    with tempfile.TemporaryDirectory(dir=folder) as made, ExitStack() as stack:
        here = Path(made)
        alone = stack.enter_context(closing(_bare(here / "alone.db")))
        paired = stack.enter_context(closing(_bare(here / "paired.db")))
        mirror = stack.enter_context((here / "paired.jsonl").open("a", encoding="utf-8"))
        journal = stack.enter_context(open_journal(here / "journal.db"))
        litter = journal.open_litter("Ash", opened=NOW)
        body = note("quiet")(()).numbered(1, litter, NOW).model_dump_json()

        def with_mirror() -> None:
            _insert(paired, body)
            mirror.write(f"{body}\n")
            mirror.flush()
            os.fsync(mirror.fileno())

        ways: dict[str, Callable[[], object]] = {
            "bare insert": lambda: _insert(alone, body),
            "insert and synced line": with_mirror,
            "journal entry": lambda: journal.record(litter, note("quiet"), recorded=NOW),
        }
        seen = _in_turn(ways, rounds)
    base = seen["bare insert"]
    return {
        **{f"{name} ms": 1000 * seconds for name, seconds in seen.items()},
        **{f"{name} / bare insert": seconds / base for name, seconds in seen.items()},
    }


def _in_turn(ways: dict[str, Callable[[], object]], rounds: int) -> dict[str, float]:
    times: dict[str, list[float]] = {name: [] for name in ways}
    for turn in range(rounds + 5):
        for name, way in ways.items():
            begun = time.perf_counter()
            way()
            if turn >= 5:  # the first warm up
                times[name].append(time.perf_counter() - begun)
    return {name: statistics.median(own) for name, own in times.items()}


if __name__ == "__main__":
    for name, figure in measure(
        int(sys.argv[1]) if len(sys.argv) > 1 else ROUNDS,
        Path(sys.argv[2]) if len(sys.argv) > 2 else None,
    ).items():
        sys.stdout.write(f"{name:<40}{figure:>10.3f}\n")
