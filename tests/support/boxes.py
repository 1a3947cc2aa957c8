"""Litters open in a journal, for tests of the desk, the console and the board."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path

from boxlamp.attend.sitting import Sitting
from boxlamp.desk.session import Session
from boxlamp.engine import Verdict, assess
from boxlamp.journal import open_journal
from boxlamp.model.entry import Draft
from boxlamp.model.happenings import Details
from boxlamp.model.story import Story
from boxlamp.model.zones import zone_named
from boxlamp.view.board import Board, board
from support.nights import DEFAULT, DEMO, chapters

ZONE = "Europe/Prague"
TWO = datetime(2026, 3, 2, 1, 0, tzinfo=UTC)
"""Two in the morning in Prague."""


class Watch:
    """The wall clock and the steady one, both turned by the test."""

    def __init__(self) -> None:
        self.now, self.steady = TWO, 1000.0

    def clock(self) -> datetime:
        """The wall clock."""
        return self.now

    def monotonic(self) -> float:
        """The steady clock."""
        return self.steady

    def later(self, *, seconds: float = 0, minutes: float = 0) -> None:
        """Let time go by on both."""
        span = timedelta(seconds=seconds, minutes=minutes)
        self.now += span
        self.steady += span.total_seconds()


def begin(path: Path) -> str:
    """Open a litter in the journal at this path; returns its id."""
    details = Draft(at=TWO, zone=ZONE, what=Details(dam="Ash", zone=ZONE), text="litter opened")
    with open_journal(path) as journal:
        return journal.open_litter("Ash", opened=TWO, drafts=[details])


@contextmanager
def seated(path: Path) -> Iterator[Session]:
    """A session at the litter in use, which is opened if there is none."""
    with open_journal(path) as journal:
        current = journal.current()
    slug = current.slug if current else begin(path)
    with open_journal(path) as journal:
        yield Session(journal, slug, journal.entries(slug))


@contextmanager
def sitting_at(path: Path, watch: Watch) -> Iterator[Sitting]:
    """A person at the box, without a terminal."""
    with seated(path) as here:
        yield Sitting(here, clock=watch.clock, monotonic=watch.monotonic, by="Jana")


def demo_verdict(night: str, at: datetime) -> Verdict:
    """What stands at a moment of a demo night."""
    [case] = chapters(DEMO / f"{night}.night")
    return assess(Story(case.night.entries).until(at), DEFAULT).verdict(at)


def demo_board(night: str, at: datetime) -> Board:
    """The board at a moment of a demo night."""
    [case] = chapters(DEMO / f"{night}.night")
    typed = [entry for entry in case.night.entries if entry.at <= at]
    return board(demo_verdict(night, at), typed, zone_named(typed[0].zone), latest=12)
