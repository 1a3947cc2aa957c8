"""Time that goes on like a watch on the wrist, whatever is done to the computer's clock."""

import time
from collections.abc import Callable
from datetime import datetime, timedelta

_SLACK = timedelta(seconds=30)
"""A clock that is corrected by less is simply followed."""


class Steady:
    """The moment to judge by: the wall clock's, unless that has been set back.

    Then the moment goes on from where it was by the steady clock, so that no alert is late and no
    sound falls silent, until the wall clock has come as far by itself. ``began`` is the moment to
    begin with: what was already typed may lie ahead of a clock set back before.
    """

    def __init__(
        self,
        clock: Callable[[], datetime],
        *,
        began: datetime,
        monotonic: Callable[[], float] = time.monotonic,
    ) -> None:
        self._clock, self._monotonic = clock, monotonic
        self._last = began, monotonic()

    def now(self) -> datetime:
        """The present moment, to the second; but for the slack never earlier than before."""
        wall, steady = self._clock(), self._monotonic()
        moment, then = self._last
        gone = moment + timedelta(seconds=steady - then)
        if gone - wall < _SLACK:
            self._last = wall, steady
            return wall
        return gone.replace(microsecond=0)
