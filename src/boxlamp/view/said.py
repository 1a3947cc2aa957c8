"""Alerts and deadlines as single lines, for answers that are not a whole board."""

from collections.abc import Iterator, Sequence
from datetime import timedelta, tzinfo

from boxlamp.engine import Alert, Deadline, Verdict
from boxlamp.model.entry import Entry
from boxlamp.model.levels import Level
from boxlamp.model.spans import in_words
from boxlamp.protocol.records import SEEN_WORDS
from boxlamp.view.advice import vet_said
from boxlamp.view.text import clock_text
from boxlamp.view.words import (
    levels_counted,
    message_words,
    said_above,
    steps_for,
    subject_words,
    typed_words,
    vet_words,
)

_NEAR = timedelta(days=1)
NOTHING_NEAR = "No clock runs towards another alert within a day."


def alert_lines(verdict: Verdict, zone: tzinfo) -> Iterator[str]:
    """Every standing alert with what to do, the worst first; the vet's number where it helps."""
    for place in range(len(verdict.alerts)):
        yield from _whole(verdict, place, zone, again=said_above(verdict.alerts, place))


def changed_lines(verdict: Verdict, raised: Sequence[Alert], zone: tzinfo) -> Iterator[str]:
    """The alerts after a line: the worst that stands and those it raised, with what to do.

    What hands do within seconds may stand above the worst, and is told with it.
    Any other that says to leave for the vet, or where minutes count, keeps its sentence, and so
    does one to ring about that nobody has heard; the rest are counted.
    """
    new = {(alert.rule.id, alert.subject) for alert in raised}
    counted: list[Level] = []
    levels = [alert.level for alert in verdict.alerts]
    told = {0, levels.index(max(levels))} if levels else set()
    above = -1
    for place, alert in enumerate(verdict.alerts):
        if place in told or (alert.rule.id, alert.subject) in new:
            again = above == place - 1 and said_above(verdict.alerts, place)
            yield from _whole(verdict, place, zone, again=again)
            above = place
        elif _keeps_its_sentence(alert):
            yield alert_line(alert, verdict, zone)
        else:
            counted.append(alert.level)
    if counted:
        many = len(counted) > 1
        stand = f"{len(counted)} more stand" if many else "1 more stands"
        yield f"and {stand} as before: {levels_counted(counted)}. All: boxlamp board"


def _keeps_its_sentence(alert: Alert) -> bool:
    unheard = alert.level is Level.CALL and alert.acknowledged is None
    return alert.level is Level.GO or unheard or alert.rule.in_minutes(alert.spell.clock)


def _whole(verdict: Verdict, place: int, zone: tzinfo, *, again: bool) -> Iterator[str]:
    """An alert with what to do, unless the one above has just said the same."""
    alert = verdict.alerts[place]
    yield alert_line(alert, verdict, zone)
    steps = [] if again else list(steps_for(alert, verdict.litter))
    number = vet_words(verdict.litter, verdict.at, zone)
    under, said = vet_said(verdict, zone) or (-1, "")
    beside = [said] if place == under else []
    if number and steps and alert.level >= Level.CALL:
        beside.insert(0, number)
    steps[1:1] = beside
    yield from (f"          {step}" for step in steps)


def alert_line(alert: Alert, verdict: Verdict, zone: tzinfo) -> str:
    """One alert in one line."""
    raised = clock_text(alert.raised, verdict.at, zone)
    level, message = alert.level, message_words(alert, verdict.litter)
    return f"{level.mark:>3} {level.word.upper():<5} {raised} {message}"


def why_lines(
    alert: Alert, verdict: Verdict, entries: Sequence[Entry], zone: tzinfo
) -> Iterator[str]:
    """What an alert rests on: the entries, the clock, the limit, and where the limit is from."""
    from boxlamp.view.machine import sources_of

    typed = {entry.id: entry for entry in entries}
    for number in alert.entries:
        if number in typed:
            at = clock_text(typed[number].at, verdict.at, zone)
            yield f"entry {number}: {at} {typed_words(typed[number])}"
    since = clock_text(alert.since, verdict.at, zone, seconds=True)
    limit = in_words(alert.limit) if alert.limit else "at once"
    begins = "from" if alert.spell.held else "since"
    ran = f"{in_words(alert.counted)} {begins} {since}"
    yield f"clock: {ran}; limit for {alert.level.word}: {limit}"
    for source in sources_of(alert, verdict.book.protocol):
        cited = f" Source: {source['title']}. {source['where']}" if source["title"] else ""
        yield f"limit: {source['says']} [{SEEN_WORDS[source['seen']]}]{cited}"
    yield f"more: boxlamp rules {alert.rule.id}"


def next_line(verdict: Verdict, zone: tzinfo) -> str:
    """The next level that will be reached if nothing is written down before."""
    loud = {(alert.rule.id, alert.subject): alert.level for alert in verdict.alerts}
    near = (
        due
        for due in verdict.next
        # What stands already by another clock of the rule is nothing to wait for.
        if (level := loud.get((due.rule.id, due.subject), Level.PROMPT)) < due.level
        # A slow clock that the board leaves out is no news until its day has come.
        and (due.rule.on_board or due.due - verdict.at <= _NEAR or level)
    )
    due = next(near, None)
    if due is None:
        return NOTHING_NEAR
    return f"Next: {deadline_words(due, verdict, zone)}"


def deadline_words(due: Deadline, verdict: Verdict, zone: tzinfo) -> str:
    """``watch in 12 min (02:26): Afterbirth owed, pup 3``."""
    name = subject_words(due.subject, verdict.litter)
    about = f", {name}" if due.subject.startswith("pup ") else ""
    return (
        f"{due.level.word} in {in_words(due.due - verdict.at)} "
        f"({clock_text(due.due, verdict.at, zone)}): {due.rule.title}{about}"
    )
