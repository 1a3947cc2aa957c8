"""What one pass of the engine costs, beside reading the same entries, and how that grows.

A pass is what a new line costs: the story, every rule, the lives of the alerts, the verdict and
the history. It is held against reading the stored lines one by one with pydantic. Processor time
of this process, medians, both taken in one run: the ratios hold on a busy machine too. Growth is
also given with Python's garbage collector at rest: it looks at all that is alive now and then, and
that share is its own and not the engine's. Asserts nothing.
Usage: python tests/benchmarks/engine.py [MOST ENTRIES]
"""

import gc
import statistics
import sys
import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from itertools import takewhile
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1]))

from support.long_logs import KINDS
from support.nights import DEFAULT

from boxlamp.engine import Assessment, assess, history_as_known
from boxlamp.imagine import imagine
from boxlamp.model.entry import Entry
from boxlamp.model.litter import fold
from boxlamp.model.story import Story
from boxlamp.view.board import board
from boxlamp.view.layout import fitted

SIZES = (10, 100, 1_000, 10_000, 100_000)
COMPARED = 1_000
"""The row that growth is counted from."""
NIGHTS = 40
_GROWTHS = {"growth": "pass us", "no gc": "no gc us"}
_TITLES = {
    "entries": 0, "pass us": 1, "read us": 1, "ratio": 2, "a second": 0, "growth": 2,
    "no gc us": 1, "no gc": 2,
}  # fmt: skip
"""The columns, each with its decimal places: microseconds are those for one entry."""
_LEAST = 0.03
"""Seconds that one timing takes at least, so that the clock's own steps do not count."""
_VERY_LONG = 4
"""Seconds after which once is enough: chance is a small part of it."""


def measure(most: int = SIZES[-1]) -> dict[str, Any]:
    """Every figure, as plain numbers: microseconds for an entry, milliseconds for a whole."""
    sizes = tuple(takewhile(lambda size: size <= most, SIZES))
    return {
        "records": {name: _record(make, sizes) for name, make in KINDS.items()},
        "every second": {name: _second(make(2_000)) for name, make in KINDS.items()},
        "usual nights": _nights(),
    }


def whole(entries: list[Entry]) -> Assessment:
    """One pass: everything that is worked out when a line has been typed."""
    assessment, now = assess(Story(entries), DEFAULT), entries[-1].recorded
    assessment.verdict(now)
    assessment.history(now)
    return assessment


def _record(make: Callable[[int], list[Entry]], sizes: tuple[int, ...]) -> list[dict[str, float]]:
    rows = [_row(make(size)) for size in sizes]
    base = next((row for row in rows if row["entries"] == COMPARED), rows[-1])
    return [row | {name: row[own] / base[own] for name, own in _GROWTHS.items()} for row in rows]


def _row(entries: list[Entry]) -> dict[str, float]:
    lines = [entry.model_dump_json() for entry in entries]
    passed = _spent(lambda: whole(entries))
    read = _spent(lambda: [Entry.model_validate_json(line) for line in lines])
    gc.disable()
    alone = _spent(lambda: whole(entries))
    gc.enable()
    many = len(entries)
    return {
        "entries": many,
        "pass us": 1e6 * passed / many,
        "read us": 1e6 * read / many,
        "ratio": passed / read,
        "a second": many / passed,
        "no gc us": 1e6 * alone / many,
    }


def _second(entries: list[Entry]) -> dict[str, float]:
    """What the board costs while nothing is typed, and the smaller questions, in milliseconds."""
    assessment, now = whole(entries), entries[-1].recorded + timedelta(minutes=7)
    story = assessment.story
    asked: dict[str, Callable[[], object]] = {
        "verdict": lambda: assessment.verdict(now),
        "redraw": lambda: _drawn(assessment, entries, now),
        "until": lambda: story.until(entries[-1].at),
        "fold": lambda: fold(story),
        "story": lambda: Story(entries),
    }
    return {name: 1e3 * _spent(work) for name, work in asked.items()}


def _drawn(assessment: Assessment, entries: list[Entry], now: datetime) -> object:
    return fitted(board(assessment.verdict(now), entries, UTC, latest=12), 80, 20)


def _nights() -> dict[str, float]:
    """Imagined nights, as people have them: a pass, and the history as it was known then."""
    nights = [list(imagine(seed).entries) for seed in range(NIGHTS)]
    told = [[entry.model_dump_json() for entry in night] for night in nights]
    passed = _spent(lambda: [whole(night) for night in nights])
    read = _spent(lambda: [[Entry.model_validate_json(line) for line in one] for one in told])
    known = _spent(lambda: [history_as_known(one, DEFAULT, one[-1].recorded) for one in nights])
    return {
        "entries": statistics.fmean(map(len, nights)),
        "pass": 1e3 * passed / NIGHTS,
        "read": 1e3 * read / NIGHTS,
        "ratio": passed / read,
        "as known": 1e3 * known / NIGHTS,
    }


def _spent(work: Callable[[], object]) -> float:
    """Processor seconds of one call: the median of five, of three long ones, or one very long."""
    once = _timed(work, 1)
    if once > _VERY_LONG:
        return once
    if once > 1:
        return statistics.median((once, _timed(work, 1), _timed(work, 1)))
    calls = max(1, int(_LEAST / max(once, 1e-6)))
    return statistics.median(_timed(work, calls) for _ in range(5))


def _timed(work: Callable[[], object], calls: int) -> float:
    begun = time.process_time()
    for _ in range(calls):
        work()
    return (time.process_time() - begun) / calls


def main(most: int) -> None:
    """Print the tables."""
    found = measure(most)
    say = sys.stdout.write
    for name, rows in found["records"].items():
        say(f"{name}\n" + "".join(f"{title:>11}" for title in _TITLES) + "\n")
        for row in rows:
            say("".join(f"{row[title]:>11.{places}f}" for title, places in _TITLES.items()) + "\n")
    say("\nwith 2,000 entries, in ms\n")
    for name, asked in found["every second"].items():
        told = "  ".join(f"{what} {spent:.3f}" for what, spent in asked.items())
        say(f"  {name}: {told}\n")
    night = found["usual nights"]
    say(
        f"\na usual night, {night['entries']:.0f} entries: pass {night['pass']:.2f} ms, read "
        f"{night['read']:.2f} ms, pass/read {night['ratio']:.2f}; as known then "
        f"{night['as known']:.2f} ms\n"
    )


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else SIZES[-1])
