"""``boxlamp check``: the alerts that stand, for scripts and for a quick look."""

import typer

from boxlamp.cli import options
from boxlamp.cli.output import Output
from boxlamp.desk.session import moment_of, session
from boxlamp.model.levels import Level
from boxlamp.view.board import CAUTION
from boxlamp.view.machine import verdict_json
from boxlamp.view.said import alert_lines, next_line


def check(
    at: options.At = None,
    as_known: options.AsKnown = False,
    journal: options.Journal = None,
    litter: options.Litter = None,
    as_json: options.AsJson = False,
    plain: options.AsPlain = False,
) -> None:
    """Say what is wrong now.

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
        else:
            output.results(alert_lines(verdict, here.zone) if verdict.alerts else ["No alert."])
            output.result(next_line(verdict, here.zone))
            output.result(CAUTION)
    raise typer.Exit(1 if (verdict.worst or Level.PROMPT) >= Level.CALL else 0)
