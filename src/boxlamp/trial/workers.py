"""Who does the work: processes of this machine, this process itself, or a cluster.

Each is a standard ``concurrent.futures.Executor``, handed out for as long as a trial runs.
"""

import os
import signal
import sys
import threading
from collections.abc import Callable, Iterator
from concurrent.futures import Executor, Future, ProcessPoolExecutor
from contextlib import contextmanager
from hashlib import sha256
from multiprocessing import get_context
from pathlib import Path
from typing import Any, ParamSpec, TypeVar

from boxlamp import __version__
from boxlamp.trial.pool import TrialError

_P = ParamSpec("_P")
_T = TypeVar("_T")
_WINDOWS_LIMIT = 61
_SECONDS_TO_CONNECT = 10
_DECIDING = ("model", "rules", "protocol", "engine", "growth", "language", "imagine", "trial")
EXTRA = "python -m pip install 'boxlamp[cluster]'"


class InProcess(Executor):
    """An executor that does the work at once, here, while it is being asked."""

    def submit(self, fn: Callable[_P, _T], /, *args: _P.args, **kwargs: _P.kwargs) -> Future[_T]:
        """Do it, and hand back a future that is done. Ctrl-C goes through to whoever asks."""
        future: Future[_T] = Future()
        try:
            future.set_result(fn(*args, **kwargs))
        except Exception as error:  # noqa: BLE001 - it is raised again where the result is asked for
            future.set_exception(error)
        return future


def cores() -> int:
    """How many processors this program may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


@contextmanager
def local(workers: int) -> Iterator[Executor]:
    """So many processes of this machine; one needs no other process than this."""
    if workers == 1:
        yield InProcess()
        return
    if sys.platform == "win32":
        workers = min(workers, _WINDOWS_LIMIT)
    # Started anew rather than forked: the same on every system, and safe beside threads.
    pool = ProcessPoolExecutor(
        workers, get_context("spawn"), initializer=_leave_ctrl_c_to_the_first
    )
    try:
        with _ctrl_c_left_alone():
            for _ in range(workers):
                pool.submit(cores)  # each is started when there is something to do
        yield pool
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


def _leave_ctrl_c_to_the_first() -> None:
    """Ctrl-C reaches every process of a terminal; the one that talks to the person ends it."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)


@contextmanager
def _ctrl_c_left_alone() -> Iterator[None]:
    """Processes started meanwhile ignore Ctrl-C from their first moment, while they still load."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)


@contextmanager
def cluster(address: str) -> Iterator[tuple[Executor, int]]:
    """A Dask cluster that is running already, and how many threads its workers have."""
    try:
        from distributed import Client
    except ImportError as error:
        raise TrialError(
            f"A cluster is spoken to through Dask, which is not installed. Install it with: {EXTRA}"
        ) from error
    try:
        client: Any = Client(address, timeout=_SECONDS_TO_CONNECT)  # type: ignore[no-untyped-call]
    except Exception as error:  # Dask has many ways of not understanding an address
        raise TrialError(f"No cluster answers at {address!r}. Is its scheduler running?") from error
    with client:
        threads = _alike(client, address)
        executor: Executor = client.get_executor(pure=False)
        try:
            yield executor, threads
        finally:
            executor.shutdown(wait=False)


def _alike(client: Any, address: str) -> int:  # noqa: ANN401 - Dask has no types
    """How many threads there are, once every worker is known to count by the same rules."""
    threads = sum(map(int, client.nthreads().values()))
    if not threads:
        raise TrialError(f"The cluster at {address!r} has no workers. Start one, and try again.")
    try:
        versions = set(client.run(version).values())
    except ImportError as error:
        raise TrialError(
            f"A worker of {address!r} does not have this program installed."
        ) from error
    if versions != {version()}:
        told = ", ".join(sorted(versions))
        raise TrialError(f"The workers of {address!r} have boxlamp {told}, not {version()}.")
    return threads


def version() -> str:
    """The version of this program where it is called, and a digest of what decides the figures."""
    digest, here = sha256(), Path(__file__).parents[1]
    for room in _DECIDING:
        for path in sorted((here / room).rglob("*.*")):
            if path.suffix in {".py", ".toml"}:
                digest.update(path.relative_to(here).as_posix().encode() + path.read_bytes())
    return f"{__version__} ({digest.hexdigest()[:8]})"
