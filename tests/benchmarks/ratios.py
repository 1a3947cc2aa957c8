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
import paper
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


BENCHMARKS: dict[str, Benchmark] = {
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
            f"  {what:<44}{figure:>12,.2f}{aims[what].told(figure) if what in aims else ''}"
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
