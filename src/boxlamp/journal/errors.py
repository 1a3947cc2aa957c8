"""What can go wrong with the record, each with one sentence a tired person can act on.

Every error says what happened, where, and what to do. Errors of SQLite and of the operating
system are turned into these in one place: :func:`from_sqlite` and :func:`from_system`.
"""

import errno
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Self


class JournalError(Exception):
    """Something is wrong with the record. The sentence is fit to be shown as it is."""

    exit_code = 2
    usual = "Something went wrong with {path}."

    def __init__(self, sentence: str) -> None:
        super().__init__(sentence)
        self.sentence = sentence

    @classmethod
    def about(cls, path: Path) -> Self:
        """The usual sentence of this error, about this file."""
        return cls(cls.usual.format(path=path))


class DiskError(JournalError):
    """The disk refused to read or write."""

    usual = (
        "The disk would not read or write {path}. What was acknowledged before is kept. "
        "Check the disk and its cable, look at the last entries, and type the line again if it "
        "is not there."
    )


class DiskFullError(DiskError):
    """No room is left."""

    usual = (
        "The disk is full, so this was not written to {path}. What was acknowledged before is "
        "kept. Make room and type the line again."
    )


class NotWritableError(JournalError):
    """The file or its folder is read-only, or belongs to somebody else."""

    usual = (
        "{path} cannot be written: the file or its folder is read-only, or belongs to somebody "
        "else. Nothing was changed. Make it writable, or set BOXLAMP_JOURNAL to another file."
    )


class NotAJournalError(JournalError):
    """A file, but not one of ours. It is left as it is."""

    usual = (
        "{path} is not a Boxlamp journal, so it was left as it is. "
        "Give the path of a journal, or of a file that does not exist yet."
    )


class NewerSchemaError(JournalError):
    """Written by a newer Boxlamp than this one."""

    usual = (
        "{path} was written by a newer Boxlamp than this one, so it was left as it is. "
        "Install the newer Boxlamp to use it."
    )


class BusyError(JournalError):
    """Another program held the file for too long."""

    usual = (
        "Another program has kept {path} busy for too long. Nothing was changed. "
        "Wait a moment and type the line again, or close the other program."
    )


class ReplacedError(JournalError):
    """The file was removed, or another put in its place, in the moment of writing."""

    usual = (
        "{path} was removed or replaced by another program while this was being written, so it "
        "may not have been kept. Look at the last entries and type the line again."
    )


class DamagedError(JournalError):
    """The file is a journal, but parts of it cannot be read or do not agree."""

    usual = (
        "{path} is damaged. Leave it as it is and run `boxlamp verify`, "
        "which can rebuild it from its mirror."
    )


class ClosedError(JournalError):
    """The journal was used after it was closed: a mistake in the program."""

    usual = "{path} has been closed and cannot be used any more."


class NoSuchLitterError(JournalError):
    """No litter goes by this name."""


class RefusedError(JournalError):
    """A file or an entry that the journal will not take in."""


class InTheWayError(JournalError):
    """A file is where a new one should go. Nothing is ever overwritten."""

    usual = "{path} is already there and is never overwritten. Choose another name."


_BY_CODE: dict[int, type[JournalError]] = {
    sqlite3.SQLITE_FULL: DiskFullError,
    sqlite3.SQLITE_READONLY: NotWritableError,
    sqlite3.SQLITE_CANTOPEN: NotWritableError,
    sqlite3.SQLITE_PERM: NotWritableError,
    sqlite3.SQLITE_AUTH: NotWritableError,
    sqlite3.SQLITE_IOERR: DiskError,
    sqlite3.SQLITE_NOTADB: NotAJournalError,
    sqlite3.SQLITE_BUSY: BusyError,
    sqlite3.SQLITE_LOCKED: BusyError,
    sqlite3.SQLITE_PROTOCOL: BusyError,
}

_BY_ERRNO: dict[int, type[JournalError]] = {
    errno.ENOSPC: DiskFullError,
    errno.EDQUOT: DiskFullError,
    errno.EFBIG: DiskFullError,
    errno.EROFS: NotWritableError,
    errno.EACCES: NotWritableError,
    errno.EPERM: NotWritableError,
    errno.ENOTDIR: NotWritableError,
    errno.EEXIST: InTheWayError,
}


def from_sqlite(error: sqlite3.Error, path: Path) -> JournalError:
    """Our error for one of SQLite's. Whatever has no name of its own counts as damage."""
    # The low byte is the kind; the rest only says which call met it.
    code = getattr(error, "sqlite_errorcode", sqlite3.SQLITE_ERROR)
    if code == sqlite3.SQLITE_READONLY_DBMOVED:
        return ReplacedError.about(path)
    return _BY_CODE.get(code & 0xFF, DamagedError).about(path)


def from_system(error: OSError, path: Path) -> JournalError:
    """Our error for one of the operating system's."""
    return _BY_ERRNO.get(error.errno or 0, DiskError).about(path)


@contextmanager
def translated(path: Path) -> Iterator[None]:
    """Within this block, errors of SQLite and the operating system become ours."""
    try:
        yield
    except sqlite3.Error as error:
        raise from_sqlite(error, path) from error
    except UnicodeDecodeError as error:
        # A complaint of SQLite that quotes a spoilt page.
        raise DamagedError.about(path) from error
    except OSError as error:
        raise from_system(error, path) from error
