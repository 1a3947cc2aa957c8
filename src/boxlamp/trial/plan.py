"""Which nights a trial runs: half of them normal, half troubled, every trouble in its turn.

A night's number alone says which night it is, so that the first 1,000 of 10,000 nights are the
1,000, whoever draws them and in whatever order.
"""

from dataclasses import dataclass
from typing import NamedTuple

from boxlamp.imagine import TROUBLES, Imagined, imagine

MOST_NIGHTS = 1_000_000
"""As many nights as one trial may have; two trials of different seeds share none."""
NORMAL = "none"
"""What the generator calls the trouble of a normal night."""


class BrokenNight(Exception):  # noqa: N818 - it is the night that is broken
    """A night that cannot be imagined or judged. Without it every figure would be wrong."""

    exit_code = 2


class Which(NamedTuple):
    """One night of a trial: what the generator is asked for."""

    seed: int
    trouble: str

    @property
    def words(self) -> str:
        """How a person asks for the very night."""
        return f"boxlamp imagine --seed {self.seed} --trouble {self.trouble}"


def which(trial_seed: int, index: int) -> Which:
    """The night of this number. Even ones are normal, odd ones troubled."""
    pair, troubled = divmod(index, 2)
    trouble = tuple(TROUBLES)[pair % len(TROUBLES)] if troubled else NORMAL
    return Which(trial_seed * MOST_NIGHTS + index, trouble)


@dataclass(frozen=True)
class Nights:
    """The maker of a trial's nights; it can be sent to another process."""

    seed: int

    def __call__(self, index: int) -> Imagined:
        """Imagine the night of this number."""
        asked = which(self.seed, index)
        try:
            return imagine(asked.seed, trouble=asked.trouble)
        except Exception as error:
            raise BrokenNight(
                f"A night could not be imagined ({type(error).__name__}: {error}). "
                f"To see it: {asked.words}"
            ) from error
