"""The view model of the running litter record: a verdict in plain words and numbers."""

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta, tzinfo
from typing import NamedTuple

from boxlamp.engine import Alert, Verdict
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Amend, Note, VetContact
from boxlamp.model.levels import Level
from boxlamp.model.litter import Litter
from boxlamp.model.order import homes, struck
from boxlamp.model.spans import in_words
from boxlamp.view.advice import vet_said, vet_word
from boxlamp.view.clock_lines import ClockLine, clock_lines
from boxlamp.view.pup_lines import PupLine, grown, pup_lines
from boxlamp.view.reminders import reminder_lines
from boxlamp.view.temperatures import Temperatures, temperatures
from boxlamp.view.text import clean, clock_text
from boxlamp.view.words import (
    CAUTION,
    message_words,
    said_above,
    steps_for,
    subject_words,
    typed_words,
    vet_words,
)


class AlertLine(NamedTuple):
    """One alert as a person reads it."""

    level: Level
    rule: str
    subject: str
    message: str
    do: tuple[str, ...]
    raised: str
    quiet: bool
    heard: str
    """When it was acknowledged, or nothing."""
    at_once: bool = False
    """Whether minutes count, whatever its level."""
    vet_said: str = ""
    """What the vet said while it stood, and when; the alert stands all the same."""


class EntryLine(NamedTuple):
    """One entry as it was typed."""

    number: int
    time: str
    text: str
    remark: str
    """``about``, ``struck``, ``amended``, ``not understood`` - or nothing."""
    whole: bool = False
    """Whether it is never cut: what the vet said is acted upon hours later."""


class Board(NamedTuple):
    """Everything the board shows, in the order in which it matters."""

    dam: str
    now: str
    phase: str
    tally: tuple[str, ...]
    since: tuple[str, ...]
    alerts: tuple[AlertLine, ...]
    prompts: tuple[str, ...]
    clocks: tuple[ClockLine, ...]
    temperatures: Temperatures | None
    """The dam's readings before labour and in the weeks after it, when there are some to draw."""
    pups: tuple[PupLine, ...]
    grown: bool
    """Whether the night is over, and the scale says more of the pups than the steps at birth."""
    owed: str
    entries: tuple[EntryLine, ...]
    notes: tuple[str, ...]
    vet: str
    vet_said: str = ""
    """What the vet said, where no alert stands that it could be shown beside."""
    caution: str = CAUTION


class Typed(NamedTuple):
    """A record as typed, with what became of its entries; the same at every moment."""

    entries: Sequence[Entry]
    withdrawn: frozenset[int]
    amended: frozenset[int]
    moments: Sequence[datetime]
    """When each was typed, in order of time."""


def as_typed(entries: Sequence[Entry]) -> Typed:
    """What the board says of a record whatever the time is: found once, shown every second."""
    withdrawn, home = struck(entries), homes(entries)
    amended = {
        number
        for entry in entries
        if isinstance(entry.what, Amend) and entry.id not in withdrawn
        # An amend of an amend changes the line that both are about.
        for number in (entry.what.target, home[entry.id])
    }
    moments = sorted(entry.recorded for entry in entries)
    return Typed(entries, frozenset(withdrawn), frozenset(amended), moments)


def board(
    verdict: Verdict, entries: Sequence[Entry] | Typed, zone: tzinfo, *, latest: int = 8
) -> Board:
    """Set out a verdict for reading. ``entries`` are all entries as typed; the last are shown."""
    litter, now = verdict.litter, verdict.at
    typed = entries if isinstance(entries, Typed) else as_typed(entries)
    return Board(
        dam=clean(litter.details.dam or "The dam"),
        now=clock_text(now, now, zone, seconds=True),
        phase=phase_words(litter, now),
        tally=_tally(litter),
        since=tuple(_since(litter, typed.moments, now)),
        alerts=tuple(_alerts(verdict, zone)),
        prompts=tuple(reminder_lines(verdict)),
        clocks=tuple(clock_lines(verdict, zone)),
        temperatures=temperatures(verdict.story, litter, verdict.book, now, zone),
        pups=tuple(pup_lines(verdict, zone)),
        grown=grown(litter, now),
        owed=_owed(litter),
        entries=tuple(entry_lines(typed, now, zone, latest=latest)),
        notes=tuple(_notes(verdict)),
        vet=vet_words(litter, now, zone),
        vet_said="" if verdict.alerts else vet_word(verdict, zone),
    )


def phase_words(litter: Litter, now: datetime) -> str:
    """The phase of the whelping and the time in it."""
    if litter.phase_since is None:
        return "waiting: no sign of labour written down"
    words = {"waiting": "settled again", "labour": "in labour"}.get(litter.phase, litter.phase)
    if litter.caesarean is not None and litter.phase == "labour":
        return f"caesarean, {in_words(now - litter.caesarean)}"
    # What was called finished too early goes on.
    again = (
        " again" if litter.phase == "labour" and litter.phase_since != litter.labour_since else ""
    )
    return f"{words}{again}, {in_words(now - litter.phase_since)}"


def _tally(litter: Litter) -> tuple[str, ...]:
    how = {"xray": "x-ray", "scan": "scan", "guess": "a guess"}.get(litter.expected_by or "", "")
    of = f" of {litter.expected} ({how})" if litter.expected is not None else ""
    dead = litter.born - litter.alive
    words = [f"born {litter.born}{of}", f"alive {litter.alive}"]
    if dead:
        words.append(f"dead {dead}")
    owed = len(litter.ledger.owed)
    return (*words, f"afterbirths {litter.ledger.passed}" + (f", {owed} owed" if owed else ""))


def _since(litter: Litter, typed: Sequence[datetime], now: datetime) -> Iterable[str]:
    if litter.left_for_vet is not None and litter.on_the_way(now):
        yield f"left for the vet {in_words(now - litter.left_for_vet)} ago"
    if litter.last_birth is not None:
        yield f"last pup {in_words(now - litter.last_birth)} ago"
    if litter.last_contraction is not None and not grown(litter, now):
        yield f"last push {in_words(now - litter.last_contraction.at)} ago"
    if count := bisect_right(typed, now):
        yield f"last entry {in_words(now - typed[count - 1])} ago"


def _alerts(verdict: Verdict, zone: tzinfo) -> Iterable[AlertLine]:
    litter, now = verdict.litter, verdict.at
    under, said = vet_said(verdict, zone) or (-1, "")
    for place, alert in enumerate(verdict.alerts):
        line = _alert(alert, litter, now, zone)._replace(vet_said=said if place == under else "")
        yield line._replace(do=()) if said_above(verdict.alerts, place) else line


def _alert(alert: Alert, litter: Litter, now: datetime, zone: tzinfo) -> AlertLine:
    return AlertLine(
        level=alert.level,
        rule=alert.rule.id,
        subject=subject_words(alert.subject, litter),
        message=message_words(alert, litter),
        do=steps_for(alert, litter),
        raised=clock_text(alert.raised, now, zone),
        quiet=alert.quiet,
        heard=clock_text(alert.acknowledged, now, zone) if alert.acknowledged else "",
        at_once=alert.rule.in_minutes(alert.spell.clock),
    )


def _owed(litter: Litter) -> str:
    owed = litter.ledger.owed
    surplus = len(litter.ledger.surplus)
    if surplus and litter.caesarean is None:  # after one the count means nothing
        more = "one afterbirth" if surplus == 1 else f"{surplus} afterbirths"
        return f"{more} more than pups: is a pup not written down?"
    if not owed:
        return ""
    names = ", ".join(str(debt.pup) for debt in owed)
    return (
        f"afterbirth owed by pup {names}" if len(owed) == 1 else f"afterbirths owed: pups {names}"
    )


def entry_lines(typed: Typed, now: datetime, zone: tzinfo, *, latest: int) -> Iterable[EntryLine]:
    """The latest entries as typed, in order of typing, with what became of each."""
    for entry in typed.entries[-latest:]:
        remarks = []
        if entry.certainty == "estimated":
            remarks.append("about")
        if entry.id in typed.withdrawn:
            remarks.append("struck")
        elif entry.id in typed.amended:
            remarks.append("amended")
        if isinstance(entry.what, Note) and entry.what.unread:
            remarks.append("not understood")
        yield EntryLine(
            number=entry.id,
            time=clock_text(entry.at, now, zone),
            text=typed_words(entry),
            remark=", ".join(remarks),
            whole=isinstance(entry.what, VetContact),
        )


def _notes(verdict: Verdict) -> Iterable[str]:
    book = verdict.book
    if book.now.risks:
        yield f"Limits tightened: {', '.join(book.now.risks)}."
    for change in book.changes:
        limit = change.limit
        span = in_words(timedelta(seconds=limit.seconds))
        if change.refused:
            yield f"Refused: {clean(limit.rule)} is never relaxed (asked for by {clean(limit.by)})."
        else:
            yield (
                f"Limit changed: {clean(limit.rule)} {limit.level} at {span}, on the word of "
                f"{clean(limit.by)}."
            )
