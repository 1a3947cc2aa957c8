"""The command line before typer reads it: finding the command, moving options to it.

Options such as ``--journal`` work before and after the command. A line for ``log`` is taken
as it stands, so that ``boxlamp log -5m pup`` needs no ``--``.
"""

from collections.abc import Sequence
from typing import NamedTuple

from boxlamp.cli.catalogue import BY_NAME

# Options with a value that belong to every command that opens the record.
VALUED = ("--journal", "--litter", "--by")
FLAGS = ("--yes", "--no-input", "--debug", "--json", "--plain", "--no-color", "-h", "--help")


class Call(NamedTuple):
    """Which command is meant, if any, and the words after it."""

    command: str | None
    words: list[str]


def parted(argv: Sequence[str]) -> Call:
    """Find the command in ``argv`` and put every option behind it."""
    before: list[str] = []
    rest = list(argv)
    while rest and rest[0].startswith("-") and rest[0] != "--":
        before += _option(rest)
    if not rest or rest[0] not in BY_NAME:
        return Call(None, [*before, *rest])
    command = BY_NAME[rest.pop(0)]
    if command.line:
        options, line = _line(rest)
        if _hangs(options):
            # Its value is missing; the mark below would be taken for it.
            return Call(command.name, [*before, *line, *options])
        return Call(command.name, [*before, *options, *(["--", *line] if line else [])])
    return Call(command.name, [*before, *rest])


def _line(words: list[str]) -> tuple[list[str], list[str]]:
    """Take the options out of a typed line, wherever they stand; after ``--`` nothing is one."""
    options: list[str] = []
    line: list[str] = []
    rest = list(words)
    while rest:
        if rest[0] == "--":
            line += rest[1:]
            break
        if rest[0] in {*VALUED, *FLAGS} or rest[0].startswith(tuple(f"{n}=" for n in VALUED)):
            options += _option(rest)
        else:
            line.append(rest.pop(0))
    return options, line


def _hangs(options: list[str]) -> bool:
    """Whether the last of these options was the last word of all, without its value."""
    rest, last = list(options), [""]
    while rest:
        last = _option(rest)
    return last[0] in VALUED and len(last) == 1


def _option(rest: list[str]) -> list[str]:
    """Take one option, with its value when it has one, off the front of ``rest``."""
    taken = [rest.pop(0)]
    if taken[0] in VALUED and rest and rest[0] != "--":
        taken.append(rest.pop(0))
    return taken
