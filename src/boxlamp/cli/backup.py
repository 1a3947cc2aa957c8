"""``boxlamp backup TARGET``: a checked copy of the whole journal somewhere else."""

from pathlib import Path
from typing import Annotated

import typer

from boxlamp.cli import options
from boxlamp.cli.output import Output
from boxlamp.journal import default_path
from boxlamp.journal.backup import backup as copy_journal
from boxlamp.view.text import counted


def backup(
    target: Annotated[Path, typer.Argument(help="A new file, or a folder, e.g. on another disk.")],
    journal: options.Journal = None,
) -> None:
    """Copy the whole journal somewhere else.

    For example: boxlamp backup /media/usb

    Works while it is in use; the copy is checked.
    """
    made = copy_journal(journal or default_path(), target)
    litters = counted(made.report.litters, "litter", "litters")
    entries = counted(made.report.entries, "entry", "entries")
    Output().result(f"{made.path}: {litters}, {entries}, checked.")
