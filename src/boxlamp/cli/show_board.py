"""What ``boxlamp board`` does, once it is clear what was asked. Typer is not loaded for it."""

import gc
import time
from datetime import datetime
from pathlib import Path

from boxlamp import outside
from boxlamp.cli.output import Output
from boxlamp.cli.screen import recalled, show, shown, width
from boxlamp.desk.session import Session, UsageError, moment_of, session
from boxlamp.engine import Verdict
from boxlamp.model.levels import Level
from boxlamp.view.alert_lines import to_ring
from boxlamp.view.board import Board
from boxlamp.view.board import board as board_of
from boxlamp.view.layout import FINE, PLAIN, fitted, full
from boxlamp.view.plain import plain_board
from boxlamp.view.words import levels_counted


def show_board(
    *,
    follow: bool = False,
    at: str | None = None,
    as_known: bool = False,
    journal: Path | None = None,
    litter: str | None = None,
    as_json: bool = False,
    plain: bool = False,
    no_color: bool = False,
) -> int:
    """Show the running litter record, once or until Ctrl-C. The exit code, which is 0."""
    output = Output()
    if follow and (at or as_json or plain):
        raise UsageError("--follow shows the present on a screen; leave out --at, --json, --plain.")
    with session(journal, litter) as here:
        if follow:
            _follow(here, output, colour=output.colour and not no_color)
            return 0
        moment = moment_of(at, here, output.say)
        verdict = here.assess_at(moment, known=as_known).verdict(moment)
        if as_json:
            from boxlamp.view.machine import verdict_json

            output.data(verdict_json(verdict, here.litter, here.zone))
            return 0
        model = _board(here, verdict, moment, latest=8)
        if plain:
            output.results(plain_board(model))
        else:
            lines = full(model, width(), FINE if output.fine else PLAIN)
            if output.live:
                lines += recalled(_worst(model), len(lines))
            show(lines, output, colour=output.colour and not no_color)
    return 0


def _board(here: Session, verdict: Verdict, moment: datetime, *, latest: int) -> Board:
    typed = [entry for entry in here.entries if entry.recorded <= moment or entry.at <= moment]
    return board_of(verdict, typed, here.zone, latest=latest)


def _worst(model: Board) -> str:
    """The alerts by level, the worst in its own words; nothing when none asks to ring or go.

    What hands do at once stands before it, as on the board.
    """
    worst = max((line.level for line in model.alerts), default=Level.PROMPT)
    if worst < Level.CALL:
        return ""
    first = model.alerts[0]
    gravest = next(line for line in model.alerts if line.level is worst)
    before = () if first is gravest else (first.message, *first.do[:1])
    counts = levels_counted(line.level for line in model.alerts)
    asked = (gravest.message, *gravest.do[:1], *to_ring(gravest))
    return " ".join(filter(None, (f"{counts}.", *before, *asked, model.vet)))


def _follow(here: Session, output: Output, *, colour: bool) -> None:
    """Redraw every second until Ctrl-C; entries typed elsewhere appear by themselves."""
    if not output.live:
        raise UsageError("--follow needs a terminal. For a pipe use `boxlamp board --plain`.")
    from rich.live import Live

    gc.enable()

    from boxlamp.desk.steady import Steady
    from boxlamp.view.show_rich import console_for, texts

    console = console_for(output.out, colour=colour)
    glyphs = FINE if output.fine else PLAIN
    version = here.journal.data_version()
    steady = Steady(outside.now, began=here.present(outside.now()))
    with Live(console=console, screen=True, auto_refresh=False) as live:
        while True:
            seen = here.journal.data_version()
            if seen != version:
                version = seen
                here.refresh()
            now = steady.now()
            model = _board(here, here.verdict(now), now, latest=12)
            columns, height = console.size
            lines = fitted(model, columns, height - 1, glyphs)
            live.update(texts(shown(lines, output)), refresh=True)
            time.sleep(1 - time.time() % 1)
