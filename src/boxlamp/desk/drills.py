"""The nights that can be drilled, and where the results of drills are kept.

Results lie beside the journal, one JSON object a line, private to the user. A line is only ever
added: what cannot be read, a torn end among it, stays as it is and stops nothing.
"""

import errno
import json
import os
from collections.abc import Iterator
from datetime import datetime, timedelta
from functools import cache
from pathlib import Path
from typing import NamedTuple

from pydantic import ValidationError

from boxlamp import outside
from boxlamp.desk.files import Record, read_record
from boxlamp.journal import default_path
from boxlamp.journal.paths import flush, open_private, private_folder, sync_folder, write_all
from boxlamp.model.happenings import Details, Expect
from boxlamp.training.drill.night import PastNight, begins
from boxlamp.training.drill.order import Shelf
from boxlamp.training.drill.record import Result, result_json

_MOST = 20_000_000
"""So many bytes of results are read, the newest."""


class Shelved(NamedTuple):
    """One night of the library, under its number."""

    number: int
    path: Path
    record: Record
    shelf: Shelf


class Kept(NamedTuple):
    """The results that could be read, and what to say of what could not."""

    results: tuple[Result, ...]
    trouble: str = ""


class NotKeptError(Exception):
    """A result that could not be stored."""

    exit_code = 1


def results_path(journal: Path | None) -> Path:
    """``BOXLAMP_TRAINING``, or a file beside the journal and named after it."""
    named = os.environ.get("BOXLAMP_TRAINING")
    return Path(named) if named else (journal or default_path()).with_suffix(".training")


def read_results(path: Path, trainee: str) -> Kept:
    """This person's results, oldest first. A line that is none of ours is told of, and stays."""
    try:
        content = _newest(path)
    except FileNotFoundError:
        return Kept(())
    except OSError as error:
        return Kept((), f"{path} cannot be read: {error.strerror}. It goes on without it.")
    results, unread = [], 0
    for line in content.split(b"\n"):
        if not line.strip():
            continue
        try:
            results.append(Result.model_validate_json(line))
        except ValidationError:
            unread += 1
    mine = sorted((one for one in results if one.trainee == trainee), key=lambda one: one.at)
    lines = "1 line" if unread == 1 else f"{unread} lines"
    trouble = f"{path}: {lines} could not be read. Nothing in it was changed; it goes on without."
    return Kept(tuple(mine), trouble if unread else "")


def _newest(path: Path) -> bytes:
    """The file, or its last lines where it is large. Nothing is read from a pipe: that may wait."""
    _refuse_pipe(path)
    with path.open("rb") as file:
        skipped = max(0, path.stat().st_size - _MOST)
        if skipped:
            file.seek(skipped - 1)
            file.readline()  # the rest of a line that began before
        return file.read(_MOST)


def _refuse_pipe(path: Path) -> None:
    if path.exists() and (path.is_fifo() or path.is_socket()):
        raise OSError(errno.ESPIPE, "it is a pipe and no file", str(path))


def keep_result(path: Path, result: Result) -> None:
    """Add one result, durably. Raises :class:`NotKeptError` where that cannot be done."""
    line = json.dumps(result_json(result), ensure_ascii=False).encode() + b"\n"
    try:
        _refuse_pipe(path)
        private_folder(path.parent)
        with open_private(path, "a") as file:
            # A line torn by a full disk stays a line of its own, and this one is whole.
            write_all(file, (b"\n" if _torn(path) else b"") + line)
            flush(file.fileno())
        sync_folder(path.parent)
    except OSError as error:
        reason = error.strerror or type(error).__name__
        raise NotKeptError(f"The result was not kept: {path}: {reason}.") from error


def _torn(path: Path) -> bool:
    with path.open("rb") as file:
        if not file.seekable() or not file.seek(0, os.SEEK_END):
            return False
        file.seek(-1, os.SEEK_END)
        return file.read(1) != b"\n"


@cache
def library() -> tuple[Shelved, ...]:
    """The nights that come with the program, by the dam's name: a file's name says too much."""
    found = [(path, read_record(str(path))) for path in outside.shipped_nights()]
    found.sort(key=lambda night: (night[1].name.casefold(), night[0].name))
    return tuple(
        Shelved(number, path, record, shelf_of(path.stem, record))
        for number, (path, record) in enumerate(found, start=1)
    )


def shelf_of(key: str, record: Record) -> Shelf:
    """What a night exercises, by the alerts that its file says come."""
    raised = [line for line in record.expected if line.change == "raised" and line.rule]
    loud = [line for line in raised if line.level in {"watch", "call", "go"}]
    troubled = any(line.level in {"call", "go"} for line in loud)
    rules = frozenset(line.rule for line in loud if line.rule)
    return Shelf(key, rules, troubled, length_of(record))


def past_night(record: Record, ended: datetime | None = None) -> PastNight:
    """The night of a record, ready to be drilled, up to its last line or expected alert."""
    moments = [entry.recorded for entry in record.entries]
    moments += [line.at for line in record.expected if line.at is not None]
    return PastNight(record.entries, outside.default_protocol(), ended or max(moments))


def length_of(record: Record) -> timedelta:
    """How long the night goes on, from its first line to its last."""
    return max(entry.recorded for entry in record.entries) - begins(record.entries)


def pups_expected(record: Record) -> int | None:
    """How many pups were expected, as last said before the first birth."""
    said = [entry.what.count for entry in record.entries if isinstance(entry.what, Expect)]
    return said[0] if said else None


def breed_of(record: Record) -> str:
    """Her breed, as far as it is written down."""
    said = [entry.what.breed for entry in record.entries if isinstance(entry.what, Details)]
    return next(filter(None, said), "")


def found_in(nights: tuple[Shelved, ...], name: str) -> Iterator[Shelved]:
    """The nights that a number, a dam's name or a file's name means."""
    for night in nights:
        names = {str(night.number), night.path.stem, night.path.name}
        dam = name.casefold() == night.record.name.casefold()
        if name in names or dam or (is_there(name) and night.path.samefile(name)):
            yield night


def is_there(name: str) -> bool:
    """Whether there is a file of this name; one too long to be a name is none."""
    try:
        return Path(name).exists()
    except OSError:
        return False
