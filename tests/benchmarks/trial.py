"""What a trial costs: imagining beside judging, workers beside one, growth with the nights.

All as ratios on this machine; the seconds beside them are only there to be put into proportion.
Asserts nothing.
"""

import sys
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from support.nights import DEFAULT

from boxlamp.trial.one import Side, outcome
from boxlamp.trial.plan import Nights
from boxlamp.trial.pool import Crew, run
from boxlamp.trial.workers import cores, local

NIGHT_OF, SIDES = Nights(1), (Side("default", DEFAULT),)
SIZES = (1_000, 2_000, 4_000)


def _seconds(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def _trial(nights: int, workers: int) -> float:
    """One whole trial, the start of its processes among it."""

    def work() -> None:
        with local(workers) as executor:
            run(NIGHT_OF, SIDES, nights, Crew(executor, ahead=4 * workers))

    return _seconds(work)


def _parts(nights: int) -> None:
    made = list[object]()
    imagined = _seconds(lambda: made.extend(NIGHT_OF(index) for index in range(nights)))
    told = [NIGHT_OF(index) for index in range(nights)]
    judged = _seconds(lambda: [outcome(night, SIDES[0]) for night in told])
    sys.stdout.write(
        f"judging a night / imagining it: {judged / imagined:.1f} "
        f"({1000 * judged / nights:.1f} ms / {1000 * imagined / nights:.1f} ms)\n"
    )


def _growth(workers: int) -> dict[int, float]:
    spent = {nights: _trial(nights, workers) for nights in SIZES}
    least = spent[SIZES[0]]
    told = ", ".join(f"{nights}: {spent[nights] / least:.2f}" for nights in SIZES)
    rate = SIZES[-1] / spent[SIZES[-1]]
    sys.stdout.write(f"{workers} worker(s), times the first: {told} ({rate:.0f} nights a second)\n")
    return spent


def main() -> None:
    """Print the ratios."""
    _parts(400)
    alone, together = _growth(1), _growth(max(2, cores()))
    told = ", ".join(f"{nights}: {alone[nights] / together[nights]:.2f}" for nights in SIZES)
    sys.stdout.write(f"one worker / {max(2, cores())} workers: {told}\n")


if __name__ == "__main__":
    main()
