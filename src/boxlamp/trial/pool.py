"""Many nights at once: chunks handed to an executor, their tallies merged in order.

Any ``concurrent.futures.Executor`` will do: processes of this machine, this process itself, a
cluster. Who counts which chunk changes nothing: see :mod:`boxlamp.trial.tally`.
"""

from collections.abc import Callable, Iterator
from concurrent.futures import FIRST_COMPLETED, BrokenExecutor, Executor, Future, wait
from dataclasses import dataclass
from typing import NamedTuple

from boxlamp.imagine import Imagined
from boxlamp.trial.one import Side, outcome
from boxlamp.trial.plan import BrokenNight
from boxlamp.trial.tally import Tally, merged, nothing, tally

NightOf = Callable[[int], Imagined]
Progress = Callable[[int], None]

CHUNK = 50
"""Nights in one piece of work: a fraction of a second, so that stopping takes no longer."""

_ENDED = (
    "A worker was ended from outside, perhaps for want of memory, so there are no figures. "
    "Fewer at once need less: --workers 1"
)
_FAILED = "The workers failed, so there are no figures ({}: {})."


class TrialError(Exception):
    """A trial that could not be brought to its end, and so has no figures."""

    exit_code = 2


class Counted(NamedTuple):
    """What a trial counted: the tally of its first ``nights`` nights out of ``planned``."""

    tally: Tally
    nights: int
    planned: int

    @property
    def partial(self) -> bool:
        """Whether it was stopped before its end."""
        return self.nights < self.planned


class Crew(NamedTuple):
    """Who does the work, how many pieces are out at once, and how many nights make a piece."""

    executor: Executor
    ahead: int = 8
    chunk: int = CHUNK


@dataclass(frozen=True)
class Work:
    """A piece of work that can be sent anywhere: the nights from ``first`` up to ``after``."""

    night_of: NightOf
    sides: tuple[Side, ...]
    first: int
    after: int

    def __call__(self) -> Tally:
        """Judge the nights and count them."""
        return merged(self._told(index) for index in range(self.first, self.after))

    def _told(self, index: int) -> Tally:
        try:
            night = self.night_of(index)
            return tally(night, tuple(outcome(night, side) for side in self.sides))
        except BrokenNight:
            raise
        except Exception as error:
            said = f"{type(error).__name__}: {error}"
            raise BrokenNight(
                f"Night {index} of the trial could not be judged ({said})."
            ) from error


def run(
    night_of: NightOf,
    sides: tuple[Side, ...],
    nights: int,
    crew: Crew,
    progress: Progress = lambda _nights: None,
) -> Counted:
    """Judge ``nights`` nights by each side.

    Ctrl-C ends it with what is known so far: all nights up to the first that is still out, so that
    the figures are those of a shorter trial. Raises :class:`TrialError` or
    :class:`~boxlamp.trial.plan.BrokenNight` when a piece of work fails.
    """
    work = (
        Work(night_of, sides, first, min(first + crew.chunk, nights))
        for first in range(0, nights, crew.chunk)
    )
    gathered = Gathered(nothing(), {})
    out: dict[Future[Tally], Work] = {}
    try:
        for future, piece in _worked(work, crew, out):
            gathered = gathered.with_piece(piece, future.result())
            progress(piece.after - piece.first)
    except KeyboardInterrupt:
        # What is known so far is handed back, and says that it is partial.
        for future, piece in out.items():
            if future.done() and not future.cancelled() and future.exception() is None:
                gathered = gathered.with_piece(piece, future.result())
    except BrokenExecutor as error:
        raise TrialError(_ENDED) from error
    except (BrokenNight, TrialError):
        raise
    except Exception as error:
        raise TrialError(_FAILED.format(type(error).__name__, error)) from error
    finally:
        for future in out:
            future.cancel()
    return Counted(gathered.tally, gathered.after, nights)


class Gathered(NamedTuple):
    """The nights counted without a gap, and what is done beyond the first gap."""

    tally: Tally
    beyond: dict[int, tuple[int, Tally]]
    after: int = 0

    def with_piece(self, piece: Work, counted: Tally) -> "Gathered":
        """Take in one piece, and with it those that were only waiting for it."""
        self.beyond[piece.first] = piece.after, counted
        after = self.after
        while after in self.beyond:
            after, part = self.beyond.pop(after)
            self.tally.add(part)
        return self._replace(after=after)


def _worked(
    work: Iterator[Work], crew: Crew, out: dict[Future[Tally], Work]
) -> Iterator[tuple[Future[Tally], Work]]:
    """Keep as many of work out as the crew wants, and give each back when it is done."""
    for piece in work:
        out[crew.executor.submit(piece)] = piece
        if len(out) >= crew.ahead:
            yield from _finished(out)
    while out:
        yield from _finished(out)


def _finished(out: dict[Future[Tally], Work]) -> list[tuple[Future[Tally], Work]]:
    done = wait(out, return_when=FIRST_COMPLETED).done
    return [(future, out.pop(future)) for future in done]
