"""``boxlamp board``: the running litter record, once or kept in view."""

from typing import Annotated

import typer

from boxlamp.cli import options
from boxlamp.cli.show_board import show_board


def board(
    follow: Annotated[
        bool, typer.Option("--follow", "-f", help="Keep it in view, e.g. in a second terminal.")
    ] = False,
    at: options.At = None,
    as_known: options.AsKnown = False,
    journal: options.Journal = None,
    litter: options.Litter = None,
    as_json: options.AsJson = False,
    plain: options.AsPlain = False,
    no_color: Annotated[bool, typer.Option("--no-color", help="No colour.")] = False,
) -> None:
    """Show the running litter record.

    For example: boxlamp board, or boxlamp board --at 02:14
    """
    show_board(
        follow=follow, at=at, as_known=as_known, journal=journal, litter=litter, as_json=as_json,
        plain=plain, no_color=no_color,
    )  # fmt: skip
