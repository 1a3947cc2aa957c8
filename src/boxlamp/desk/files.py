"""Records that come as files: a night log or an exported litter, told apart by how they begin."""

import io
import sys
from datetime import datetime
from pathlib import Path
from typing import NamedTuple

from boxlamp import outside
from boxlamp.desk.session import UsageError
from boxlamp.journal.exchange import MAX_BYTES, read_litter
from boxlamp.journal.journal import slugged
from boxlamp.language import Expected, Night, read_night
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Details
from boxlamp.model.zones import zone_named

# What a night log that names no litter calls its own.
_UNNAMED = "night"


class Record(NamedTuple):
    """A whole litter read from a file, with the alerts the file itself expects."""

    slug: str
    name: str
    opened: datetime
    entries: tuple[Entry, ...]
    expected: tuple[Expected, ...] = ()
    lesson: str = ""


def read_record(file: str) -> Record:
    """Read a night log or an exported litter; ``-`` is standard input. Every byte is hostile.

    Where there is no such file, the name of a night that comes with the program will do.
    """
    content, name = _content(file)
    if content.lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b"{"):
        header, entries = read_litter(io.BytesIO(content), name)
        return Record(header.litter, header.name, header.opened, tuple(entries))
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise UsageError(f"{name}: this is not a text file in UTF-8.") from error
    night = read_night(text, source=name)
    if not night.entries:
        raise UsageError(f"{name}: there is no entry in it.")
    opened = min(entry.recorded for entry in night.entries)
    dams = [e.what.dam for e in night.entries if isinstance(e.what, Details) and e.what.dam]
    dam = dams[-1] if dams else Path(name).stem
    slug = _slug(night, dam)
    entries = [entry.model_copy(update={"litter": slug}) for entry in night.entries]
    return Record(slug, dam, opened, tuple(entries), night.expected, night.lesson)


def _slug(night: Night, dam: str) -> str:
    """The litter's id: the one an exported night names, else the dam's name and the day."""
    named = {entry.litter for entry in night.entries}
    if len(named) == 1 and named != {_UNNAMED}:
        return slugged(named.pop())
    # Dated facts such as matings lie weeks before; the night itself names the litter.
    timed = [entry for entry in night.entries if entry.certainty != "day"]
    first = min(timed or night.entries, key=lambda entry: entry.at)
    return slugged(f"{dam} {first.at.astimezone(zone_named(first.zone)):%Y-%m-%d}")


def _content(file: str) -> tuple[bytes, str]:
    if file == "-":
        content = sys.stdin.buffer.read(MAX_BYTES + 1)
        name = "<standard input>"
    else:
        path, name = _meant(file), file
        if path.exists() and not path.is_file():
            raise UsageError(f"{file} is no file to read. For a pipe write `-`.")
        if not path.is_file():
            raise UsageError(f"There is no file {file}.")
        try:
            with path.open("rb") as stream:
                content = stream.read(MAX_BYTES + 1)
        except OSError as error:
            raise UsageError(f"{file} cannot be read: {error.strerror}.") from error
    if len(content) > MAX_BYTES:
        raise UsageError(f"{name} is larger than {MAX_BYTES // 1024 // 1024} MB.")
    return content, name


def _meant(file: str) -> Path:
    """The file, or the shipped night of that name where there is no such file."""
    path = Path(file)
    try:
        there = path.exists()
    except OSError as error:  # a name too long to be one
        raise UsageError(f"{file[:40]}... cannot be read: {error.strerror}.") from error
    shipped = (night for night in outside.shipped_nights() if file in {night.stem, night.name})
    return path if there else next(shipped, path)
