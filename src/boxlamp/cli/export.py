"""``boxlamp export``: a litter as a file that reads without this program, and back into it."""

import os
from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from boxlamp.cli import options
from boxlamp.cli.output import Output
from boxlamp.desk.session import UsageError, session
from boxlamp.journal.exchange import export_jsonl
from boxlamp.language import write_night


class Form(StrEnum):
    """The forms a litter can be written in. Both come back through import without loss."""

    JSONL = "jsonl"
    NIGHT = "night"


def export(
    form: Annotated[Form, typer.Option("--form", help="JSON lines, or a night log.")] = Form.JSONL,
    out: Annotated[
        str, typer.Option("--output", "-o", help="The file to write; `-` for standard output.")
    ] = "-",
    journal: options.Journal = None,
    litter: options.Litter = None,
) -> None:
    """Write a litter to a file.

    As JSON lines or as a night log, complete with corrections; both come back through import.
    """
    with session(journal, litter) as here:
        if form is Form.NIGHT:
            text = write_night(here.entries)
        else:
            text = "".join(f"{line}\n" for line in export_jsonl(here.journal, here.litter))
    if out == "-":
        Output().copy(text)
        return
    _write(Path(out), text)
    Output().say(f"Wrote {out}.")


def _write(path: Path, text: str) -> None:
    """Write a new private file; an existing one is never overwritten."""
    try:
        flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL
        with os.fdopen(os.open(path, flags, 0o600), "w", encoding="utf-8", newline="\n") as file:
            file.write(text)
    except FileExistsError as error:
        raise UsageError(f"{path} is there already. Choose another name.") from error
    except OSError as error:
        path.unlink(missing_ok=True)
        raise UsageError(f"{path} cannot be written: {error.strerror}.") from error
