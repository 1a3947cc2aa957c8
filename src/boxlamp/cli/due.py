"""``boxlamp due``: when she is due, what to have ready when, and a file for the calendar."""

from typing import Annotated

import typer

from boxlamp.cli import options
from boxlamp.cli.output import Output
from boxlamp.cli.screen import show, width
from boxlamp.desk.handing_out import hand_out
from boxlamp.desk.session import Session, UsageError, moment_of, session
from boxlamp.planning.calendar import Agenda, calendar_file, is_ours
from boxlamp.planning.outlook import Outlook, outlook
from boxlamp.view.due_data import due_json, plain_due
from boxlamp.view.due_lines import due_lines
from boxlamp.view.text import counted
from boxlamp.view.words import CAUTION


def due(
    ics: Annotated[
        str | None,
        typer.Option(
            "--ics",
            metavar="FILE",
            show_default=False,
            help="Write the dates for a calendar; `-` for standard output. A file written here "
            "before is replaced, any other is not.",
        ),
    ] = None,
    why: Annotated[bool, typer.Option("--why", help="Say what every day rests on.")] = False,
    at: options.At = None,
    journal: options.Journal = None,
    litter: options.Litter = None,
    as_json: options.AsJson = False,
    plain: options.AsPlain = False,
    no_color: Annotated[bool, typer.Option("--no-color", help="No colour.")] = False,
) -> None:
    """Say when she is due, and what to do by which day.

    For example: boxlamp due --ics bramble.ics

    After the birth: what follows, from the vet's check to the vaccination.
    """
    output = Output()
    if ics is not None and (as_json or plain or why):
        raise UsageError("--ics writes a file for a calendar; leave out --json, --plain, --why.")
    with session(journal, litter) as here:
        moment = moment_of(at, here, output.say)
        assessed = here.assess_at(moment)
        today = moment.astimezone(here.zone).date()
        view = outlook(assessed.story, assessed.litter, assessed.book, today)
        if ics is not None:
            _calendar(view, here, ics, output)
        elif as_json:
            output.data(due_json(view, here.litter))
        elif plain:
            output.results(plain_due(view))
        else:
            lines = due_lines(view, width(), why=why)
            show(lines, output, colour=output.colour and not no_color)


def _calendar(view: Outlook, here: Session, file: str, output: Output) -> None:
    items = (*view.plan, *view.follow)
    if not items:
        raise UsageError(
            "There is no date to put into a calendar yet. `boxlamp due` says what to write down."
        )
    content = calendar_file(
        Agenda(
            litter=here.litter,
            dam=view.litter.details.dam or here.litter,
            items=items,
            newest=max(entry.recorded for entry in here.entries),
            edition=here.entries[-1].id,
            protocol=view.book.protocol,
            caution=CAUTION,
        )
    )
    if file == "-":
        output.copy(content.decode("utf-8"))
        return
    hand_out(file, content, may_replace=is_ours)
    output.say(f"Wrote {file}: {counted(len(items), 'event', 'events')}.")
