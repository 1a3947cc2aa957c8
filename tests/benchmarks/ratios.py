"""Every benchmark in one run: a table of ratios, and the same figures as JSON.

Usage: python tests/benchmarks/ratios.py [NAME ...] [--json FILE] [--quick]

With names only those run; ``--quick`` measures less often and leaves out the long idle watch.
Nothing is asserted: an aim that is missed is marked, and that is all.
"""

import argparse
import json
import os
import platform
import sys
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

sys.path.insert(0, str(Path(__file__).parent))

import append
import attend
import engine
import judges
import paper
import startup
import trial

Figures = dict[str, float]


class Aim(NamedTuple):
    """What a figure should be: at most, or at least, this much."""

    figure: str
    bound: float
    least: bool = False

    def told(self, figure: float) -> str:
        """The aim beside its figure."""
        met = figure >= self.bound if self.least else figure <= self.bound
        words = "at least" if self.least else "at most"
        return f"   aim: {words} {self.bound:g}, {'met' if met else 'NOT met'}"


class Benchmark(NamedTuple):
    """What measures it, thoroughly or quickly, and what is aimed at."""

    whole: Callable[[], Figures]
    quick: Callable[[], Figures]
    aims: tuple[Aim, ...] = ()


def _startup(rounds: int) -> Figures:
    """By program: wall milliseconds, and both ratios to the hello-world."""
    return {
        f"{program}, {what}": costs[key]
        for program, costs in startup.measure(rounds).items()
        for key, what in (
            ("wall_ms", "ms"), ("wall_ratio", "x hello"), ("cpu_ratio", "x hello, processor"),
        )
    }  # fmt: skip


def _engine(most: int) -> Figures:
    """By kind of record and size: pass / pydantic read, and microseconds of an entry."""
    found = engine.measure(most)
    figures = {
        f"{kind}, {row['entries']:.0f} entries: {what}": row[key]
        for kind, rows in found["records"].items()
        for row in rows
        for key, what in (("ratio", "pass / read"), ("pass us", "us an entry"))
    }
    for kind, spent in found["every second"].items():
        figures[f"{kind}, 2000 entries: verdict, ms"] = spent["verdict"]
        figures[f"{kind}, 2000 entries: redraw, ms"] = spent["redraw"]
    figures["a usual night: pass / read"] = found["usual nights"]["ratio"]
    figures["a usual night: pass, ms"] = found["usual nights"]["pass"]
    return figures


BENCHMARKS: dict[str, Benchmark] = {
    "startup": Benchmark(
        lambda: _startup(20), lambda: _startup(5), (Aim("boxlamp log, x hello", 1.2),)
    ),
    "engine": Benchmark(
        lambda: _engine(100_000),
        lambda: _engine(1_000),
        (Aim("a usual night: pass / read", 1),),
    ),
    "judges": Benchmark(
        judges.measure,
        lambda: judges.measure(3),
        (Aim("rtamt / engine", 50, least=True), Aim("CLIPS / engine", 1, least=True)),
    ),
    "append": Benchmark(
        append.measure,
        lambda: append.measure(40),
        (Aim("journal entry / bare insert", 1.5),),
    ),
    "attend": Benchmark(
        attend.measure,
        lambda: attend.measure(100, 0.2),
        (Aim("key to repaint, 99th percentile ms", 16), Aim("idle, % of a core", 1)),
    ),
    "paper": Benchmark(paper.measure, lambda: paper.measure(runs=2)),
    "trial": Benchmark(trial.measure, lambda: trial.measure(200)),
}


def main(words: list[str]) -> int:
    """Measure, print the table, and write the JSON where it was asked for."""
    asked = _asked(words)
    figures: dict[str, Figures] = {}
    for name in asked.names or BENCHMARKS:
        one = BENCHMARKS[name]
        figures[name] = (one.quick if asked.quick else one.whole)()
        for line in _rows(name, figures[name], one):
            sys.stdout.write(f"{line}\n")
        sys.stdout.flush()
    if asked.json:
        content = {"machine": _machine(), "quick": asked.quick, "figures": figures}
        asked.json.write_text(f"{json.dumps(content, indent=2)}\n", encoding="utf-8")
    return 0


def _asked(words: list[str]) -> argparse.Namespace:
    parser = argparse.ArgumentParser(description="Every benchmark in one run.")
    parser.add_argument("names", nargs="*", choices=[*BENCHMARKS, []], metavar="NAME")
    parser.add_argument("--json", type=Path, metavar="FILE")
    parser.add_argument("--quick", action="store_true")
    return parser.parse_args(words)


def _rows(name: str, figures: Figures, one: Benchmark) -> list[str]:
    aims = {aim.figure: aim for aim in one.aims}
    return [
        f"== {name}",
        *(
            f"  {what:<52}{figure:>12,.2f}{aims[what].told(figure) if what in aims else ''}"
            for what, figure in figures.items()
        ),
    ]


def _machine() -> dict[str, object]:
    """What the figures hang on, and nothing that names the machine."""
    return {
        "python": platform.python_version(),
        "system": platform.system(),
        "processors": os.cpu_count(),
        "load at the end": os.getloadavg()[0],
    }


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
