"""``boxlamp blank-sheet``: a sheet to fill in with a pen, for the night the computer fails."""

from pathlib import Path
from typing import Annotated

import typer

from boxlamp import outside
from boxlamp.cli import options
from boxlamp.cli.output import Output
from boxlamp.desk.handing_out import hand_out
from boxlamp.desk.session import opened, session
from boxlamp.engine import Assessment, assess
from boxlamp.journal import default_path
from boxlamp.model.story import Story
from boxlamp.model.zones import zone_named
from boxlamp.paper.blank import Size
from boxlamp.paper.blank import blank_sheet as sheet_of
from boxlamp.paper.forms.pdf import pdf_form
from boxlamp.paper.forms.seal import Kind, bears_seal, sealed
from boxlamp.paper.reader import Reader

_KIND: Kind = "blank-sheet.pdf"
_MOST_PAGES = 20  # our choice: more is a slip of the hand


def blank_sheet(
    out: Annotated[
        str | None,
        typer.Option(
            "--output",
            "-o",
            metavar="FILE",
            show_default=False,
            help="Write the PDF here. A blank sheet that was written there before is replaced, any "
            "other file is not. Without it the PDF goes to standard output.",
        ),
    ] = None,
    page: options.Page = "a4",
    log_pages: Annotated[
        int, typer.Option("--log-pages", min=1, max=_MOST_PAGES, help="How many pages of log.")
    ] = 2,
    weight_unit: options.WeightUnit = "g",
    temperature_unit: options.TemperatureUnit = "C",
    journal: options.Journal = None,
    litter: options.Litter = None,
) -> None:
    """Make a sheet to print before the night and fill in with a pen.

    For example: boxlamp blank-sheet -o sheet.pdf

    It holds the limits in force and the vet's numbers. Without a litter it holds the limits of
    the shipped protocol, and room for the numbers.
    """
    output = Output()
    known, zone = _known(journal, litter)
    reader = Reader(zone_named(zone), weights=weight_unit, temperatures=temperature_unit)
    details, expected = known.litter.details, known.litter.expected
    sheet = sheet_of(known.book, details, reader, expected=expected, size=Size(page, log_pages))
    content = pdf_form(sheet, page, elsewhere="Write them in with a pen.")
    if out is None or out == "-":
        output.copy_bytes(content)
        return
    hand_out(out, sealed(content, _KIND), may_replace=lambda there: bears_seal(there, _KIND))
    output.say(f"Wrote {out}. Print it before the night, at full size.")


def _known(journal: Path | None, litter: str | None) -> tuple[Assessment, str]:
    """What is known of the litter, and its zone; before any litter, the shipped protocol."""
    if litter is None and not _any_litter(journal):
        return assess(Story(()), outside.default_protocol()), outside.local_zone()
    with session(journal, litter) as here:
        return here.assess_at(here.present(outside.now())), here.zone_name


def _any_litter(journal: Path | None) -> bool:
    """Whether there is a litter in use. Asking makes no journal."""
    if not (journal or default_path()).expanduser().exists():
        return False
    with opened(journal) as book:
        return book.current() is not None
