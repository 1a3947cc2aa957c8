"""The mirror: the same record as plain JSON lines, readable without the program.

It is written after the database and always healed from it. Whoever calls the functions that
write holds the database's write lock, which serves as the lock of the mirror too.
"""

import os
import sqlite3
from collections.abc import Iterator
from io import FileIO
from pathlib import Path
from typing import Literal, NamedTuple

from boxlamp.journal import rows
from boxlamp.journal.chain import MIRROR_SCHEMA, Record, from_line
from boxlamp.journal.paths import flush, open_private, sync_folder, write_all

_BATCH = 1 << 20
_START = f'{{"schema":{MIRROR_SCHEMA},"seq":'.encode()

Standing = Literal["level", "behind", "ahead", "differs"]


class Head(NamedTuple):
    """The last record of a mirror, without reading the rest.

    ``size`` counts the bytes that are whole lines; ``torn`` the bytes after them. A last line
    that is whole but for its line end counts as whole, and is ``unended``.
    """

    record: Record | None
    size: int
    torn: int = 0
    unended: bool = False
    file: tuple[int, int] | None = None
    """Which file it was read from."""

    @property
    def seq(self) -> int:
        """How many records the mirror holds."""
        return self.record.seq if self.record else 0


def read_head(mirror: Path) -> Head | None:
    """The mirror's head; None when its last whole line is no line of a mirror."""
    try:
        # Without a buffer: one read is all it takes.
        with FileIO(mirror) as file:
            state = os.fstat(file.fileno())
            end, own = state.st_size, (state.st_dev, state.st_ino)
            tail = _last_two(file, end)
    except FileNotFoundError:
        return Head(None, 0)
    line, ended, rest = tail.rpartition(b"\n")
    if rest and (record := _whole(rest)) is not None:
        return Head(record, end, unended=True, file=own)
    if not ended:
        # All there is may be one torn line of ours; anything else is somebody else's file.
        ours = rest[: len(_START)] == _START[: len(rest)] or not rest.strip(b"\0")
        return Head(None, 0, torn=len(rest), file=own) if ours else None
    record = _whole(line.rpartition(b"\n")[2])
    return Head(record, end - len(rest), len(rest), file=own) if record is not None else None


def still_at(mirror: Path, head: Head) -> bool:
    """Whether a mirror read a moment ago still ends where it did: nobody has added to it since.

    Only for the moment between writing the database and writing the mirror: every writer adds
    whole lines, but over longer a person may have changed a line and not its length.
    """
    try:
        state = mirror.stat()
    except FileNotFoundError:
        return False
    now = (state.st_dev, state.st_ino), state.st_size
    return now == (head.file, head.size) and not (head.torn or head.unended)


def _whole(line: bytes) -> Record | None:
    """The record in a line, if not a byte of it is missing or changed."""
    record = from_line(line)
    return record if record is not None and record.follows(record.prev) else None


def _last_two(file: FileIO, end: int) -> bytes:
    """At least the last whole line and whatever comes after it."""
    length = 4096
    while True:
        start = max(0, end - length)
        file.seek(start)
        tail = file.read(end - start)
        if start == 0 or tail.count(b"\n") > 1:
            return tail
        length *= 8


def standing(connection: sqlite3.Connection, head: Head | None) -> Standing:
    """How the mirror stands to the database, judged by its last record alone."""
    if head is None:
        return "differs"
    count = rows.top(connection)
    if head.record is None:
        return "behind" if count or head.torn else "level"
    if head.seq > count:
        return "ahead"
    seq, litter, number = head.record.seq, head.record.litter, head.record.number
    found = connection.execute(
        "SELECT litter, number, hash FROM record WHERE seq = ?", (seq,)
    ).fetchone()
    if found != (litter, number, head.record.hash):
        return "differs"
    return "behind" if seq < count or head.torn or head.unended else "level"


def catch_up(connection: sqlite3.Connection, mirror: Path, head: Head) -> None:
    """Write what the mirror lacks, after cutting off a torn last line. Raises OSError."""
    with open_private(mirror, "a") as file:
        empty = not file.tell()
        if head.torn:
            file.truncate(head.size)
        pending = bytearray(b"\n" if head.unended else b"")
        for record in rows.records_after(connection, head.seq):
            pending += record.line()
            if len(pending) >= _BATCH:
                write_all(file, pending)
                pending.clear()
        # In the usual case this is one line, and the only write.
        write_all(file, pending)
        flush(file.fileno())
    if empty:  # it was made just now, and its name must last too
        sync_folder(mirror.parent)


def read_records(mirror: Path) -> Iterator[tuple[int, Record | None, bytes]]:
    """Every line of the mirror: its line number, the record in it, and the line itself."""
    with mirror.open("rb") as file:
        for place, line in enumerate(file, start=1):
            yield place, from_line(line), line


def beyond(connection: sqlite3.Connection, mirror: Path) -> list[Record] | None:
    """The records the mirror has beyond the database; None unless they continue its chains."""
    count = rows.top(connection)
    heads: dict[str, tuple[int, str]] = {}
    found: list[Record] = []
    for _, record, _ in read_records(mirror):
        if record is None or record.seq <= count:
            continue
        number, prev = heads.get(record.litter) or rows.chain_end(connection, record.litter)
        expected = (count + len(found) + 1, number + 1)
        if (record.seq, record.number) != expected or not record.follows(prev):
            return None
        if not record.readable():
            return None
        heads[record.litter] = (record.number, record.hash)
        found.append(record)
    return found
