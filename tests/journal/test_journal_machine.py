"""Any sequence of writing, killing, damage, repair and exchange leaves the same record."""

import hashlib
import json
import shutil
import sqlite3
import tempfile
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from functools import partial
from pathlib import Path

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import initialize, invariant, precondition, rule

from boxlamp.journal import Journal, JournalError, open_journal
from boxlamp.journal.backup import backup
from boxlamp.journal.exchange import export_jsonl
from boxlamp.journal.journal import slugged
from boxlamp.journal.repair import rebuild_database, rebuild_mirror, recover
from boxlamp.journal.schema import wal_is_safe
from boxlamp.journal.verify import verify
from boxlamp.model.entry import Draft, Entry
from boxlamp.model.happenings import Birth, Note, Strike
from support.effort import effort
from support.journals import (
    NOW,
    OPENED,
    import_jsonl,
    next_pup,
    note,
    open_a_litter,
    strike,
    until_killed,
    write_notes,
)
from support.machines import CountedMachine, say_figures
from support.tellings import Line, Place, Told, ids_of, taken_in

WORDS = st.text(st.characters(exclude_categories=["Cs"]), max_size=20)
WRITER = st.integers(0, 1)
ALONE = wal_is_safe(sqlite3.sqlite_version_info)
"""With a WAL a repair is refused while any terminal has the journal open."""


def line(words: str) -> Line:
    """A note as it stands in the model."""
    return words, Note(words=words)


class JournalMachine(CountedMachine):
    """One journal open in two terminals and another one elsewhere, beside plain lists."""

    @initialize()
    def begin(self) -> None:
        """Open a journal twice, with one litter."""
        self.folder = Path(tempfile.mkdtemp())
        self.path = self.folder / "journal.db"
        self.mirror = self.folder / "journal.jsonl"
        self.file = self.folder / "litter.out"
        self.writers = [open_journal(self.path), open_journal(self.path)]
        self.away = open_journal(self.folder / "away" / "journal.db")
        self.home: Place = {}
        self.there: Place = {}
        self.mirror_whole = True
        self.open_litter(0, "Bramble")

    @contextmanager
    def alone(self) -> Iterator[None]:
        """A repair may need the journal for itself."""
        if not ALONE:
            yield
            return
        for writer in self.writers:
            writer.close()
        yield
        self.writers = [open_journal(self.path), open_journal(self.path)]
        self.mirror_whole = True

    def a_litter(self, data: st.DataObject, place: Place) -> str:
        """One of the litters of a place."""
        return data.draw(st.sampled_from(sorted(place)))

    # Writing

    @rule(by=WRITER, name=st.sampled_from(["Bramble", "Ash", "\u72ac"]))
    def open_litter(self, by: int, name: str) -> None:
        """Open a litter with a first line."""
        slug = self.writers[by].open_litter(name, opened=NOW, drafts=[OPENED])
        free = (one for one in ids_of(slugged(f"{name} 2026-03-02")) if one not in self.home)
        assert slug == next(free)
        self.home[slug] = Told(name, [(OPENED.text, OPENED.what)])
        self.mirror_whole = True

    @rule(by=WRITER, data=st.data(), words=st.lists(WORDS, max_size=3))
    def write(self, by: int, data: st.DataObject, words: list[str]) -> None:
        """Record notes, one or several at once; the other terminal reads along meanwhile."""
        litter = self.a_litter(data, self.home)
        lines = self.home[litter].lines
        before, other = [*lines], self.writers[1 - by]

        def make(entries: tuple[Entry, ...], place: int) -> Draft:
            assert len(entries) == len(before) + place
            assert self.read(other, litter) == before
            return note(words[place])(entries)

        makes = [partial(make, place=place) for place in range(len(words))]
        added = self.writers[by].record_many(litter, makes, recorded=NOW)
        assert [entry.id for entry in added] == [
            *range(len(lines) + 1, len(lines) + 1 + len(words))
        ]
        lines += map(line, words)
        self.mirror_whole = True

    @rule(by=WRITER, data=st.data())
    def birth(self, by: int, data: st.DataObject) -> None:
        """Record a birth, numbered after the ones that either terminal wrote."""
        lines = self.home[litter := self.a_litter(data, self.home)].lines
        born = sum(isinstance(what, Birth) for _, what in lines)
        self.writers[by].record(litter, next_pup(), recorded=NOW)
        lines.append(("pup", Birth(pup=born + 1)))
        self.mirror_whole = True

    @rule(by=WRITER, data=st.data())
    def strike(self, by: int, data: st.DataObject) -> None:
        """Strike an earlier entry, whoever wrote it: it stays."""
        lines = self.home[litter := self.a_litter(data, self.home)].lines
        target = data.draw(st.integers(1, len(lines)))
        self.writers[by].record(litter, strike(target), recorded=NOW)
        lines.append((f"strike {target}", Strike(target=target)))
        self.mirror_whole = True

    @rule(by=WRITER, data=st.data())
    def a_line_that_fails(self, by: int, data: st.DataObject) -> None:
        """When the second of two lines cannot be made, neither is written."""

        def fail(_entries: object) -> Draft:
            raise ZeroDivisionError

        with pytest.raises(ZeroDivisionError):
            self.writers[by].record_many(
                self.a_litter(data, self.home), [note("lost"), fail], recorded=NOW
            )

    @rule(by=WRITER)
    def reopen(self, by: int) -> None:
        """Close and open again."""
        self.writers[by].close()
        self.writers[by] = open_journal(self.path)
        self.mirror_whole = True

    # Killing

    @rule(data=st.data(), step=st.integers(0, 140), words=st.lists(WORDS, min_size=1, max_size=3),
          gone=st.booleans())  # fmt: skip
    def killed_while_writing(
        self, data: st.DataObject, step: int, words: list[str], gone: bool  # noqa: FBT001
    ) -> None:  # fmt: skip
        """A third terminal dies as it opens or writes: its lines are there all, or none."""
        lines = self.home[litter := self.a_litter(data, self.home)].lines
        if gone and self.mirror_whole:
            self.path.unlink()
        told = until_killed(step, partial(write_notes, self.path, litter, words))
        found = self.read(self.writers[0], litter)
        assert found in ([[*lines, *map(line, words)]] + ([] if told else [lines]))
        lines[:] = found
        self.mirror_whole = told

    @rule(step=st.integers(0, 110))
    def killed_while_opening_a_litter(self, step: int) -> None:
        """A litter is there with its first line, or not at all."""
        told = until_killed(step, partial(open_a_litter, self.path))
        slugs = [row.slug for row in self.writers[1].litters()]
        new = [slug for slug in slugs if slug not in self.home]
        assert len(new) == 1 if told else len(new) <= 1
        for slug in new:
            self.home[slug] = Told("Elm", [(OPENED.text, OPENED.what)])
        self.mirror_whole = told

    @precondition(lambda self: self.mirror_whole)
    @rule(
        step=st.integers(0, 180),
        repair=st.sampled_from([rebuild_database, rebuild_mirror, recover]),
    )
    def killed_while_repairing(self, step: int, repair: Callable[[Path], object]) -> None:
        """Each copy is the old one or the new one, and whole."""
        with self.alone():
            until_killed(step, partial(repair, self.path))

    # Damage and repair

    @rule(lost=st.integers(1, 3000), rubbish=st.binary(max_size=9))
    def tear_mirror(self, lost: int, rubbish: bytes) -> None:
        """Cut off the end of the mirror and leave rubbish there, as a power cut does."""
        size = self.mirror.stat().st_size if self.mirror.exists() else 0
        with self.mirror.open("ab") as file:
            file.truncate(max(0, size - lost))
            file.write(rubbish.replace(b"\n", b""))
        self.mirror_whole = False

    @rule()
    def delete_mirror(self) -> None:
        """Remove the mirror."""
        self.mirror.unlink(missing_ok=True)
        self.mirror_whole = False

    @precondition(lambda self: self.mirror_whole)
    @rule(by_hand=st.booleans(), by=WRITER)
    def delete_database(self, by_hand: bool, by: int) -> None:  # noqa: FBT001
        """Remove the database under the open journals; the mirror is whole."""
        self.path.unlink()
        if by_hand:
            with self.alone():
                rebuild_database(self.path)
        else:
            assert len(self.writers[by].litters()) == len(self.home)

    @rule()
    def rebuild_mirror(self) -> None:
        """Write the mirror anew from the database."""
        with self.alone():
            rebuild_mirror(self.path)
        self.mirror_whole = True

    @precondition(lambda self: self.mirror_whole)
    @rule()
    def rebuild_database(self) -> None:
        """Build the database anew from the mirror."""
        with self.alone():
            rebuild_database(self.path)

    @rule()
    def recover(self) -> None:
        """Make the best of both copies."""
        with self.alone():
            assert recover(self.path).findings == ()
        self.mirror_whole = True

    @rule(number=st.integers(1, 10**9))
    def back_up(self, number: int) -> None:
        """A copy made while both terminals have the journal open is whole and says the same."""
        made = backup(self.path, self.folder / "copies" / f"{number}.db")
        assert made.report.ok
        with open_journal(made.path) as copy:
            assert {row.slug for row in copy.litters()} == self.home.keys()
            assert all(self.read(copy, slug) == told.lines for slug, told in self.home.items())
        shutil.rmtree(made.path.parent)

    # Exchange

    @rule(by=WRITER, data=st.data(), as_new=st.booleans())
    def send(self, by: int, data: st.DataObject, as_new: bool) -> None:  # noqa: FBT001
        """Export a litter and import it elsewhere."""
        litter = self.a_litter(data, self.home)
        self.carry(litter, (self.writers[by], self.home), (self.away, self.there), as_new=as_new)

    @precondition(lambda self: self.there)
    @rule(by=WRITER, data=st.data(), as_new=st.booleans())
    def bring(self, by: int, data: st.DataObject, as_new: bool) -> None:  # noqa: FBT001
        """Export a litter elsewhere and import it here."""
        litter = self.a_litter(data, self.there)
        before = {slug: len(told.lines) for slug, told in self.home.items()}
        self.carry(litter, (self.away, self.there), (self.writers[by], self.home), as_new=as_new)
        if before != {slug: len(told.lines) for slug, told in self.home.items()}:
            self.mirror_whole = True

    @rule(by=WRITER, data=st.data())
    def take_in_own(self, by: int, data: st.DataObject) -> None:
        """A litter exported and imported where it is: nothing is added."""
        litter = self.a_litter(data, self.home)
        place = self.writers[by], self.home
        before = len(self.home[litter].lines)
        self.carry(litter, place, place, as_new=False)
        assert len(self.home[litter].lines) == before
        self.mirror_whole = True

    @precondition(lambda self: self.there)
    @rule(data=st.data(), words=WORDS)
    def write_elsewhere(self, data: st.DataObject, words: str) -> None:
        """The litter goes on elsewhere as well."""
        litter = self.a_litter(data, self.there)
        self.away.record(litter, note(words), recorded=NOW)
        self.there[litter].lines.append(line(words))

    def carry(
        self, litter: str, source: tuple[Journal, Place], target: tuple[Journal, Place], *,
        as_new: bool,
    ) -> None:  # fmt: skip
        """Carry a litter from one journal into another, and the model with it."""
        told, (journal, place) = source[1][litter], target
        lines = export_jsonl(source[0], litter)
        self.file.write_bytes("".join(f"{one}\n" for one in lines).encode())
        wanted = taken_in(place, litter, told, as_new=as_new)
        if wanted is None:
            with pytest.raises(JournalError):
                import_jsonl(journal, self.file, as_new=as_new)
            return
        slug, added = wanted
        would = import_jsonl(journal, self.file, as_new=as_new, dry_run=True)
        taken = import_jsonl(journal, self.file, as_new=as_new)
        assert would == taken
        assert (taken.litter, len(taken.added), taken.new) == (slug, added, slug not in place)
        here = place.setdefault(slug, Told(told.name, []))
        here.lines.extend(told.lines[len(told.lines) - added :])

    # What must hold

    def read(self, journal: Journal, litter: str) -> list[Line]:
        """A litter's lines."""
        return [(entry.text, entry.what) for entry in journal.entries(litter)]

    @invariant()
    def nothing_acknowledged_is_lost(self) -> None:
        """Each terminal reads exactly what any of them acknowledged, numbered without a gap."""
        for journal, place in (
            *((one, self.home) for one in self.writers),
            (self.away, self.there),
        ):
            assert {row.slug: row.name for row in journal.litters()} == {
                slug: told.name for slug, told in place.items()
            }
            for slug, told in place.items():
                entries = journal.entries(slug)
                assert [(entry.text, entry.what) for entry in entries] == told.lines
                assert [entry.id for entry in entries] == [*range(1, len(told.lines) + 1)]

    @invariant()
    def the_hashes_chain(self) -> None:
        """Worked out anew, with nothing but a hash function and the two files."""
        with closing(sqlite3.connect(f"{self.path.as_uri()}?mode=ro", uri=True)) as file:
            rows = file.execute("SELECT seq, litter, number, hash, body FROM record ORDER BY seq")
            records = rows.fetchall()
        ends: dict[str, tuple[int, str]] = {}
        for place, (seq, litter, number, own, body) in enumerate(records, start=1):
            start = hashlib.sha256(f"boxlamp journal 1\n{litter}".encode()).hexdigest()
            last, prev = ends.get(litter, (-1, start))
            assert (seq, number) == (place, last + 1)
            assert own == hashlib.sha256(f"{prev}\n{body}".encode()).hexdigest()
            ends[litter] = number, own
        if self.mirror_whole:
            lines = self.mirror.read_bytes().split(b"\n")
            assert lines.pop() == b""
            mirrored = map(json.loads, lines)
            assert [
                (one["seq"], one["litter"], one["number"], one["hash"]) for one in mirrored
            ] == [record[:4] for record in records]

    @precondition(lambda self: self.mirror_whole)
    @invariant()
    def both_copies_agree(self) -> None:
        """Whenever the journal has had a chance to mend its mirror, the check is clean."""
        assert verify(self.path).findings == ()

    def teardown(self) -> None:
        """Close and clear up."""
        if hasattr(self, "away"):
            for journal in (*self.writers, self.away):
                journal.close()
            shutil.rmtree(self.folder)


TestJournalMachine = JournalMachine.TestCase
TestJournalMachine.settings = settings(
    max_examples=effort(8, nightly=60), stateful_step_count=effort(15, nightly=40), deadline=None
)


def teardown_module() -> None:
    """Say how much was tried."""
    say_figures(JournalMachine)
