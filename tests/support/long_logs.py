"""Invented nights of any length, and a stopwatch, for the benchmarks."""

import statistics
import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from itertools import cycle, islice

from boxlamp.language import Context, read_line
from boxlamp.model.entry import Entry

START = datetime(2026, 3, 2, 20, 0, tzinfo=UTC)
LINES = ("push", "push weak", "rest", "temp 38.4", "discharge clear", "note she drinks", "waters")


def night(count: int) -> list[Entry]:
    """An invented night: eight pups, then as many lines as asked for, 20 seconds apart."""
    lines = ["pup dog 312g"] * 8 + ["afterbirth"] * 5 + ["milk 1", "milk 2"]
    entries: list[Entry] = []
    for number, line in enumerate(islice([*lines, *islice(cycle(LINES), count)], count), start=1):
        at = START + timedelta(seconds=20 * number)
        context = Context.of(entries if number < 20 else entries[:20], at, "UTC")
        entries.append(read_line(line, context).draft.numbered(number, "ash", at))
    return entries


def litter_of(pups: int) -> list[Entry]:
    """An invented whelping of so many pups, half an hour apart, each cared for and weighed."""
    lines = ["waters clear", "push"]
    for number in range(1, pups + 1):
        lines += [f"pup {'dog' if number % 2 else 'bitch'} {300 + 7 * number}g head first", "push"]
        lines += [f"{step} {number}" for step in ("airway", "breathing", "cord", "dried", "milk")]
        lines += ["afterbirth", f"score {number} 2 2 1 2 2", f"weigh {number} {304 + 7 * number}g"]
    entries: list[Entry] = []
    for number, line in enumerate([*lines, "finished"], start=1):
        at = START + timedelta(minutes=3 * number)
        draft = read_line(line, Context.of(entries, at, "UTC")).draft
        entries.append(draft.numbered(number, "ash", at))
    return entries


def median(work: Callable[[], object], runs: int) -> float:
    """Median seconds of one call."""
    seen = []
    for _ in range(runs):
        begun = time.perf_counter()
        work()
        seen.append(time.perf_counter() - begun)
    return statistics.median(seen)
