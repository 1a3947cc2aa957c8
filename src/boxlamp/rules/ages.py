"""Which limits hold at a pup's age."""

from datetime import timedelta
from typing import NamedTuple

from boxlamp.rules.spell import Yardstick, span


class Ages(NamedTuple):
    """The clocks of one rule by age, the youngest first, each with the age it holds from."""

    begins: tuple[tuple[timedelta, str], ...]

    @property
    def oldest(self) -> str:
        """The clock that holds from the greatest age."""
        return self.begins[-1][1]

    def clock_at(self, age: timedelta) -> str:
        """The last of the clocks whose age has come, or nothing before the first of them."""
        return next((clock for begins, clock in reversed(self.begins) if age >= begins), "")


def ages(yardstick: Yardstick, rule: str, clocks: tuple[str, ...]) -> Ages:
    """The setting ``from CLOCK`` says at which age the limits of a clock begin to hold."""
    return Ages(tuple((span(yardstick, rule, f"from {clock}"), clock) for clock in clocks))
