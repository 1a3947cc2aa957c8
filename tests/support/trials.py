"""Hand-made nights whose alerts can be counted by hand, and trials over them.

The makers stand at the top of this module, so that they can be sent to another process.
"""

import os
import signal
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import timedelta
from typing import NamedTuple

from boxlamp.imagine import Imagined
from boxlamp.language import read_night
from boxlamp.model.happenings import Limit
from boxlamp.trial.one import Side, outcome
from boxlamp.trial.pool import Counted, Crew, run
from boxlamp.trial.tally import Tally, merged, tally
from boxlamp.trial.workers import InProcess
from support.nights import DEFAULT

_HEAD = """dam: Ash
breed: Border Terrier
weight: 7.2kg
zone: UTC
date: 2026-03-02
expected: 4 xray

"""


class Made(NamedTuple):
    """A night as a person writes it, and what is true of it, in minutes from midnight."""

    lines: str
    ended: int
    trouble: str | None = None
    troubled: int | None = None


# Strong contractions without a pup: a watch after 15 minutes, a call after 20, a go after 30; and
# after 20 minutes without a line the program asks what she is doing (log-quiet, a watch).
MADE = (
    Made("00:00 push\n00:10 pup dog 180g", ended=12),  # nothing
    Made("00:00 push", ended=40, trouble="stuck", troubled=0),  # call at 20, go at 30
    Made("00:00 push\n00:16 pup dog 180g", ended=18),  # one watch
    Made("00:00 push", ended=12, trouble="short", troubled=0),  # over before anything came
    Made("00:00 push\n00:25 pup dog 180g", ended=26),  # two watches, one call
    Made("00:00 push", ended=36, trouble="stuck", troubled=32),  # the go of before still stands
)


def handmade(index: int) -> Imagined:
    """One of the nights above, in turn."""
    made = MADE[index % len(MADE)]
    entries = read_night(_HEAD + made.lines + "\n").entries
    midnight = entries[0].at.replace(hour=0, minute=0)
    return Imagined(
        seed=index,
        size="small",
        trouble=made.trouble,
        entries=entries,
        troubled=None if made.troubled is None else midnight + timedelta(minutes=made.troubled),
        ended=midnight + timedelta(minutes=made.ended),
    )


def broken(index: int) -> Imagined:
    """Nights of which the fortieth cannot be made."""
    if index == 40:
        raise ValueError("no such pup")
    return handmade(index)


def deadly(index: int) -> Imagined:
    """Nights of which the fortieth ends the process that makes it."""
    if index == 40:
        os.kill(os.getpid(), signal.SIGKILL)
    return handmade(index)


def interrupted(index: int) -> Imagined:
    """Nights in the fortieth of which somebody presses Ctrl-C."""
    if index == 40:
        raise KeyboardInterrupt
    return handmade(index)


def changed(level: str, minutes: float, rule: str = "contraction-no-pup") -> Limit:
    """One limit on a vet's word."""
    return Limit.model_validate(
        {"rule": rule, "level": level, "seconds": int(60 * minutes), "by": "Dr Novak", "why": "so"}
    )


USUAL = Side("default", DEFAULT)
STRICT = Side("own", DEFAULT, (changed("watch", 5), changed("call", 8)))


def counted(nights: int, *sides: Side, chunk: int = 7) -> Counted:
    """A trial of the hand-made nights in this process."""
    with InProcess() as executor:
        return run(handmade, sides or (USUAL,), nights, Crew(executor, chunk=chunk))


def one_by_one(nights: int, *sides: Side) -> Tally:
    """The same without any of the machinery."""
    made = [handmade(index) for index in range(nights)]
    return merged(tally(night, tuple(outcome(night, side) for side in sides)) for night in made)


@contextmanager
def dask(*, processes: bool) -> Iterator[str]:
    """A cluster of this machine, and its address."""
    from distributed import LocalCluster

    with LocalCluster(  # type: ignore[no-untyped-call]
        n_workers=2, threads_per_worker=1, processes=processes, dashboard_address=None,
        protocol="tcp", host="127.0.0.1",
    ) as here:  # fmt: skip
        yield here.scheduler_address
