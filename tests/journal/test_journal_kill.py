"""Killed at any moment, and several terminals at once: nothing acknowledged is ever lost."""

import random
import time
from pathlib import Path

import pytest

from boxlamp.journal import open_journal
from boxlamp.journal.verify import verify
from boxlamp.model.happenings import Birth
from support.effort import NIGHTLY, effort
from support.journals import CHILDREN, NOW, next_pup, texts, write_births, write_for_ever

KILLS = effort(30, nightly=1000)


def test_killed_at_any_moment_nothing_acknowledged_is_lost(tmp_path: Path) -> None:
    """Kill -9 at random moments: every entry that was acknowledged is there, and all is whole."""
    chance = random.Random(20260302)  # noqa: S311 no secret, the same moments each time
    path = tmp_path / "journal.db"
    with open_journal(path) as journal:
        litter = journal.open_litter("Bramble", opened=NOW)
    known: list[str] = []
    acknowledged = 0
    for _ in range(KILLS):
        hear, tell = CHILDREN.Pipe(duplex=False)
        child = CHILDREN.Process(target=write_for_ever, args=(path, litter, tell))
        child.start()
        tell.close()
        told: list[tuple[int, str]] = [hear.recv() for _ in range(chance.randrange(4))]
        time.sleep(chance.random() * 0.004)
        child.kill()
        child.join()
        while hear.poll():
            try:
                told.append(hear.recv())
            except EOFError:
                break
        hear.close()
        with open_journal(path) as journal:
            found = texts(journal, litter)
        assert found[: len(known)] == known
        assert [found[number - 1] for number, _ in told] == [text for _, text in told]
        # At most the one that was being written may be there without having been told.
        assert len(found) <= len(known) + len(told) + 1
        report = verify(path)
        assert report.ok, report.findings
        known, acknowledged = found, acknowledged + len(told)
    assert not list(tmp_path.glob("*.kept-*"))
    if NIGHTLY:
        print(f"\n{KILLS} kills, {acknowledged} entries acknowledged, 0 lost")  # noqa: T201 a proof prints its figure


@pytest.mark.parametrize("terminals", [2, 8])
def test_terminals_at_once_give_every_number_once(tmp_path: Path, terminals: int) -> None:
    """Several programs write at the same time: no entry is lost and no number given twice."""
    path = tmp_path / "journal.db"
    each = 96 // terminals
    with open_journal(path) as journal:
        litter = journal.open_litter("Bramble", opened=NOW)
    hear, tell = CHILDREN.Pipe(duplex=False)
    children = [
        CHILDREN.Process(target=write_births, args=(path, litter, each, tell))
        for _ in range(terminals)
    ]
    for child in children:
        child.start()
    tell.close()
    told = [hear.recv() for _ in range(each * terminals)]
    for child in children:
        child.join()
        assert child.exitcode == 0
    hear.close()
    assert sorted(told) == list(range(1, 97))
    with open_journal(path) as journal:
        entries = journal.entries(litter)
        assert [entry.what for entry in entries] == [Birth(pup=n) for n in range(1, 97)]
        assert len({entry.text for entry in entries}) == terminals
        assert journal.record(litter, next_pup(), recorded=NOW).id == 97
        assert journal.take_notices() == ()
    assert verify(path).ok


def test_terminals_that_start_at_once_share_one_journal(tmp_path: Path) -> None:
    """When several programs make, or rebuild, the same journal at once they end with one."""
    path = tmp_path / "new" / "journal.db"
    for _ in range(3):
        children = [CHILDREN.Process(target=open_and_write, args=(path, n)) for n in range(4)]
        for child in children:
            child.start()
        for child in children:
            child.join()
            assert child.exitcode == 0
        # Next time round they find only the mirror.
        path.unlink()
    with open_journal(path) as journal:
        assert len(journal.litters()) == 12
        assert all(row.entries == 1 for row in journal.litters())
    assert verify(path).ok


def open_and_write(path: Path, number: int) -> None:
    """In a child: open the journal, whatever there is, and write a litter with one entry."""
    with open_journal(path) as journal:
        litter = journal.open_litter(f"dam {number}", opened=NOW)
        journal.record(litter, next_pup(), recorded=NOW)
