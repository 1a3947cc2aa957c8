"""``boxlamp board``: the running litter record, once or kept in view."""

import gc
import time
from datetime import datetime
from typing import Annotated

import typer

from boxlamp import outside
from boxlamp.cli import options
from boxlamp.cli.output import Output
from boxlamp.cli.screen import recalled, show, shown, width
from boxlamp.desk.session import Session, UsageError, moment_of, session
from boxlamp.engine import Verdict
from boxlamp.model.levels import Level
from boxlamp.view.alert_lines import levels_counted
from boxlamp.view.board import Board
from boxlamp.view.board import board as board_of
from boxlamp.view.layout import FINE, PLAIN, fitted, full
from boxlamp.view.machine import verdict_json
from boxlamp.view.plain import plain_board


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
    output = Output()
    if follow and (at or as_json or plain):
        raise UsageError("--follow shows the present on a screen; leave out --at, --json, --plain.")
    with session(journal, litter) as here:
        if follow:
            _follow(here, output, colour=output.colour and not no_color)
            return
        moment = moment_of(at, here)
        verdict = here.assess_at(moment, known=as_known).verdict(moment)
        model = _board(here, verdict, moment, latest=8)
        if as_json:
            output.data(verdict_json(verdict, here.litter, here.zone))
        elif plain:
            output.results(plain_board(model))
        else:
            lines = full(model, width(), FINE if output.fine else PLAIN)
            if output.live:
                lines += recalled(_worst(model), len(lines))
            show(lines, output, colour=output.colour and not no_color)


def _board(here: Session, verdict: Verdict, moment: datetime, *, latest: int) -> Board:
    typed = [entry for entry in here.entries if entry.recorded <= moment or entry.at <= moment]
    return board_of(verdict, typed, here.zone, latest=latest)


def _worst(model: Board) -> str:
    """The alerts by level, the worst in its own words; nothing when none asks to ring or go."""
    if not any(line.level >= Level.CALL for line in model.alerts):
        return ""
    first = model.alerts[0]
    counts = levels_counted(line.level for line in model.alerts)
    said = (f"{counts}.", first.message, *first.do[:1], model.vet)
    return " ".join(filter(None, said))


def _follow(here: Session, output: Output, *, colour: bool) -> None:
    """Redraw every second until Ctrl-C; entries typed elsewhere appear by themselves."""
    if not output.live:
        raise UsageError("--follow needs a terminal. For a pipe use `boxlamp board --plain`.")
    from rich.live import Live

    gc.enable()

    from boxlamp.view.show_rich import console_for, texts

    console = console_for(output.out, colour=colour)
    glyphs = FINE if output.fine else PLAIN
    version = here.journal.data_version()
    with Live(console=console, screen=True, auto_refresh=False) as live:
        while True:
            seen = here.journal.data_version()
            if seen != version:
                version = seen
                here.refresh()
            now = outside.now()
            model = _board(here, here.verdict(now), now, latest=12)
            columns, height = console.size
            lines = fitted(model, columns, height - 1, glyphs)
            live.update(texts(shown(lines, output)), refresh=True)
            time.sleep(1 - time.time() % 1)
