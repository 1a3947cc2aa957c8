"""State machines that count what they did, so that a long run can say how much it tried."""

import sys
from collections import Counter

from hypothesis.stateful import RuleBasedStateMachine, invariant

_RUNS: Counter[str] = Counter()
_CHECKS: Counter[str] = Counter()


class CountedMachine(RuleBasedStateMachine):
    """A machine whose runs and steps are counted."""

    def __init__(self) -> None:
        super().__init__()
        _RUNS[type(self).__name__] += 1

    @invariant()
    def counted(self) -> None:
        """Another step was taken, and all that must hold is looked at."""
        _CHECKS[type(self).__name__] += 1


def say_figures(machine: type[CountedMachine]) -> None:
    """Print what a machine has done so far: a line for the long run."""
    runs, checks = _RUNS[machine.__name__], _CHECKS[machine.__name__]
    # Everything is looked at once before the first step of a run.
    sys.stdout.write(f"\n{machine.__name__}: {runs:,} runs, {max(0, checks - runs):,} steps\n")
