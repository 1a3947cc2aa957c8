"""Very many programs at one journal: no number twice, no entry lost, no mirror torn."""

import time
from collections import Counter
from multiprocessing.connection import Connection
from pathlib import Path

from boxlamp.journal import open_journal
from boxlamp.journal.errors import BusyError
from boxlamp.journal.verify import verify
from boxlamp.model.happenings import Birth
from support.effort import effort
from support.journals import CHILDREN, NOW, next_pup

WRITERS = effort(12, nightly=200)
EACH = effort(2, nightly=4)
_MOST_PUPS = 99


def write_pups(path: Path, litter: str, own: int, told: Connection) -> None:
    """In a child: some births, each tried again when the journal is too busy; tell what came."""
    busy = 0
    for turn in range(EACH):
        entry = None
        while entry is None:
            try:
                with open_journal(path) as journal:
                    entry = journal.record(litter, next_pup(f"{own} {turn}"), recorded=NOW)
            except BusyError:
                busy += 1
        told.send((entry.id, entry.text, busy))
    told.close()


def test_very_many_writers_at_once(tmp_path: Path) -> None:
    """Each program of its own opens, writes and leaves: every acknowledged entry is there once."""
    path = tmp_path / "journal.db"
    litters = -(-WRITERS * EACH // _MOST_PUPS)
    with open_journal(path) as journal:
        slugs = [journal.open_litter(f"Dam {n}", opened=NOW) for n in range(litters)]
    hear, tell = CHILDREN.Pipe(duplex=False)
    began = time.monotonic()
    children = [
        CHILDREN.Process(target=write_pups, args=(path, slugs[own % litters], own, tell))
        for own in range(WRITERS)
    ]
    for child in children:
        child.start()
    tell.close()
    told = [hear.recv() for _ in range(WRITERS * EACH)]
    for child in children:
        child.join()
        assert child.exitcode == 0
    hear.close()
    spent = time.monotonic() - began
    with open_journal(path) as journal:
        assert journal.take_notices() == ()
        entries = [entry for slug in slugs for entry in journal.entries(slug)]
        for slug in slugs:
            births = [entry.what for entry in journal.entries(slug)]
            assert births == [Birth(pup=number) for number in range(1, len(births) + 1)]
    assert Counter(entry.text for entry in entries) == Counter(text for _, text, _ in told)
    assert max(Counter(entry.text for entry in entries).values()) == 1
    assert verify(path).ok
    busy = sum({text.split()[0]: busy for _, text, busy in told}.values())
    print(  # noqa: T201 the figure of the nightly run
        f"{WRITERS} writers at once, {len(entries)} entries in {spent:.1f} s, none lost, no number "
        f"twice; too busy and tried again: {busy}"
    )
