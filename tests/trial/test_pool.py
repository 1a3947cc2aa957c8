"""Many nights at once: the same figures from whoever counts them, or a plain sentence."""

import sys
from concurrent.futures import Executor, Future, ProcessPoolExecutor, ThreadPoolExecutor
from contextlib import ExitStack
from typing import Any

import pytest

from boxlamp import __version__
from boxlamp.trial import workers
from boxlamp.trial.one import outcome
from boxlamp.trial.plan import BrokenNight
from boxlamp.trial.pool import Counted, Crew, NightOf, TrialError, run
from boxlamp.trial.report import report
from boxlamp.trial.tally import merged, tally
from boxlamp.trial.workers import InProcess, cluster, cores, local
from support.trials import (
    STRICT,
    USUAL,
    broken,
    counted,
    dask,
    deadly,
    handmade,
    interrupted,
    one_by_one,
)

NIGHTS = 60
SIDES = (USUAL, STRICT)


def trial(
    executor: Executor, night_of: NightOf = handmade, nights: int = NIGHTS, chunk: int = 7
) -> Counted:
    """A trial of the hand-made nights by somebody."""
    return run(night_of, SIDES, nights, Crew(executor, ahead=3, chunk=chunk))


@pytest.mark.parametrize("many", [1, 2, 3])
def test_the_figures_are_the_same_for_any_number_of_workers(many: int) -> None:
    """One, two or three processes and any size of chunk: the tally of the plain loop."""
    with local(many) as executor:
        assert isinstance(executor, InProcess if many == 1 else ProcessPoolExecutor)
        for chunk in (1, 7, 60) if many == 2 else (25,):
            assert trial(executor, chunk=chunk).tally == one_by_one(NIGHTS, *SIDES)


def test_any_executor_will_do() -> None:
    """Threads too, though they gain nothing."""
    with ThreadPoolExecutor(2) as executor:
        assert trial(executor).tally == one_by_one(NIGHTS, *SIDES)


@pytest.mark.parametrize("processes", [False, True])
def test_a_cluster_gives_the_same_figures(*, processes: bool) -> None:
    """Dask, in threads or in processes of its own, counts what the plain loop counts."""
    with dask(processes=processes) as address, cluster(address) as (executor, threads):
        assert threads == 2
        assert trial(executor).tally == one_by_one(NIGHTS, *SIDES)


def test_a_cluster_hands_back_what_broke() -> None:
    """A night that cannot be judged ends a trial on a cluster as it does here."""
    with (
        dask(processes=False) as address,
        cluster(address) as (executor, _),
        pytest.raises(BrokenNight, match="Night 40"),
    ):
        trial(executor, broken)


def test_a_cluster_that_is_not_there_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    """A wrong address, and one that is no address, end in a sentence."""
    monkeypatch.setattr(workers, "_SECONDS_TO_CONNECT", 1)
    for address in ("tcp://127.0.0.1:1", "no such place"):
        with ExitStack() as kept, pytest.raises(TrialError, match="No cluster answers at"):
            kept.enter_context(cluster(address))


def test_a_cluster_of_another_version_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """Workers that count by other rules would give other figures."""
    with dask(processes=True) as address:
        monkeypatch.setattr(workers, "__version__", "9.9")
        with ExitStack() as kept, pytest.raises(TrialError, match=f"have boxlamp {__version__}"):
            kept.enter_context(cluster(address))


def test_without_the_extra_the_line_to_install_it_is_told(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Dask is not needed until somebody has a cluster."""
    monkeypatch.setitem(sys.modules, "distributed", None)
    with ExitStack() as kept, pytest.raises(TrialError, match=r"pip install 'boxlamp\[cluster\]'"):
        kept.enter_context(cluster("tcp://127.0.0.1:8786"))


@pytest.mark.parametrize("many", [1, 2])
def test_a_broken_night_gives_no_figures(many: int) -> None:
    """It is named, whoever stumbled over it."""
    with local(many) as executor, pytest.raises(BrokenNight) as wrong:
        trial(executor, broken)

    assert (
        str(wrong.value) == "Night 40 of the trial could not be judged (ValueError: no such pup)."
    )
    assert wrong.value.exit_code == 2


def test_a_dying_worker_gives_no_figures() -> None:
    """A process killed from outside ends the trial with a sentence that says what may help."""
    with local(2) as executor, pytest.raises(TrialError, match=r"no figures.*--workers 1") as wrong:
        trial(executor, deadly)

    assert wrong.value.exit_code == 2


@pytest.mark.parametrize("chunk", [1, 7, 100])
def test_ctrl_c_keeps_what_is_known_so_far(chunk: int) -> None:
    """The figures are those of a shorter trial: all nights up to the one that was cut short."""
    with InProcess() as executor:
        found = trial(executor, interrupted, chunk=chunk)

    assert found.nights == 40 // chunk * chunk
    assert found.partial
    assert found.tally == one_by_one(found.nights, *SIDES)


class Backwards(Executor):
    """An executor whose work comes back last first."""

    def __init__(self) -> None:
        self.pool, self.asked = InProcess(), list[Any]()

    def submit(self, fn: Any, /, *args: Any, **kwargs: Any) -> Any:  # noqa: ANN401 - as the standard has it
        """Keep it until all are there."""
        future: Any = Future()
        self.asked.append((future, fn, args, kwargs))
        if len(self.asked) == 9:
            while self.asked:
                last, what, words, more = self.asked.pop()
                last.set_result(what(*words, **more))
        return future


def test_work_may_come_back_in_any_order() -> None:
    """Last first gives the same tally, and progress counts every night once."""
    done: list[int] = []
    found = run(handmade, SIDES, 9 * 7, Crew(Backwards(), ahead=9, chunk=7), done.append)

    assert found.tally == one_by_one(63, *SIDES)
    assert sum(done) == 63


def test_the_first_nights_of_many_are_the_few() -> None:
    """A trial of 24 nights and the 36 that follow are the trial of 60."""
    later = merged(
        tally(night, tuple(outcome(night, side) for side in SIDES))
        for night in map(handmade, range(24, 60))
    )

    assert merged([counted(24, *SIDES).tally, later]) == counted(60, *SIDES).tally


def test_the_report_is_the_same_to_the_last_digit() -> None:
    """No figure depends on the order of sums."""
    reports = {
        repr(report(counted(NIGHTS, *SIDES, chunk=chunk), SIDES, 1)) for chunk in (1, 4, 13, 60)
    }

    assert len(reports) == 1


def test_there_is_at_least_one_core() -> None:
    """The usual number of workers is that of the processors this program may use."""
    assert cores() >= 1
