"""What ``boxlamp log`` does, once it is clear what was asked. Typer is not loaded for it."""

import sys
from collections.abc import Iterator
from datetime import tzinfo
from pathlib import Path

from boxlamp import outside
from boxlamp.cli.output import Output
from boxlamp.desk.answer import after_lines, answer_lines
from boxlamp.desk.session import Session, UsageError, session
from boxlamp.desk.writing import DoubtfulError, Written, write
from boxlamp.view.said import NOTHING_NEAR, changed_lines, next_line
from boxlamp.view.text import clean

_BAD_NEWS = 1


def log_lines(
    line: list[str],
    *,
    journal: Path | None = None,
    litter: str | None = None,
    by: str = "",
    yes: bool = False,
    no_input: bool = False,
    as_json: bool = False,
) -> int:
    """Write down one line, or those of a pipe, and say what each changed. The exit code."""
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
    return _BAD_NEWS if missed else 0


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
        if not _confirmed("Write it down as it stands?"):
            raise UsageError("Nothing was written down.") from error
        return write(here, text, now, by=by, accept=True)


def _confirmed(question: str) -> bool:
    """Whether a person says yes. Ctrl-C is no answer, and ends the call."""
    import typer

    try:
        return typer.confirm(question, err=True)
    except typer.Abort:
        typer.echo("Aborted!", err=True)
        raise SystemExit(_BAD_NEWS) from None


def _answer(written: Written, zone: tzinfo) -> Iterator[str]:
    """How the line was understood, what is over, what stands, what comes next, what to do.

    After a line that may speak of a danger, and was not read, no clock of another sort is told:
    it would sound as if nothing were wrong. So would it after any unread line that no clock runs.
    """
    yield from answer_lines(written, zone)
    yield from changed_lines(written.verdict, written.raised, zone)
    following = next_line(written.verdict, zone)
    if not written.if_meant and not (written.unread and following == NOTHING_NEAR):
        yield following
    yield from after_lines(written)


def _data(here: Session, written: Written) -> dict[str, object]:
    from boxlamp.view.machine import SCHEMA, verdict_json

    return {
        "schema": SCHEMA,
        "entry": written.entry.model_dump(mode="json"),
        "further": [one.model_dump(mode="json") for one in written.entries[1:]],
        "echo": written.echo,
        "understood": written.unread is None,
        "why": written.unread.why if written.unread else None,
        "if_meant": list(written.if_meant),
        "nearest": written.unread.nearest if written.unread else None,
        "prompts": list(written.prompts),
        "notices": [notice.sentence for notice in written.notices],
        "check": verdict_json(written.verdict, here.litter, here.zone),
    }
