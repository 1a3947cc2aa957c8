"""``boxlamp log LINE``: write down one line, say how it was understood and what runs now."""

from typing import Annotated

import typer

from boxlamp.cli import options
from boxlamp.cli.log_lines import log_lines


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

    The line needs no quotes unless your shell would change it (`;`, `#` and an apostrophe do). See
    `boxlamp words` for everything that can be written.
    """
    raise typer.Exit(
        log_lines(
            line, journal=journal, litter=litter, by=by, yes=yes, no_input=no_input,
            as_json=as_json,
        )
    )  # fmt: skip
