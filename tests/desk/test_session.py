"""A litter that is open: what is kept between two looks never goes stale."""

from datetime import timedelta
from pathlib import Path

from boxlamp.desk.session import Session
from boxlamp.desk.writing import write
from support.boxes import TWO, begin, seated


def test_lines_that_lie_ahead_come_in_one_by_one(tmp_path: Path) -> None:
    """At every moment the verdict is that of a session opened at that very moment."""
    path = tmp_path / "journal.db"
    begin(path)
    with seated(path) as here:
        for line in ("push", "2026-03-02 03:20 pup dog 312g", "2026-03-02 03:40 afterbirth"):
            write(here, line, TWO, accept=True)
            here.refresh()
        for minutes in (0, 10, 79, 80, 81, 99, 100, 101, 10, 400):
            now = TWO + timedelta(minutes=minutes)
            fresh = Session(here.journal, here.litter, here.entries)
            kept, found = here.verdict(now), fresh.verdict(now)
            assert [alert.message for alert in kept.alerts] == [one.message for one in found.alerts]
            assert kept.litter == found.litter
            assert len(kept.litter.pups) == (minutes >= 80), minutes
