"""A vet's own limits out of a file, or every reason why they cannot be used."""

import sys
from pathlib import Path

from boxlamp import outside
from boxlamp.desk.session import UsageError
from boxlamp.protocol.overrides import objections
from boxlamp.protocol.own_file import OwnLimits, read_own_limits
from boxlamp.protocol.records import ProtocolError
from boxlamp.rules.registry import NEVER_RELAXED

_LARGEST = 1_000_000


def own_limits(path: Path) -> OwnLimits:
    """The limits of a file, if they may be used; otherwise one sentence per problem."""
    try:
        own = read_own_limits(_content(path).decode("utf-8-sig"))
        limits = own.as_entries()
    except OSError as error:
        raise UsageError(f"{path} cannot be read: {error.strerror}.") from error
    except UnicodeDecodeError as error:
        raise UsageError(f"{path}: this is not a text file in UTF-8.") from error
    except ProtocolError as error:
        raise UsageError("\n".join(f"{path}: {problem}" for problem in error.problems)) from error
    usual = outside.default_protocol()
    refuse(path, objections(limits, usual.spans, NEVER_RELAXED, usual.following))
    return own


def _content(path: Path) -> bytes:
    """What the file holds, or the pipe that ``-`` stands for."""
    if str(path) == "-":
        content = sys.stdin.buffer.read(_LARGEST + 1)
    elif path.is_file():
        with path.open("rb") as file:
            content = file.read(_LARGEST + 1)
    else:
        raise UsageError(f"There is no file {path}.")
    if len(content) > _LARGEST:
        raise UsageError(f"{path} is too large to be a list of limits.")
    return content


def refuse(path: Path, found: list[str]) -> None:
    """End with what is wrong, each problem under the name of its file."""
    if found:
        raise UsageError("\n".join(f"{path}: {problem}" for problem in found))
