"""The journal: litters and their entries, durable before anything is acknowledged."""

import re
import sqlite3
import unicodedata
from collections.abc import Callable, Iterable, Sequence
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import Self

from boxlamp.journal import rows
from boxlamp.journal.chain import Opening, Record
from boxlamp.journal.errors import NoSuchLitterError
from boxlamp.journal.file import JournalFile
from boxlamp.journal.intake import Intake, intake, refusing
from boxlamp.journal.notices import Notice, clock_notice, clock_went_back
from boxlamp.journal.rows import LitterRow
from boxlamp.model.entry import Draft, Entry

Make = Callable[[tuple[Entry, ...]], Draft]
"""Given all entries of the litter as they stand, what the new one says."""


def open_journal(path: Path) -> "Journal":
    """Open the journal at this path, making it when there is none.

    Whatever an earlier crash left behind is put right here; ``notices`` says what was done.
    """
    return Journal(JournalFile(path))


class Journal:
    """The durable record of all litters. Use it in a ``with`` block, or close it.

    ``notices`` gathers what a person should be told; the shell shows and clears it with
    :meth:`take_notices`. Everything that can fail raises a ``JournalError``.
    """

    def __init__(self, file: JournalFile) -> None:
        self._file = file
        self._read: dict[str, tuple[str, tuple[Entry, ...]]] = {}

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def close(self) -> None:
        """Let go of the file. Nothing needs saving: every entry already is."""
        self._file.close()

    @property
    def path(self) -> Path:
        """Where the database lies."""
        return self._file.path

    @property
    def mirror(self) -> Path:
        """Where the plain-text mirror lies."""
        return self._file.mirror

    def take_notices(self) -> tuple[Notice, ...]:
        """What a person should be told since this was last asked."""
        notices = tuple(self._file.notices)
        self._file.notices.clear()
        return notices

    # Litters

    def litters(self) -> list[LitterRow]:
        """All litters in the order they were opened."""
        with self._file.reading() as connection:
            return list(rows.openings(connection))

    def litter(self, slug: str) -> LitterRow:
        """One litter by its id."""
        with self._file.reading() as connection:
            count, _ = _end(connection, slug)
            opening = rows.opening(connection, slug)
        return LitterRow(slug, opening.name, opening.opened, count)

    def current(self) -> LitterRow | None:
        """The litter in use: the one chosen, else the one last written to; None at first."""
        with self._file.reading() as connection:
            chosen = rows.setting(connection, "current") or rows.last_written(connection)
        return self.litter(chosen) if chosen else None

    def choose(self, slug: str) -> LitterRow:
        """Make this the litter in use."""
        row = self.litter(slug)
        with self._file.writing() as connection:
            rows.set_setting(connection, "current", slug)
        return row

    def open_litter(
        self, name: str, *, opened: datetime, hint: str = "", drafts: Sequence[Draft] = (),
        by: str = "",
    ) -> str:  # fmt: skip
        """Open a litter with its first entries, all or nothing; it becomes the one in use.

        The id returned is made of ``hint`` (or the name) and the day, and is always a new one.
        """
        with self._file.writing() as connection:
            slug = rows.free_slug(connection, slugged(f"{hint or name} {opened:%Y-%m-%d}"))
            with refusing(f"The litter {name[:80]!r}"):
                opening = Opening(slug=slug, name=name, opened=opened)
                entries = [
                    draft.numbered(number, slug, opened, by)
                    for number, draft in enumerate(drafts, start=1)
                ]
            bodies = [one.model_dump_json() for one in (opening, *entries)]
            end = rows.append(connection, slug, bodies)
            rows.set_setting(connection, "current", slug)
        self._file.write_mirror(end)
        return slug

    # Entries

    def entries(self, litter: str) -> tuple[Entry, ...]:
        """All entries of a litter in the order of their numbers."""
        with self._file.reading() as connection:
            return self._entries(connection, litter)

    def data_version(self) -> int:
        """A number that changes when another program has written anything. Very cheap."""
        return self._file.data_version()

    def record(self, litter: str, make: Make, *, recorded: datetime, by: str = "") -> Entry:
        """Add one entry and return it, numbered and durable.

        ``make`` is called with all entries of the litter while nobody else can write, so that
        what it counts (the next pup's number, say) is true of the entry it makes.
        """
        return self.record_many(litter, [make], recorded=recorded, by=by)[0]

    def record_many(
        self, litter: str, makes: Iterable[Make], *, recorded: datetime, by: str = ""
    ) -> tuple[Entry, ...]:
        """Add several entries, all or nothing; each ``make`` also sees the ones before it."""
        added: list[Entry] = []
        with self._file.writing() as connection:
            before = self._entries(connection, litter)
            for make in makes:
                every = (*before, *added) if added else before
                with refusing():
                    added.append(make(every).numbered(len(every) + 1, litter, recorded, by))
            end = rows.append(connection, litter, [entry.model_dump_json() for entry in added])
        # Known by its hash: should the record not be there after all, all is read again.
        self._read[litter] = (end[2], (*before, *added))
        self._file.write_mirror(end)
        if added and (back := clock_went_back(before, added[0].recorded)) is not None:
            self._file.notices.append(clock_notice(back, added[0].id))
        return tuple(added)

    # Copies

    def records(self, litter: str) -> list[Record]:
        """The litter's chain as it is stored, its opening first."""
        with self._file.reading() as connection:
            _end(connection, litter)
            return rows.records_of(connection, litter)

    def import_entries(  # noqa: PLR0913 a litter and two questions about it
        self, slug: str, name: str, entries: Sequence[Entry], *, opened: datetime,
        as_new: bool = False, dry_run: bool = False,
    ) -> Intake:  # fmt: skip
        """Take in a whole litter written elsewhere, all or nothing.

        What is here already is not added again, and a longer version of it adds only its new
        end. One that contradicts is refused, or with ``as_new`` kept under an id of its own.
        """
        with refusing(f"The litter {name[:80]!r}"):
            opening = Opening(slug=slug, name=name, opened=opened)
        if dry_run:
            with self._file.reading() as connection:
                return intake(connection, opening, tuple(entries), as_new=as_new)
        with self._file.writing() as connection:
            taken = intake(connection, opening, tuple(entries), as_new=as_new)
            end = rows.append(connection, taken.litter, taken.bodies())
        self._file.write_mirror(end)
        return taken

    def _entries(self, connection: sqlite3.Connection, litter: str) -> tuple[Entry, ...]:
        """The litter's entries, reading only those that came since they were last read."""
        number, own = _end(connection, litter)
        known, entries = self._read.get(litter, ("", ()))
        if known != own or len(entries) != number:
            if not entries or rows.hash_at(connection, litter, len(entries)) != known:
                entries = ()
            entries = (*entries, *rows.entries_after(connection, litter, len(entries)))
            self._read[litter] = (own, entries)
        return entries


def slugged(words: str) -> str:
    """A short id out of a name: plain letters and digits with hyphens between."""
    plain = unicodedata.normalize("NFKD", words).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", plain)[:80].strip("-") or "litter"


def _end(connection: sqlite3.Connection, litter: str) -> tuple[int, str]:
    """Number and hash of a litter's last record; refuses a litter that is not there."""
    end = rows.last(connection, litter)
    if end is None:
        names = [row.slug for row in rows.openings(connection)]
        known = f"The litters are: {', '.join(names[-10:])}." if names else "There is none yet."
        raise NoSuchLitterError(f"There is no litter {litter[:100]!r} in this journal. {known}")
    return end
