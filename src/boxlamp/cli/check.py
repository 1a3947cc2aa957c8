"""``boxlamp check``: the alerts that stand, for scripts and for a quick look."""

from collections.abc import Iterator
from typing import Annotated

import typer

from boxlamp.cli import options
from boxlamp.cli.output import Output
from boxlamp.desk.session import Session, moment_of, session
from boxlamp.engine import Verdict
from boxlamp.model.levels import Level
from boxlamp.view.board import CAUTION
from boxlamp.view.machine import verdict_json
from boxlamp.view.reminders import reminder_lines
from boxlamp.view.said import alert_lines, next_line, why_lines
from boxlamp.view.text import wrap


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
    output = Output()
    with session(journal, litter) as here:
        moment = moment_of(at, here)
        verdict = here.assess_at(moment, known=as_known).verdict(moment)
        if as_json:
            output.data(verdict_json(verdict, here.litter, here.zone))
        elif plain:
            for alert in verdict.alerts:
                output.result(
                    f"{alert.level.word}\t{alert.rule.id}\t{alert.subject}\t{alert.message}"
                )
            output.results(f"reminder\t{words}" for words in reminder_lines(verdict))
        else:
            output.results(alert_lines(verdict, here.zone) if verdict.alerts else ["No alert."])
            if why:
                output.results(_reasons(here, verdict))
            output.results(f"  - {words}" for words in reminder_lines(verdict))
            output.result(next_line(verdict, here.zone))
            output.result(CAUTION)
    raise typer.Exit(1 if (verdict.worst or Level.PROMPT) >= Level.CALL else 0)


def _reasons(here: Session, verdict: Verdict) -> Iterator[str]:
    for alert in verdict.alerts:
        yield ""
        yield f"Why {alert.level.word}, {alert.rule.title}:"
        for line in why_lines(alert, verdict, here.entries, here.zone):
            yield from (f"  {part}" for part in wrap(line, 76))
    yield ""
