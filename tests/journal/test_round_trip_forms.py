"""Whatever a record holds, it survives each form that comes back, and tells the same account."""

import tempfile
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from boxlamp.desk.accounting import matter_of, matter_of_file
from boxlamp.desk.files import read_record
from boxlamp.desk.session import Session, session
from boxlamp.journal import open_journal
from boxlamp.journal.exchange import export_jsonl
from boxlamp.journal.verify import verify
from boxlamp.language import write_night
from boxlamp.model.entry import Draft, Entry
from boxlamp.model.happenings import Details
from boxlamp.paper.account.account import account_of
from support.happenings import NOW, records
from support.nights import CASES, DEMO

FORMS = ("jsonl", "night")
LITTER = "ash"
IN_PRAGUE = Draft(at=NOW, what=Details(zone="Europe/Prague")).numbered(1, LITTER, NOW)


def in_a_litter(entries: tuple[Entry, ...]) -> tuple[Entry, ...]:
    """A record as one litter of a journal holds it. Without a zone the computer's would count."""
    return tuple(
        entry.model_copy(update={"id": number, "litter": LITTER})
        for number, entry in enumerate((IN_PRAGUE, *entries), start=1)
    )


RECORDS = records().map(in_a_litter)


def kept(path: Path, entries: tuple[Entry, ...]) -> None:
    """Keep entries in a new journal."""
    with open_journal(path) as journal:
        journal.import_entries(LITTER, "Ash", entries, opened=NOW)


def exported(here: Session, form: str) -> str:
    if form == "night":
        return write_night(here.entries)
    return "".join(f"{line}\n" for line in export_jsonl(here.journal, here.litter))


def taken_in(file: Path, path: Path) -> None:
    """What the import command does with a file."""
    record = read_record(str(file))
    with open_journal(path) as journal:
        journal.import_entries(record.slug, record.name, record.entries, opened=record.opened)


def last_of(entries: tuple[Entry, ...]) -> datetime:
    return max(moment for entry in entries for moment in (entry.at, entry.recorded))


@pytest.mark.parametrize("form", FORMS)
@given(entries=RECORDS, early=st.integers(0, 1))
@settings(
    max_examples=100,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture],
)
def test_any_record_comes_back_and_tells_the_same(
    form: str, entries: tuple[Entry, ...], early: int
) -> None:
    """Every kind, corrections, hostile text: the same entries, the same account at any moment."""
    moment = last_of(entries) - early * timedelta(hours=2)
    with tempfile.TemporaryDirectory() as folder:
        first, second, file = (Path(folder) / name for name in ("a.db", "b.db", "litter"))
        kept(first, entries)
        with session(first, LITTER) as here:
            file.write_text(exported(here, form), encoding="utf-8", newline="\n")
            before = account_of(matter_of(here, moment))
        taken_in(file, second)
        with session(second, LITTER) as there:
            assert there.entries == entries
            after = account_of(matter_of(there, moment))
        assert verify(second).ok
        alone = account_of(matter_of_file(read_record(str(file)), moment))
    if form == "jsonl":
        assert alone.digest == after.digest == before.digest
    # The digest covers the opening too, which a night log does not carry.
    for account in (after, alone):
        assert account.model_dump(exclude={"digest"}) == before.model_dump(exclude={"digest"})


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize(
    "path",
    sorted([*DEMO.glob("*.night"), *(CASES / "published").glob("*.night")]),
    ids=lambda path: path.stem,
)
def test_every_night_tells_the_same_after_a_journey(path: Path, form: str, tmp_path: Path) -> None:
    """From its file to a journal, out again and into another: one account throughout."""
    first, second, file = tmp_path / "a.db", tmp_path / "b.db", tmp_path / "litter"
    taken_in(path, first)
    record = read_record(str(path))
    moment = last_of(record.entries) + timedelta(minutes=15)
    with session(first) as here:
        file.write_text(exported(here, form), encoding="utf-8", newline="\n")
        before = account_of(matter_of(here, moment))
    taken_in(file, second)
    with session(second) as there:
        after = account_of(matter_of(there, moment))
    alone = account_of(matter_of_file(record))

    if form == "jsonl":
        assert (after.litter, after.digest) == (before.litter, before.digest)
        assert alone == before
    left_out = {"litter", "digest"}
    assert after.model_dump(exclude=left_out) == before.model_dump(exclude=left_out)
