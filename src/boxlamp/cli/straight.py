"""Calls that need no parser: every word is plainly an option of the command, or its line.

Typer explains: it shows the help, says what is wrong with a call, completes words. A call that
is right needs none of that, and loading it would be a seventh of what a line at the box costs.
So the commands that are called again and again are also listed here, and such a call goes
straight to its work. Whatever is not plain in every word goes the long way, through typer.
"""

import os
from collections.abc import Callable, Iterator, Mapping
from functools import partial
from importlib import import_module
from pathlib import Path
from typing import NamedTuple

from boxlamp.cli.argv import Call

_COMPLETING = "_BOXLAMP_COMPLETE"
"""Set by a shell that asks typer how a word goes on."""


class Straight(NamedTuple):
    """A command's work, and its options by the name of what they set.

    ``valued`` options are followed by their value. ``line`` names what takes the words behind
    ``--``. That all of it is what typer is told as well is checked by a test.
    """

    module: str
    function: str
    valued: Mapping[str, str]
    flags: Mapping[str, str]
    line: str = ""


SETTINGS: Mapping[str, str] = {"journal": "BOXLAMP_JOURNAL", "by": "BOXLAMP_BY"}
"""What may also come from the environment."""

_SHARED = {"--journal": "journal", "--litter": "litter"}
_READING = {**_SHARED, "--at": "at"}

STRAIGHT: Mapping[str, Straight] = {
    "log": Straight(
        "boxlamp.cli.log_lines", "log_lines",
        {**_SHARED, "--by": "by"},
        {"--yes": "yes", "--no-input": "no_input", "--json": "as_json"},
        line="line",
    ),
    "check": Straight(
        "boxlamp.cli.check_now", "check_now", _READING,
        {"--as-known": "as_known", "--why": "why", "--json": "as_json", "--plain": "plain"},
    ),
    "board": Straight(
        "boxlamp.cli.show_board", "show_board", _READING,
        {"--as-known": "as_known", "--json": "as_json", "--plain": "plain", "--follow": "follow",
         "-f": "follow", "--no-color": "no_color"},
    ),
}  # fmt: skip


def straight(call: Call) -> Callable[[], int] | None:
    """The work of a call that is plain in every word, or None."""
    known = STRAIGHT.get(call.command or "")
    if known is None or _COMPLETING in os.environ:
        return None
    told = _told(call.words, known)
    if told is None:
        return None
    return partial(getattr(import_module(known.module), known.function), **told)


def _told(words: list[str], known: Straight) -> dict[str, object] | None:
    """What the words say, by name; None when one of them is not plain."""
    told: dict[str, object] = dict(_from_environment(known))
    if not all(_plain(str(value)) for value in told.values()):
        return None
    rest = iter(words)
    for word in rest:
        if word == "--" and known.line:
            told[known.line] = list(rest)
        elif word in known.flags:
            told[known.flags[word]] = True
        elif word in known.valued and _plain(value := next(rest, "")):
            told[known.valued[word]] = value
        else:
            return None
    journal = told.get("journal")
    if journal is not None:
        told["journal"] = path = Path(str(journal))
        if os.access(path, os.F_OK) and not os.access(path, os.R_OK):
            return None
    return told if not known.line or told.get(known.line) else None


def _plain(value: str) -> bool:
    """Whether a value can be nothing else: no option, not missing, no bytes that are no text."""
    return value.isprintable() and not value.startswith("-") and value != ""


def _from_environment(known: Straight) -> Iterator[tuple[str, str]]:
    for name in known.valued.values():
        value = os.environ.get(SETTINGS.get(name, ""))
        if value:
            yield name, value
