"""``boxlamp call-sheet``: what to say to the vet on the telephone."""

import shutil
from typing import Annotated

import typer

from boxlamp.cli import options
from boxlamp.cli.output import Output
from boxlamp.cli.screen import show, width
from boxlamp.desk.session import moment_of, session
from boxlamp.paper.call_sheet.data import plain_sheet, sheet_json
from boxlamp.paper.call_sheet.lines import ROOM, WIDE, sheet_lines
from boxlamp.paper.call_sheet.sheet import call_sheet as sheet_of
from boxlamp.paper.reader import Reader


def call_sheet(
    at: options.At = None,
    as_known: options.AsKnown = False,
    clock: options.Clock = "24h",
    weight_unit: options.WeightUnit = "g",
    temperature_unit: options.TemperatureUnit = "C",
    journal: options.Journal = None,
    litter: options.Litter = None,
    as_json: options.AsJson = False,
    plain: options.AsPlain = False,
    no_color: Annotated[bool, typer.Option("--no-color", help="No colour.")] = False,
) -> None:
    """Show what to say to the vet on the telephone.

    For example: boxlamp call-sheet, or boxlamp call-sheet --at 02:14

    Read it aloud from the top. It fits one screen: whom to ring, what is wrong now, what is
    known of her, what was seen and when, and what to ask.
    """
    output = Output()
    with session(journal, litter) as here:
        moment = moment_of(at, here, output.say)
        verdict = here.assess_at(moment, known=as_known).verdict(moment)
        sheet = sheet_of(verdict, Reader(here.zone, clock, weight_unit, temperature_unit))
        if as_json:
            output.data(sheet_json(sheet, here.litter, here.zone))
        elif plain:
            output.results(plain_sheet(sheet))
        else:
            lines = sheet_lines(sheet, width(), _room(output))
            show(lines, output, colour=output.colour and not no_color)


def _room(output: Output) -> int | None:
    """How many lines there are for it: a screen's, less two; on a narrow one it may scroll."""
    if width() < WIDE:
        return None
    rows = shutil.get_terminal_size((WIDE, ROOM)).lines
    return max(ROOM, rows - 2) if output.live else ROOM
