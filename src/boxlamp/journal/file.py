"""One open journal file: its connection, its transactions, and its mirror kept in step."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from boxlamp.journal import mirror, rows
from boxlamp.journal.errors import (
    BusyError,
    ClosedError,
    DamagedError,
    JournalError,
    NotAJournalError,
    ReplacedError,
    from_system,
    translated,
)
from boxlamp.journal.notices import Notice, NoticeKind
from boxlamp.journal.paths import (
    identity,
    mirror_of,
    private_file,
    private_folder,
    set_aside,
    settled,
    sides_of,
)
from boxlamp.journal.schema import connect, undo

_ATTEMPTS = 5


class JournalFile:
    """A database and its mirror. Entries know nothing of this, and this nothing of entries."""

    def __init__(self, path: Path) -> None:
        self.path = settled(path)
        self.mirror = mirror_of(self.path)
        self.notices: list[Notice] = []
        self._connection: sqlite3.Connection | None = None
        self._identity: tuple[int, int] | None = None
        self._closed = False
        self._head: mirror.Head | None = None
        """The mirror's end as the last transaction found it: nobody else writes under its lock."""
        self._live()

    def close(self) -> None:
        """Let go of the file; closing twice does no harm."""
        self._let_go()
        self._closed = True

    @contextmanager
    def reading(self) -> Iterator[sqlite3.Connection]:
        """A connection for reading; all that is read in the block is of one moment."""
        connection = self._live()
        with translated(self.path):
            connection.execute("BEGIN")
            try:
                yield connection
            finally:
                undo(connection)

    @contextmanager
    def writing(self) -> Iterator[sqlite3.Connection]:
        """One write transaction: durable at the end of the block, or it never happened."""
        self._head = None
        with self._transaction() as connection:
            yield connection

    @contextmanager
    def _transaction(self) -> Iterator[sqlite3.Connection]:
        """The same right after another one: a mirror nobody touched since is not read again."""
        connection = self._begin()
        try:
            with translated(self.path):
                yield connection
                connection.execute("COMMIT")
        except BaseException:
            undo(connection)
            raise

    def data_version(self) -> int:
        """SQLite's own number for what others have committed."""
        with translated(self.path):
            (version,) = self._live().execute("PRAGMA data_version").fetchone()
        return int(version)

    def write_mirror(self, end: tuple[str, int, str] | None = None) -> None:
        """Bring the mirror up to the database. What goes wrong is a notice and no failure.

        ``end`` is the record just written. Should the file have been removed or replaced in the
        very moment of writing, so that the record is not in it, that is said aloud.
        """
        written_to, kept = self._identity, True
        try:
            for _ in range(2):
                # A transaction that changes nothing: its lock keeps two terminals from
                # appending at once. A second one is needed where the first put entries back
                # that only a damaged mirror had: once they are safe that mirror can go.
                with self._transaction() as connection:
                    kept = end is None or rows.hash_at(connection, *end[:2]) == end[2]
                    level = self._append(connection)
                if level:
                    break
        except JournalError as error:
            kept = end is None or identity(self.path) == written_to
            self._mirror_failed(error)
        if not kept:
            raise ReplacedError.about(self.path)

    def _append(self, connection: sqlite3.Connection) -> bool:
        """Write what the mirror lacks; says whether it is level with the database now."""
        with translated(self.mirror):
            head = self._head or mirror.read_head(self.mirror)
            stands = mirror.standing(connection, head)
            if head is None or stands != "behind":
                self._head = None  # to be looked at again
                return stands == "level"
            mirror.catch_up(connection, self.mirror, head)
        if head.torn or head.unended:
            self._say(
                "mirror-mended",
                f"The last line of the mirror {self.mirror} was torn; it is mended.",
            )
        return True

    def _live(self) -> sqlite3.Connection:
        """The connection to the file that the name means now.

        Somebody may have removed, restored or rebuilt it since it was opened: follow the name.
        """
        if self._closed:
            raise ClosedError.about(self.path)
        if self._connection is None or self._identity != identity(self.path):
            self._let_go()
            self._connection = self._opened()
            if self._mirror_is_off():
                self.write_mirror()
        return self._connection

    def _let_go(self) -> None:
        self._head = None
        if self._connection is not None:
            self._connection.close()
            self._connection = None

    def _opened(self) -> sqlite3.Connection:
        with translated(self.path):
            self._prepare()
            # Looked at before connecting: if the file changes in between, the next use notices.
            self._identity = identity(self.path)
            try:
                return connect(self.path)
            except NotAJournalError:
                # With a mirror of ours beside it, it was a journal once.
                if (head := mirror.read_head(self.mirror)) and head.record is not None:
                    raise DamagedError.about(self.path) from None
                raise

    def _prepare(self) -> None:
        """See to it that there is a file to open. A new one is filled from a mirror later."""
        if self.path.exists():
            return
        private_folder(self.path.parent)
        orphans = list(sides_of(self.path))
        if not self.path.exists():
            for side in orphans:
                # Beside a new database SQLite would play it back and spoil the file.
                set_aside(side)
        try:
            private_file(self.path)
        except FileExistsError:
            # Another terminal was faster.
            return

    def _begin(self) -> sqlite3.Connection:
        for _ in range(_ATTEMPTS):
            connection = self._live()
            with translated(self.path):
                connection.execute("BEGIN IMMEDIATE")
            try:
                with translated(self.path):
                    if self._identity == identity(self.path):
                        self._settle_mirror(connection)
                        return connection
            except BaseException:
                undo(connection)
                raise
            undo(connection)
        raise BusyError.about(self.path)

    def _mirror_is_off(self) -> bool:
        try:
            head = mirror.read_head(self.mirror)
        except OSError as error:
            self._mirror_failed(from_system(error, self.mirror))
            return False
        with self.reading() as connection:
            return mirror.standing(connection, head) != "level"

    def _settle_mirror(self, connection: sqlite3.Connection) -> None:
        """Before anything new is numbered: take back what only the mirror still has."""
        before, self._head = self._head, None
        try:
            if before is not None and mirror.still_at(self.mirror, before):
                self._head = before
                return
            self._head = mirror.read_head(self.mirror)
            stands = mirror.standing(connection, self._head)
            if stands in {"ahead", "differs"} and not self._take_back(connection):
                kept, self._head = set_aside(self.mirror), None
                self._say(
                    "mirror-set-aside",
                    f"The mirror did not belong to this database and was kept as {kept}; a new "
                    "one was begun. Run `boxlamp verify` to see whether anything is only there.",
                )
        except OSError as error:
            self._mirror_failed(from_system(error, self.mirror))

    def _take_back(self, connection: sqlite3.Connection) -> bool:
        """Put into the database what only the mirror has; says whether there was anything.

        The mirror is left as it is: should this transaction fail, all is as before.
        """
        lost = mirror.beyond(connection, self.mirror)
        empty = not rows.top(connection)
        if lost is None and empty:
            from boxlamp.journal.copies import from_mirror
            from boxlamp.journal.join import join

            lost = join([from_mirror(self.mirror)]).records
        if not lost:
            return False
        with translated(self.path):
            rows.insert(connection, lost)
        if empty:
            self._say(
                "database-rebuilt",
                f"The database {self.path} was gone. It was built again from its mirror: "
                f"{len(lost)} records; the litter last written to is {lost[-1].litter}.",
            )
        else:
            self._say(
                "entries-returned",
                f"The database had lost its last {len(lost)} records, perhaps in a power cut. "
                "They are back from the mirror.",
            )
        return True

    def _mirror_failed(self, error: JournalError) -> None:
        self._say(
            "mirror-behind",
            f"The record is safe in {self.path}, but its mirror could not be written; the next "
            f"entry will catch up. The reason: {error.sentence}",
        )

    def _say(self, kind: NoticeKind, sentence: str) -> None:
        notice = Notice(kind, sentence)
        if notice not in self.notices:
            self.notices.append(notice)
