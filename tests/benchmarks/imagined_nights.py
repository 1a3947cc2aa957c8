"""What normal nights raise under the default protocol, and how fast nights are drawn.

A table of the normal nights in which each rule reaches each level, then the time of drawing a
night beside one pass of the engine over it. Asserts nothing.
Usage: python tests/benchmarks/imagined_nights.py [NIGHTS]
"""

import statistics
import sys
import time
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from support.nights import assessed

from boxlamp.imagine import imagine
from boxlamp.model.levels import Level

LEVELS = (Level.WATCH, Level.CALL, Level.GO)


def main(nights: int) -> None:
    """Draw, assess, count."""
    found: Counter[tuple[str, Level]] = Counter()
    drawing, assessing = [], []
    for seed in range(nights):
        begun = time.perf_counter()
        night = imagine(seed, trouble="none")
        drawn = time.perf_counter()
        steps = assessed(night.entries).history(night.ended)
        drawing.append(drawn - begun)
        assessing.append(time.perf_counter() - drawn)
        rung = {(step.rule.id, step.level) for step in steps
                if step.change in {"raised", "escalated"}}  # fmt: skip
        found.update(rung | {("any rule", level) for _, level in rung})
    sys.stdout.write(f"{nights} normal nights, in % of them\n{'':<28}")
    sys.stdout.write("".join(f"{level.word:>8}" for level in LEVELS) + "\n")
    for rule in sorted({rule for rule, _ in found}):
        shares = [100 * found[rule, level] / nights for level in LEVELS]
        if any(shares):
            sys.stdout.write(f"{rule:<28}" + "".join(f"{one:8.1f}" for one in shares) + "\n")
    draw, engine = statistics.median(drawing), statistics.median(assessing)
    sys.stdout.write(
        f"\ndrawing {draw * 1000:.2f} ms a night ({1 / statistics.fmean(drawing):.0f} a second), "
        f"the engine's history {engine * 1000:.2f} ms: {draw / engine:.2f} of it\n"
    )


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 500)
