"""``boxlamp kit [ITEM]``: the preparation list, and ticking an item off."""

from typing import Annotated

import typer

from boxlamp import outside
from boxlamp.cli import options
from boxlamp.cli.output import Output
from boxlamp.cli.screen import show, width
from boxlamp.desk.answer import answer_lines
from boxlamp.desk.session import Session, UsageError, moment_of, session
from boxlamp.desk.writing import item_meant, write
from boxlamp.planning.dates import due_dates
from boxlamp.planning.kit import kit_list, others
from boxlamp.view.due_data import kit_json, plain_kit
from boxlamp.view.kit_lines import headline_lines, kit_lines, missing_lines


def kit(
    item: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="ITEM", help="One item that is ready, by its name.", show_default=False
        ),
    ] = None,
    missing: Annotated[
        bool, typer.Option("--missing", help="The item is not ready, or used up.")
    ] = False,
    why: Annotated[bool, typer.Option("--why", help="Say what each thing is for.")] = False,
    at: options.At = None,
    journal: options.Journal = None,
    litter: options.Litter = None,
    by: options.By = "",
    as_json: options.AsJson = False,
    plain: options.AsPlain = False,
    no_color: Annotated[bool, typer.Option("--no-color", help="No colour.")] = False,
) -> None:
    """Show the preparation list, or tick off one item.

    For example: boxlamp kit towels, or boxlamp kit towels --missing

    What was ticked off is an entry of the record, as if `kit towels` had been logged.
    """
    output = Output()
    words = " ".join(item or ())
    if missing and not words.strip():
        raise UsageError("Say what is missing: boxlamp kit towels --missing")
    if at is not None and words:
        raise UsageError("--at shows the list of another moment; an item is ticked off now.")
    with session(journal, litter) as here:
        if words.strip():
            _tick(here, words, by, output, have=not missing, quiet=as_json or plain)
        moment = moment_of(at, here, output.say)
        assessed = here.assess_at(moment)
        driver = due_dates(assessed.story, assessed.book).driver
        lines = kit_list(assessed.litter, driver.due if driver else None)
        today = moment.astimezone(here.zone).date()
        dam = assessed.litter.details.dam or "the dam"
        across = width()
        if as_json:
            output.data(kit_json(lines, here.litter))
            return
        if plain:
            output.results(plain_kit(lines))
            return
        if words.strip():
            told = [
                *headline_lines(lines, dam, today, across),
                *missing_lines(lines, today, across),
            ]
        else:
            extra = others(assessed.litter)
            told = list(kit_lines(lines, dam, today, across, others=extra, why=why))
        show(told, output, colour=output.colour and not no_color)


def _tick(here: Session, words: str, by: str, output: Output, *, have: bool, quiet: bool) -> None:
    """Write one item down as if it had been typed at the box."""
    line = f"kit {item_meant(words)}{'' if have else ' missing'}"
    written = write(here, line, outside.now(), by=by)
    if not quiet:
        output.results(answer_lines(written, here.zone))
