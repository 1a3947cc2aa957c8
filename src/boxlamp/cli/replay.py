"""``boxlamp replay FILE``: a past night told again, with its alerts at their second."""

import shlex
import time
from collections.abc import Iterator
from datetime import datetime, timedelta, tzinfo
from typing import Annotated

import typer

from boxlamp import outside
from boxlamp.cli import options
from boxlamp.cli.output import Output
from boxlamp.desk.files import read_record
from boxlamp.desk.session import UsageError
from boxlamp.engine import Transition, explain
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Details
from boxlamp.model.levels import Level
from boxlamp.model.litter import fold
from boxlamp.model.quantities import plain
from boxlamp.model.story import Story
from boxlamp.model.zones import zone_named
from boxlamp.training.retelling import Moment, retell, unmet
from boxlamp.view.board import CAUTION, typed_words
from boxlamp.view.machine import transition_json
from boxlamp.view.text import clean, clock_text

_AFTERGLOW = timedelta(hours=1)
_LONGEST_WAIT = 3.0


def replay(
    file: Annotated[str, typer.Argument(help="A night log or an exported record; `-` for a pipe.")],
    speed: Annotated[
        float | None,
        typer.Option("--speed", min=1, help="Play it N times as fast as it was.", metavar="N"),
    ] = None,
    until: Annotated[
        str | None, typer.Option("--until", help="Stop at this time of the night, e.g. 02:30.")
    ] = None,
    as_json: options.AsJson = False,
) -> None:
    """Tell a past night again, with its alerts.

    With --speed it takes its time, quiet stretches cut short; --json prints the changes of the
    alerts, one object a line.
    """
    output = Output()
    record = read_record(file)
    entries, zone = record.entries, zone_named(_zone_name(record.entries))
    if not entries:
        raise UsageError(f"{file}: there is nothing in it to replay.")
    end = _end(record.entries, [line.at for line in record.expected if line.at], until, zone)
    moments, steps = retell(entries, outside.default_protocol(), end)
    if as_json:
        for step in steps:
            output.data(transition_json(step, zone))
        return
    output.results(_opening(entries, zone))
    before: datetime | None = None
    for moment in moments:
        if speed is not None and before is not None:
            time.sleep(min(_LONGEST_WAIT, (moment.at - before).total_seconds() / speed))
        output.results(_told(moment, zone))
        before = moment.at
    output.results(_closing(entries, end, steps))
    missed = list(unmet([line for line in record.expected if line.at is None], steps))
    wanted = [line for line in record.expected if line.at is not None and line.at <= end]
    if wanted:
        late = list(unmet(wanted, steps))
        output.result(
            f"The file states {len(wanted)} expected alerts; {len(wanted) - len(late)} came "
            "at their second."
        )
        missed = late + missed
    output.results(missed)
    output.result(CAUTION)
    if file != "-" and output.live:
        output.say(f"Its sheet for the vet: boxlamp summary {shlex.quote(file)} -o night.pdf")
    raise typer.Exit(1 if missed else 0)


def _opening(entries: tuple[Entry, ...], zone: tzinfo) -> Iterator[str]:
    details = fold(Story(entries)).details
    first = min(entry.at for entry in entries if entry.certainty != "day").astimezone(zone)
    facts = (
        details.breed,
        f"{plain(round(details.weight / 1000, 1))} kg" if details.weight else None,
    )
    told = ", ".join(clean(fact) for fact in (details.dam or "A dam", *facts) if fact)
    yield f"{told}. The night of {first:%d %B %Y}, {zone}."
    for entry in entries:
        if entry.certainty == "day" and not isinstance(entry.what, Details):
            yield f"{entry.at.astimezone(zone):%d %b %Y}          {typed_words(entry)}"
    yield ""


def _told(moment: Moment, zone: tzinfo) -> Iterator[str]:
    time_text = moment.at.astimezone(zone).strftime("%H:%M:%S")
    if moment.entry is not None:
        entry = moment.entry
        if entry.certainty == "day":
            return  # told at the top
        late = entry.at != entry.recorded
        about = f"  [at {clock_text(entry.at, moment.at, zone)}]" if late else ""
        yield f"{time_text}             {typed_words(entry)}{about}"
        return
    if moment.step is None:
        return
    step = moment.step
    subject = f"{step.subject}: " if step.subject.startswith("pup ") else ""
    if step.change == "cleared":
        yield f"{time_text}      over   {subject}{step.rule.title}"
    elif step.change == "acknowledged":
        yield f"{time_text}      heard  {subject}{step.rule.title}"
    else:
        lead = f"{time_text}  {step.level.mark:>3} {step.level.word.upper():<6}"
        message = clean(explain(step.rule, step.spell, step.at))
        yield f"{lead} {'' if step.subject in message else subject}{message}"
        yield from (f"{' ' * 21}{todo}" for todo in step.rule.steps(step.level)[:1])


def _closing(entries: tuple[Entry, ...], end: datetime, steps: list[Transition]) -> Iterator[str]:
    litter = fold(Story(entries).until(end))
    came = {
        level: sum(step.change in {"raised", "escalated"} and step.level is level for step in steps)
        for level in (Level.WATCH, Level.CALL, Level.GO)
    }
    counts = ", ".join(f"{count} {level.word}" for level, count in came.items())
    yield ""
    yield (
        f"Born {litter.born}, alive {litter.alive}, afterbirths {litter.ledger.passed}, "
        f"owed {len(litter.ledger.owed)}. Alerts: {counts}."
    )


def _end(
    entries: tuple[Entry, ...], expected: list[datetime], until: str | None, zone: tzinfo
) -> datetime:
    last = max(entry.recorded for entry in entries)
    if until is None:
        return max([last, *expected]) if expected else last + _AFTERGLOW
    first = min(entry.recorded for entry in entries if entry.certainty != "day")
    parts = until.split(":")
    try:
        hour, minute, second = (int(part) for part in (*parts, "0", "0")[:3])
        local = first.astimezone(zone).replace(hour=hour, minute=minute, second=second)
    except ValueError as error:
        raise UsageError(f"--until {until}: write a time of the night such as 02:30.") from error
    return local if local >= first else local + timedelta(days=1)


def _zone_name(entries: tuple[Entry, ...]) -> str:
    named = [e.what.zone for e in entries if isinstance(e.what, Details) and e.what.zone]
    return named[-1] if named else (entries[0].zone if entries else "UTC")
