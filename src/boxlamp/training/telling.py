"""A past night in words: how it begins, one line for each thing that happened, what it came to."""

from collections.abc import Iterator
from datetime import datetime, timedelta

from boxlamp.engine import Transition, explain
from boxlamp.model.happenings import Amend, Details, Note, Strike
from boxlamp.model.levels import ALERTS, Level
from boxlamp.model.litter import fold
from boxlamp.model.quantities import plain
from boxlamp.model.spans import in_words
from boxlamp.model.story import Story
from boxlamp.model.zones import plain_zone
from boxlamp.training.retelling import Moment
from boxlamp.training.screening import Screening
from boxlamp.view.text import clean, clock_text, date_text, day_text, width_of, wrap
from boxlamp.view.words import steps_for, typed_words

# Our choice: a gap in the telling that a reader should notice.
_GAP = timedelta(minutes=30)
_LEAD = " " * 21


def opening(screening: Screening) -> Iterator[str]:
    """Whose night it is, how it is told, and the facts that were known before."""
    details = fold(Story(screening.entries)).details
    zone, first = screening.zone, screening.began.astimezone(screening.zone)
    weight = f"{plain(round(details.weight / 1000, 1))} kg" if details.weight else None
    told = ", ".join(
        clean(fact) for fact in (details.dam or "A dam", details.breed, weight) if fact
    )
    span = "record" if screening.ended - screening.began > timedelta(days=2) else "night"
    yield f"{told}. The {span} of {first:%d %B %Y}, {plain_zone(str(zone))}."
    if screening.as_corrected:
        yield f"{READING[True].capitalize()}: {_CORRECTED}"
    elif screening.typed_afterwards:
        yield AFTERWARDS
    for entry in screening.before:
        if not isinstance(entry.what, Details):
            yield f"{entry.at.astimezone(zone):%d %b %Y}          {typed_words(entry)}"
    yield ""


READING = {False: "as known then", True: "as corrected"}
"""The two readings of a night by whether it is the corrected one."""
AFTERWARDS = "Most lines were typed afterwards: --as-corrected shows it as it happened."
_CORRECTED = "as if every line had been right and typed when it happened."


def lines(screening: Screening) -> Iterator[tuple[datetime, list[str]]]:
    """Every moment in order, with the lines that tell it; a new day and a quiet gap are said."""
    zone, before = screening.zone, screening.began
    for moment in screening.moments:
        day = moment.at.astimezone(zone).date()
        told: list[str] = []
        if moment.at - before >= _GAP:
            told.append(f"{' ' * 10}(quiet for {in_words(moment.at - before)})")
        if day != before.astimezone(zone).date():
            told.append(f"{date_text(day, year=True)}")
        told += _told(moment, screening)
        yield moment.at, told
        before = moment.at


def _told(moment: Moment, screening: Screening) -> Iterator[str]:
    zone = screening.zone
    time_text = moment.at.astimezone(zone).strftime("%H:%M:%S")
    if moment.entry is not None:
        yield f"{time_text}             {entry_words(moment, screening)}"
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
        message = clean(explain(step.rule, step.spell, step.at, step.also))
        yield f"{lead} {'' if step.subject in message else subject}{message}"
        yield from (f"{_LEAD}{todo}" for todo in _steps(step, screening)[:1])


def _steps(step: Transition, screening: Screening) -> tuple[str, ...]:
    """What the board of that moment says to do: who is with the vet already need not ring."""
    if step.level >= Level.CALL:
        verdict = screening.verdict(step.at)
        for alert in verdict.alerts:
            if (alert.rule.id, alert.subject) == (step.rule.id, step.subject):
                return steps_for(alert, verdict.litter)
    return step.rule.steps(step.level)


def entry_words(moment: Moment, screening: Screening) -> str:
    """A typed line; in brackets the line it corrects, and the time it is about if another."""
    entry = moment.entry
    if entry is None:
        return ""
    zone, what = screening.zone, entry.what
    beside: list[str] = []
    about = clock_text(entry.at, moment.at, zone)
    if about != clock_text(entry.recorded, moment.at, zone):  # told to the minute, as it is typed
        day_only = entry.certainty == "day"
        beside.append(day_text(entry.at, zone) if day_only else f"at {about}")
    if isinstance(what, Amend | Strike):
        beside += [typed_words(one) for one in screening.entries if one.id == what.target]
    if isinstance(what, Note) and what.unread:
        beside.append("not understood")
    return f"{typed_words(entry)}  [{', '.join(beside)}]" if beside else typed_words(entry)


def hanging(line: str, across: int) -> list[str]:
    """A line of the telling as it fits a terminal, its words under one another."""
    lead, words = line[: len(_LEAD)], line[len(_LEAD) :]
    if width_of(line) <= across or across < 2 * len(_LEAD):
        return [line]
    first, *rest = wrap(words, across - len(_LEAD))
    return [lead + first, *(_LEAD + part for part in rest)]


def short_words(moment: Moment, screening: Screening) -> tuple[str, str]:
    """One moment in a few words for a line under the board, and the role it is shown in."""
    if moment.entry is not None:
        return "entry", f"typed: {entry_words(moment, screening)}"
    step = moment.step
    if step is None:
        return "text", ""
    subject = f" ({step.subject})" if step.subject.startswith("pup ") else ""
    what = f"{step.rule.title}{subject}"
    if step.change == "cleared":
        return "dim", f"over: {what}"
    if step.change == "acknowledged":
        return "dim", f"heard: {what}"
    return step.level.word, f"{step.level.mark} {step.level.word.upper()}: {what}"


def result(screening: Screening) -> str:
    """What the night came to, in one line."""
    litter = screening.verdict(screening.ended).litter
    levels = [level for _, level in screening.alerts]
    counts = ", ".join(f"{levels.count(level)} {level.word}" for level in ALERTS)
    return (
        f"Born {litter.born}, alive {litter.alive}, afterbirths {litter.ledger.passed}, "
        f"owed {len(litter.ledger.owed)}. Alerts: {counts}."
    )
