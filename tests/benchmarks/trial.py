"""What a trial costs: imagining beside judging, workers beside one, growth with the nights.

All as ratios on this machine; the seconds beside them are only there to be put into proportion.
Asserts nothing.
"""

import os
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

sys.path.insert(0, str(Path(__file__).parents[1]))

from support.nights import DEFAULT

from boxlamp.trial.one import Side, outcome
from boxlamp.trial.plan import Nights
from boxlamp.trial.pool import Crew, run
from boxlamp.trial.workers import cores, local

NIGHT_OF, SIDES = Nights(1), (Side("default", DEFAULT),)
SIZES = (1_000, 2_000, 4_000)


class Spent(NamedTuple):
    """Seconds by the clock, and of the processors: the latter hold on a busy machine too."""

    clock: float
    busy: float


def _spent(work: Callable[[], object]) -> Spent:
    start, before = time.perf_counter(), os.times()
    work()
    after = os.times()
    return Spent(time.perf_counter() - start, sum(after[:4]) - sum(before[:4]))


def _trial(nights: int, workers: int) -> Spent:
    """One whole trial, the start of its processes among it."""

    def work() -> None:
        with local(workers) as executor:
            run(NIGHT_OF, SIDES, nights, Crew(executor, ahead=4 * workers))

    return _spent(work)


def _parts(nights: int) -> None:
    imagined = _spent(lambda: [NIGHT_OF(index) for index in range(nights)]).busy
    told = [NIGHT_OF(index) for index in range(nights)]
    judged = _spent(lambda: [outcome(night, SIDES[0]) for night in told]).busy
    sys.stdout.write(
        f"judging a night / imagining it: {judged / imagined:.1f} "
        f"({1000 * judged / nights:.1f} ms / {1000 * imagined / nights:.1f} ms)\n"
    )


def _growth(workers: int) -> dict[int, Spent]:
    spent = {nights: _trial(nights, workers) for nights in SIZES}
    least = spent[SIZES[0]]
    told = ", ".join(
        f"{nights}: {one.clock / least.clock:.2f} ({one.busy / least.busy:.2f})"
        for nights, one in spent.items()
    )
    rate = SIZES[-1] / spent[SIZES[-1]].clock
    sys.stdout.write(f"{workers} worker(s), times the first: {told}; {rate:.0f} nights a second\n")
    return spent


def measure(nights: int = 2_000) -> dict[str, float]:
    """Nights a second with one worker and with two, and what the second one brings."""
    alone, together = _trial(nights, 1), _trial(nights, 2)
    half = _trial(nights // 2, 1)
    return {
        "nights": nights,
        "nights a second, one worker": nights / alone.clock,
        "nights a second, two workers": nights / together.clock,
        "one worker / two workers, by the clock": alone.clock / together.clock,
        "processor time, two workers / one": together.busy / alone.busy,
        "processor time, twice the nights / once": alone.busy / half.busy,
    }


def main() -> None:
    """Print the ratios, by the clock and in brackets by the processors."""
    _parts(400)
    many = max(2, cores())
    alone, together = _growth(1), _growth(many)
    ratios = {nights: alone[nights].clock / together[nights].clock for nights in SIZES}
    told = ", ".join(f"{nights}: {ratio:.2f}" for nights, ratio in ratios.items())
    sys.stdout.write(f"one worker / {many} workers, by the clock: {told}\n")


if __name__ == "__main__":
    main()
