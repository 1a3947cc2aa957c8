"""The view model of the running litter record: a verdict in plain words and numbers."""

from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta, tzinfo
from typing import NamedTuple

from boxlamp.engine import Alert, Clock, Verdict
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Amend, Note
from boxlamp.model.levels import Level
from boxlamp.model.litter import Litter
from boxlamp.model.order import homes, struck
from boxlamp.model.spans import in_short, in_words
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


class ClockLine(NamedTuple):
    """One running clock, or several of one rule told together by the most pressing."""

    title: str
    pups: tuple[int, ...]
    elapsed: str
    level: Level | None
    filled: float
    """How much of the bar is filled, 0 to 1; the bar's end is the last limit."""
    ticks: tuple[tuple[float, Level], ...]
    coming: str
    """The next level and when: ``call in 12 min (02:34)``."""


class EntryLine(NamedTuple):
    """One entry as it was typed."""

    number: int
    time: str
    text: str
    remark: str
    """``about``, ``struck``, ``amended``, ``not understood`` - or nothing."""


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
    caution: str = CAUTION


def board(verdict: Verdict, entries: Sequence[Entry], zone: tzinfo, *, latest: int = 8) -> Board:
    """Set out a verdict for reading. ``entries`` are all entries as typed; the last are shown."""
    litter, now = verdict.litter, verdict.at
    return Board(
        dam=clean(litter.details.dam or "The dam"),
        now=clock_text(now, now, zone, seconds=True),
        phase=phase_words(litter, now),
        tally=_tally(litter),
        since=tuple(_since(litter, entries, now)),
        alerts=tuple(_alerts(verdict, zone)),
        prompts=tuple(reminder_lines(verdict)),
        clocks=tuple(_clocks(verdict, zone)),
        temperatures=temperatures(verdict.story, litter, verdict.book, now, zone),
        pups=tuple(pup_lines(verdict, zone)),
        grown=grown(litter, now),
        owed=_owed(litter),
        entries=tuple(entry_lines(entries, now, zone, latest=latest)),
        notes=tuple(_notes(verdict)),
        vet=vet_words(litter, now, zone),
    )


def phase_words(litter: Litter, now: datetime) -> str:
    """The phase of the whelping and the time in it."""
    if litter.phase_since is None:
        return "waiting: no sign of labour written down"
    words = {"waiting": "settled again", "labour": "in labour"}.get(litter.phase, litter.phase)
    if litter.caesarean is not None and litter.phase == "labour":
        words = "caesarean"
    return f"{words}, {in_words(now - litter.phase_since)}"


def _tally(litter: Litter) -> tuple[str, ...]:
    how = {"xray": "x-ray", "scan": "scan", "guess": "a guess"}.get(litter.expected_by or "", "")
    of = f" of {litter.expected} ({how})" if litter.expected is not None else ""
    dead = litter.born - litter.alive
    words = [f"born {litter.born}{of}", f"alive {litter.alive}"]
    if dead:
        words.append(f"dead {dead}")
    owed = len(litter.ledger.owed)
    return (*words, f"afterbirths {litter.ledger.passed}" + (f", {owed} owed" if owed else ""))


def _since(litter: Litter, entries: Sequence[Entry], now: datetime) -> Iterable[str]:
    if litter.last_birth is not None:
        yield f"last pup {in_words(now - litter.last_birth)} ago"
    if litter.last_contraction is not None and not grown(litter, now):
        yield f"last push {in_words(now - litter.last_contraction.at)} ago"
    typed = [entry.recorded for entry in entries if entry.recorded <= now]
    if typed:
        yield f"last entry {in_words(now - max(typed))} ago"


def _alerts(verdict: Verdict, zone: tzinfo) -> Iterable[AlertLine]:
    litter, now = verdict.litter, verdict.at
    for place, alert in enumerate(verdict.alerts):
        line = _alert(alert, litter, now, zone)
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


def _clocks(verdict: Verdict, zone: tzinfo) -> Iterable[ClockLine]:
    """The running clocks, those of one rule together, the most pressing first."""
    groups: dict[str, list[Clock]] = {}
    for clock in sorted(verdict.clocks, key=lambda clock: _urgency(clock, verdict.at)):
        # A reminder has its own place; off the board its clock would only say the same again.
        if clock.limits and (clock.rule.on_board or clock.level):
            groups.setdefault(clock.rule.id, []).append(clock)
    for group in groups.values():
        first = group[0]
        end = max(due for _, due in first.limits) - first.spell.since
        yield ClockLine(
            title=first.rule.title if first.level else first.rule.running or first.rule.title,
            pups=tuple(
                dict.fromkeys(
                    int(clock.spell.subject[4:])
                    for clock in group
                    if clock.spell.subject.startswith("pup ")
                )
            ),
            elapsed=in_short(first.elapsed),
            level=first.level,
            filled=min(1.0, first.elapsed / end) if end else 1.0,
            ticks=tuple(
                ((due - first.spell.since) / end if end else 1.0, level)
                for level, due in first.limits
            ),
            coming=_coming(first, verdict.at, zone),
        )


def _urgency(clock: Clock, now: datetime) -> tuple[int, datetime, datetime]:
    ahead = clock.next_limit(now)
    return -(clock.level or 0), ahead[1] if ahead else now, clock.spell.since


def _coming(clock: Clock, now: datetime, zone: tzinfo) -> str:
    ahead = clock.next_limit(now)
    if ahead is not None:
        level, due = ahead
        word = "remind" if level is Level.PROMPT else level.word
        return f"{word} in {in_short(due - now)} ({clock_text(due, now, zone)})"
    level, due = clock.limits[-1]
    return f"past {level.word} since {clock_text(due, now, zone)}"


def _owed(litter: Litter) -> str:
    owed = litter.ledger.owed
    if litter.ledger.surplus:
        return "one afterbirth more than pups: is a pup not written down?"
    if not owed:
        return ""
    names = ", ".join(str(debt.pup) for debt in owed)
    return (
        f"afterbirth owed by pup {names}" if len(owed) == 1 else f"afterbirths owed: pups {names}"
    )


def entry_lines(
    entries: Sequence[Entry], now: datetime, zone: tzinfo, *, latest: int
) -> Iterable[EntryLine]:
    """The latest entries as typed, in order of typing, with what became of each."""
    withdrawn, home = struck(entries), homes(entries)
    amended = {
        number
        for entry in entries
        if isinstance(entry.what, Amend) and entry.id not in withdrawn
        # An amend of an amend changes the line that both are about.
        for number in (entry.what.target, home[entry.id])
    }
    for entry in entries[-latest:]:
        remarks = []
        if entry.certainty == "estimated":
            remarks.append("about")
        if entry.id in withdrawn:
            remarks.append("struck")
        elif entry.id in amended:
            remarks.append("amended")
        if isinstance(entry.what, Note) and entry.what.unread:
            remarks.append("not understood")
        yield EntryLine(
            number=entry.id,
            time=clock_text(entry.at, now, zone),
            text=typed_words(entry),
            remark=", ".join(remarks),
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
