"""What ``boxlamp check`` does, once it is clear what was asked. Typer is not loaded for it."""

from collections.abc import Iterator
from pathlib import Path

from boxlamp.cli.output import Output
from boxlamp.desk.session import Session, moment_of, session
from boxlamp.engine import Verdict
from boxlamp.model.levels import Level
from boxlamp.view.reminders import reminder_lines
from boxlamp.view.said import alert_lines, next_line, why_lines
from boxlamp.view.text import wrap
from boxlamp.view.words import CAUTION


def check_now(
    *,
    at: str | None = None,
    as_known: bool = False,
    journal: Path | None = None,
    litter: str | None = None,
    why: bool = False,
    as_json: bool = False,
    plain: bool = False,
) -> int:
    """Say what is wrong. The exit code: 0 nothing above watch; 1 ring the vet, or go."""
    output = Output()
    with session(journal, litter) as here:
        moment = moment_of(at, here, output.say)
        verdict = here.assess_at(moment, known=as_known).verdict(moment)
        if as_json:
            from boxlamp.view.machine import verdict_json

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
    return 1 if (verdict.worst or Level.PROMPT) >= Level.CALL else 0


def _reasons(here: Session, verdict: Verdict) -> Iterator[str]:
    for alert in verdict.alerts:
        yield ""
        yield f"Why {alert.level.word}, {alert.rule.title}:"
        for line in why_lines(alert, verdict, here.entries, here.zone):
            yield from (f"  {part}" for part in wrap(line, 76))
    yield ""
