"""Kill -9, and a disk that refuses, at each single step of writing: nothing acknowledged is lost.

The steps are the system calls by which the program changes the disk. They are found by following
the real program, so that a step that is new is met without being named here.
"""

import errno
from itertools import product
from multiprocessing.connection import Connection

import pytest

from support.each_step import WORKS, Stop, Tally, in_a_child
from support.effort import NIGHTLY, effort
from support.journals import CHILDREN
from support.syscalls import unavailable

EVERY = effort(37, nightly=1)
REFUSALS = (errno.ENOSPC, errno.EIO, errno.EDQUOT, errno.EROFS, errno.EACCES)


@pytest.fixture(scope="module", autouse=True)
def _children_can_be_followed() -> None:
    """Skips with the reason where they cannot."""
    hear, tell = CHILDREN.Pipe(duplex=False)
    child = CHILDREN.Process(target=_why_not, args=(tell,))
    child.start()
    why = hear.recv()
    child.join()
    if why:
        pytest.skip(why)


def _why_not(tell: Connection) -> None:
    tell.send(unavailable())


def stopped(work: str, stop: Stop) -> Tally:
    """What comes of stopping this work at each of its steps."""
    hear, tell = CHILDREN.Pipe(duplex=False)
    child = CHILDREN.Process(target=in_a_child, args=(work, stop, EVERY, tell))
    child.start()
    tell.close()
    tally: Tally = hear.recv()
    child.join()
    return tally


def test_killed_at_each_step_nothing_acknowledged_is_lost() -> None:
    """Before and after every call that changes the disk, in both ways SQLite writes."""
    whole = Tally()
    ways = list(product(WORKS, (False, True), (False, True)))
    for work, wal, after in ways[:: effort(5, nightly=1)]:
        whole.add(stopped(work, Stop(wal, after)))
    print(f"kill -9 at each step: {whole}")  # noqa: T201 the figure of the nightly run
    assert whole.stopped.total() >= (1000 if NIGHTLY else 8)
    assert "pwrite64" in whole.stopped
    assert (whole.lost, whole.damaged, whole.unexplained) == ([], [], [])


def test_refused_at_each_step_nothing_acknowledged_is_lost() -> None:
    """Disk full, failing, over its quota, read-only: each call once; a sentence, never a crash."""
    whole = Tally()
    ways = list(product(WORKS, (False, True), REFUSALS))
    for work, wal, fail in ways[:: effort(14, nightly=1)]:
        whole.add(stopped(work, Stop(wal, fail=fail)))
    print(  # noqa: T201 the figure of the nightly run
        f"refused at each step: {whole}; {whole.refused} refused aloud, of these "
        f"{whole.refused_but_kept} entries kept all the same"
    )
    assert whole.refused
    assert (whole.lost, whole.damaged, whole.unexplained) == ([], [], [])
