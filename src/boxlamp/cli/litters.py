"""``boxlamp litters``: all litters of the journal, and which one is in use."""

from typing import Annotated

import typer

from boxlamp import outside
from boxlamp.cli import options
from boxlamp.cli.output import Output
from boxlamp.desk.session import opened
from boxlamp.model.litter import fold
from boxlamp.model.story import Story
from boxlamp.model.zones import zone_named
from boxlamp.view.board import phase_words
from boxlamp.view.machine import SCHEMA, stamp
from boxlamp.view.text import clean


def litters(
    use: Annotated[
        str | None, typer.Option("--use", help="Make this litter the one in use.")
    ] = None,
    journal: options.Journal = None,
    as_json: options.AsJson = False,
    plain: options.AsPlain = False,
) -> None:
    """List the litters, or choose one.

    For example: boxlamp litters --use bramble-2026-03-02

    The one in use is marked with `>`.
    """
    output = Output()
    with opened(journal) as book:
        if use is not None:
            book.choose(use)
        current = book.current()
        rows = book.litters()
        if as_json:
            output.data(
                {
                    "schema": SCHEMA,
                    "litters": [
                        {
                            "litter": row.slug,
                            "name": row.name,
                            "entries": row.entries,
                            "opened": stamp(row.opened, zone_named("UTC")),
                            "in_use": current is not None and row.slug == current.slug,
                        }
                        for row in rows
                    ],
                }
            )
            return
        if not rows:
            output.say("There is no litter yet. Open one with `boxlamp new --dam NAME`.")
        for row in rows:
            mark = ">" if current is not None and row.slug == current.slug else " "
            if plain:
                output.result(f"{row.slug}\t{clean(row.name)}\t{row.entries}\t{mark.strip()}")
                continue
            litter = fold(Story(book.entries(row.slug)))
            phase = phase_words(litter, outside.now())
            output.result(f"{mark} {row.slug}: born {litter.born}, {row.entries} entries, {phase}")
