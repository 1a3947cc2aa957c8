"""Files that are made for others, such as a calendar: whole or not at all, and private."""

import os
import tempfile
from collections.abc import Callable
from itertools import count
from pathlib import Path

from boxlamp.desk.session import UsageError

_LARGEST = 10_000_000


def hand_out(file: str, content: bytes, *, may_replace: Callable[[bytes], bool]) -> None:
    """Write a file in one step. One that is there is replaced only if it may be.

    A link is followed: what it points to is replaced, and the link stays.
    """
    try:
        path = Path(file).expanduser().resolve()
        if path.exists() and not _replaceable(path, may_replace):
            raise UsageError(
                f"{file} is there already, and was not written by this command or was changed "
                f"since. Choose another name, such as {_free(path).name}."
            )
        _put(path, content)
    except (OSError, ValueError, RuntimeError) as error:
        reason = getattr(error, "strerror", None) or error
        raise UsageError(f"{file} cannot be written: {str(reason).rstrip('.')}.") from error


def _replaceable(path: Path, may_replace: Callable[[bytes], bool]) -> bool:
    if not path.is_file() or path.stat().st_size > _LARGEST:
        return False
    return may_replace(path.read_bytes())


def _free(path: Path) -> Path:
    """The first name beside it that no file has: ``night-2.pdf``."""
    names = (path.with_stem(f"{path.stem}-{number}") for number in count(2))
    return next(name for name in names if not name.exists())


def _put(path: Path, content: bytes) -> None:
    """Write beside the file and put it in its place: a reader sees the old one or the new one."""
    # The temporary file is 0600 from the beginning.
    handle, name = tempfile.mkstemp(prefix=f".{path.name[:50]}-", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        Path(name).replace(path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
