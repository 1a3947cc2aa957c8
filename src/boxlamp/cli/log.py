"""``boxlamp log LINE``: write down one line, say how it was understood and what runs now."""

import sys
from collections.abc import Iterator
from datetime import tzinfo
from typing import Annotated

import typer

from boxlamp import outside
from boxlamp.cli import options
from boxlamp.cli.output import Output
from boxlamp.desk.answer import after_lines, answer_lines
from boxlamp.desk.session import Session, UsageError, session
from boxlamp.desk.writing import DoubtfulError, Written, write
from boxlamp.view.machine import SCHEMA, verdict_json
from boxlamp.view.said import changed_lines, next_line
from boxlamp.view.text import clean

_BAD_NEWS = 1


def log(
    line: Annotated[
        list[str], typer.Argument(help="What you saw, as one line. `-` reads lines from a pipe.")
    ],
    journal: options.Journal = None,
    litter: options.Litter = None,
    by: options.By = "",
    yes: Annotated[bool, typer.Option("--yes", help="Do not ask about an odd time.")] = False,
    no_input: options.NoInput = False,
    as_json: options.AsJson = False,
) -> None:
    """Write down one line and hear what it changed.

    For example: boxlamp log 02:14 pup m 312g red

    The line needs no quotes unless your shell would change it (`;` and `#` do). See
    `boxlamp words` for everything that can be written.
    """
    output = Output()
    piped = line == ["-"]
    lines = _piped() if piped else [" ".join(line)]
    missed = 0
    with session(journal, litter) as here:
        for text in lines:
            if not text.strip():
                continue
            if piped:
                # Nobody can be asked, and no line of a pipe may cost the ones behind it.
                written = write(here, text, outside.now(), by=by, accept=yes, keep=True)
            else:
                written = _written(here, text, by, output, yes=yes, ask=not no_input)
            missed += written.unread is not None
            if as_json:
                output.data(_data(here, written))
            else:
                output.results(_answer(written, here.zone))
    raise typer.Exit(_BAD_NEWS if missed else 0)


def _piped() -> Iterator[str]:
    """The lines of a pipe, each as soon as it comes; bytes that are no text are kept visible."""
    for line in sys.stdin.buffer:
        yield line.decode("utf-8", "replace").removeprefix("\ufeff").rstrip("\r\n")


def _written(here: Session, text: str, by: str, output: Output, *, yes: bool, ask: bool) -> Written:
    now = outside.now()
    try:
        return write(here, text, now, by=by, accept=yes)
    except DoubtfulError as error:
        if not ask or not sys.stdin.isatty():
            raise UsageError(
                f"Not written down: {clean(text)}\n{error}\nIf it is right as it stands, add --yes."
            ) from error
        output.say(str(error))
        if not typer.confirm("Write it down as it stands?", err=True):
            raise UsageError("Nothing was written down.") from error
        return write(here, text, now, by=by, accept=True)


def _answer(written: Written, zone: tzinfo) -> Iterator[str]:
    """How the line was understood, what is over, what stands, what comes next, what to do.

    After a line that may speak of a danger, and was not read, no clock of another sort is told:
    it would sound as if nothing were wrong.
    """
    yield from answer_lines(written, zone)
    yield from changed_lines(written.verdict, written.raised, zone)
    if not written.if_meant:
        yield next_line(written.verdict, zone)
    yield from after_lines(written)


def _data(here: Session, written: Written) -> dict[str, object]:
    return {
        "schema": SCHEMA,
        "entry": written.entry.model_dump(mode="json"),
        "echo": written.echo,
        "understood": written.unread is None,
        "why": written.unread.why if written.unread else None,
        "if_meant": list(written.if_meant),
        "nearest": written.unread.nearest if written.unread else None,
        "prompts": list(written.prompts),
        "notices": [notice.sentence for notice in written.notices],
        "check": verdict_json(written.verdict, here.litter, here.zone),
    }
