"""``boxlamp import FILE``: take in a night log or an exported litter, all or nothing."""

from typing import Annotated

import typer

from boxlamp.cli import options
from boxlamp.cli.output import Output
from boxlamp.desk.files import read_record
from boxlamp.desk.session import opened
from boxlamp.view.text import counted


def import_(
    file: Annotated[str, typer.Argument(help="A night log or an exported litter; `-` for a pipe.")],
    as_new: Annotated[
        bool, typer.Option("--as-new", help="Keep it beside a litter of the same id that differs.")
    ] = False,
    dry_run: Annotated[bool, typer.Option("--dry-run", help="Only say what would happen.")] = False,
    journal: options.Journal = None,
) -> None:
    """Take in a litter written elsewhere.

    For example: boxlamp import bramble.jsonl, or boxlamp import demo/caesarean.night

    All or nothing; the same file twice adds nothing.
    """
    output = Output()
    record = read_record(file)
    with opened(journal) as book:
        taken = book.import_entries(
            record.slug,
            record.name,
            record.entries,
            opened=record.opened,
            as_new=as_new,
            dry_run=dry_run,
        )
        would = "would be" if dry_run else "were" if len(taken.added) != 1 else "was"
        known = f", {taken.already} were here already" if taken.already else ""
        entries = counted(len(taken.added), "entry", "entries")
        output.result(f"{taken.litter}: {entries} {would} added{known}.")
        output.results(f"Note: {notice.sentence}" for notice in book.take_notices())
    if taken.added and not dry_run:
        output.result(f"Look at it with `boxlamp board --litter {taken.litter}`.")
