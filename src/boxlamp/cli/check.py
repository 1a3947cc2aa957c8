"""``boxlamp check``: the alerts that stand, for scripts and for a quick look."""

from typing import Annotated

import typer

from boxlamp.cli import options
from boxlamp.cli.check_now import check_now


def check(
    at: options.At = None,
    as_known: options.AsKnown = False,
    journal: options.Journal = None,
    litter: options.Litter = None,
    why: Annotated[bool, typer.Option("--why", help="Say what each alert rests on.")] = False,
    as_json: options.AsJson = False,
    plain: options.AsPlain = False,
) -> None:
    """Say what is wrong now.

    For example: boxlamp check --why, or boxlamp check --at 02:14

    Exit code 0: nothing above watch; 1: ring the vet, or go; 2: failure.
    """
    raise typer.Exit(
        check_now(
            at=at, as_known=as_known, journal=journal, litter=litter, why=why, as_json=as_json,
            plain=plain,
        )
    )  # fmt: skip
