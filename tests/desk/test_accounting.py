from datetime import timedelta
from pathlib import Path

import pytest

from boxlamp import outside
from boxlamp.desk.accounting import matter_of, matter_of_file
from boxlamp.desk.files import Record, read_record
from boxlamp.desk.session import session
from boxlamp.journal import open_journal
from boxlamp.model.entry import Draft, Entry
from boxlamp.model.happenings import Amend, Birth, Details, Note, Rest, Strike, What
from boxlamp.paper.account.matter import Matter
from support.journals import NOW, later
from support.nights import DEMO


def typed(number: int, what: What, happened: float, recorded: float | None = None) -> Entry:
    """An entry with the minutes at which it happened and was typed."""
    draft = Draft.model_validate({"at": later(happened), "what": what.model_dump()})
    return draft.numbered(number, "ash", later(happened if recorded is None else recorded))


ENTRIES = (
    typed(1, Details(dam="Ash", zone="Europe/Prague"), 0),
    typed(2, Birth(pup=1), 10, 12),
    typed(3, Note(words="for later"), 60, 20),
    typed(4, Amend(target=3, what=Note(words="changed")), 21),
    typed(5, Rest(), 25),
    typed(6, Strike(target=5, why="no"), 30),
    typed(7, Birth(pup=2), 15, 40),
)


def judged(
    path: Path,
    minutes: float | None,
    entries: tuple[Entry, ...] = ENTRIES,
    *,
    known: bool = True,
) -> Matter:
    """A litter kept in a journal, judged at a minute as it was known then, or now."""
    with open_journal(path / "journal.db") as journal:
        journal.import_entries("ash", "Ash", entries, opened=NOW)
    with session(path / "journal.db") as here:
        return matter_of(here, None if minutes is None else later(minutes), known=known)


@pytest.mark.parametrize(
    ("minutes", "numbers", "alive"),
    [
        (11, [1], 0),  # born at 10 and typed at 12
        (12, [1, 2], 1),
        (22, [1, 2], 1),  # what was foretold waits, with its correction
        (27, [1, 2, 5], 1),
        (35, [1, 2, 5, 6], 1),
        (40, [1, 2, 5, 6, 7], 2),
        (60, [1, 2, 3, 4, 5, 6, 7], 2),
    ],
)
def test_a_moment_knows_what_had_happened_and_been_typed(
    tmp_path: Path, minutes: float, numbers: list[int], alive: int
) -> None:
    """Entries and verdict agree, whatever was typed later; the chain is always the whole one."""
    matter = judged(tmp_path, minutes)

    assert [entry.id for entry in matter.entries] == numbers
    assert len(matter.verdict.litter.pups) == alive
    assert matter.verdict.at == later(minutes)
    assert (matter.kept, matter.zone) == (7, "Europe/Prague")
    assert matter.chain == matter_of_file(Record("ash", "Ash", NOW, ENTRIES)).chain


def test_a_moment_can_be_told_as_the_record_reads_now(tmp_path: Path) -> None:
    """What was typed late counts from when it happened, and so do later corrections."""
    matter = judged(tmp_path, 15, known=False)

    assert [entry.id for entry in matter.entries] == [1, 2, 7]
    assert len(matter.verdict.litter.pups) == 2


def test_now_is_never_before_a_line_was_typed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A clock set back between two lines hides neither of them."""
    monkeypatch.setattr(outside, "now", lambda: later(5))
    entries = (ENTRIES[0], typed(2, Birth(pup=1), 30), typed(3, Rest(), 4))
    matter = judged(tmp_path, None, entries)

    assert matter.entries == entries
    assert matter.verdict.at == later(30)


def test_a_file_is_judged_a_little_after_its_last_line() -> None:
    """A quarter of an hour on, with its own zone; at another moment when one is given."""
    record = read_record(str(DEMO / "stalled-labour.night"))
    last = max(entry.at for entry in record.entries)
    matter = matter_of_file(record)

    assert matter.verdict.at == last + timedelta(minutes=15)
    assert matter.entries == record.entries
    assert (matter.litter, matter.kept) == (record.slug, len(record.entries))
    earlier = matter_of_file(record, last - timedelta(hours=1))
    assert earlier.verdict.at == last - timedelta(hours=1)
    assert len(earlier.entries) < len(matter.entries)
    assert earlier.chain == matter.chain


def test_a_file_with_nothing_in_it_is_no_failure() -> None:
    """A litter that was opened and never written to has an account too."""
    matter = matter_of_file(Record("ash", "Ash", NOW, ()))

    assert (matter.entries, matter.kept, matter.zone) == ((), 0, "UTC")
    assert matter.verdict.at == NOW + timedelta(minutes=15)


def test_a_zone_that_nobody_knows_counts_as_utc() -> None:
    """What a strange file calls its zone never stops the account."""
    strange = ENTRIES[1].model_copy(update={"zone": "Moon/Crater", "id": 1})

    assert matter_of_file(Record("ash", "Ash", NOW, (strange,))).zone == "UTC"


@pytest.mark.parametrize("year", ["1990", "2200"])
def test_the_edges_of_time_are_no_failure(year: str) -> None:
    """The first and the last moment that a record may hold."""
    moment = NOW.replace(year=int(year), month=12, day=31, hour=23, minute=59, second=59)
    entry = ENTRIES[1].model_copy(update={"at": moment, "recorded": moment, "id": 1})

    assert matter_of_file(Record("ash", "Ash", NOW, (entry,))).verdict.at >= moment
