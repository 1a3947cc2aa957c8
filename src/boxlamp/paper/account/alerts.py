"""The alerts of a litter: each from its first level to its end, and what was done meanwhile."""

import re
from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime, timedelta
from typing import NamedTuple
from zoneinfo import ZoneInfo

from boxlamp.engine import Alert, assess, explain
from boxlamp.engine.life import Life, Stretch
from boxlamp.engine.standing import Standing, reached
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Amend,
    Caesarean,
    Round,
    Step,
    Strike,
    Treatment,
    VetContact,
    Weight,
)
from boxlamp.model.levels import Level, pup_subject
from boxlamp.model.order import corrected, known_at
from boxlamp.model.story import Story
from boxlamp.paper.account.base import LevelWord
from boxlamp.paper.account.matter import Matter
from boxlamp.paper.account.models import AlertAccount, Done, Heard, Reached
from boxlamp.paper.reader import Reader
from boxlamp.paper.telling import told_entry
from boxlamp.rules.rule import Rule
from boxlamp.view.words import message_words

_WORDS: dict[Level, LevelWord] = {Level.WATCH: "watch", Level.CALL: "call", Level.GO: "go"}

_MINUTE = timedelta(minutes=1)

# Steps that are done for every pup and answer no alert.
_ROUTINE = frozenset(("marked", "palate"))


_PUP_NAMED = re.compile(r"(?i)\bpup (\d{1,2})\b")
_LAST_NUMBER = re.compile(r"(?:^|\s)(\d{1,2})\s*$")

_Ending = tuple[str, str, Level, datetime]


class _Record(NamedTuple):
    """What every alert of one litter is told from."""

    matter: Matter
    reads: Mapping[int, Entry]
    """Every entry as it now reads, by its number."""
    reader: Reader
    names: Mapping[int, str]
    corrections: tuple[Entry, ...]
    endings: Mapping[_Ending, tuple[int, ...]]
    """The entries that ended a level of one rule about one subject at one moment."""

    @property
    def now(self) -> datetime:
        return self.matter.verdict.at


def alerts_of(matter: Matter) -> tuple[AlertAccount, ...]:
    """Every alert raised by now, in the order in which they were raised, worst first.

    One alert is an unbroken run of levels from watch upwards of one rule about one subject. A
    fall to a lower level inside it is part of it.
    """
    pups = matter.verdict.litter.pups.values()
    record = _Record(
        matter,
        {entry.id: entry for entry in (*matter.verdict.story.entries, *corrected(matter.entries))},
        Reader(ZoneInfo(matter.zone)),  # in stored units, like everything in an account
        {pup.number: pup.name for pup in pups},
        tuple(one for one in matter.entries if isinstance(one.what, Amend | Strike)),
        _endings(matter.assessment.standings),
    )
    found = (
        _alert(life, run, record)
        for life in matter.assessment.lives
        for run in _runs(life.stretches, record.now)
    )
    return tuple(sorted(found, key=lambda one: (one.raised, -Level[one.level.upper()])))


def _endings(standings: Iterable[Standing]) -> dict[_Ending, tuple[int, ...]]:
    found: dict[_Ending, tuple[int, ...]] = {}
    for own in standings:
        if own.end is not None and own.end == own.spell.end:
            key = own.spell.rule, own.spell.subject, own.level, own.end
            found[key] = (*found.get(key, ()), *own.spell.closed)
    return found


def _runs(stretches: Iterable[Stretch], now: datetime) -> Iterator[list[Stretch]]:
    """The stretches of a life in unbroken runs, as far as they have begun."""
    run = list[Stretch]()
    for stretch in stretches:
        if stretch.level < Level.WATCH or not reached(now, stretch.start):
            continue
        if run and run[-1].end != stretch.start:
            yield run
            run = []
        run.append(stretch)
    if run:
        yield run


def _alert(life: Life, run: list[Stretch], record: _Record) -> AlertAccount:
    rule = record.matter.assessment.rules[life.rule]
    top = max(stretch.level for stretch in run)
    highest = [stretch for stretch in run if stretch.level is top]
    stands = _ended(highest[-1], record.now) is None
    told = record.now if stands else highest[0].start
    cause = (highest[-1] if stands else highest[0]).cause_at(told)
    raised, ended = run[0].start, _ended(run[-1], record.now)
    closed = _closed_by(life, run[-1], ended, record)
    heard = tuple(_heard(life, run, record.now))
    first = next((one for one in heard if one.level == _WORDS[top]), None)
    entries = sorted({number for stretch in run for number in _rests_on(stretch, record.now)})
    return AlertAccount(
        rule=rule.id,
        title=rule.title,
        subject=life.subject,
        level=_WORDS[top],
        message=_message(rule, cause, _telling(cause, highest, told), record),
        since=cause.spell.since,
        limit=cause.limit,
        raised=raised,
        levels=tuple(_rises(run)),
        typed=_typed(run, life, record),
        ended=ended,
        ended_by=tuple(_done(record.reads[one], life.subject, record) for one in closed),
        acknowledged=None if first is None else first.at,
        acknowledged_by="" if first is None else first.by,
        heard=heard,
        done=tuple(
            _done(entry, life.subject, record)
            for entry in _answers(
                life.subject, record, in_minutes=_in_minutes(rule, run, record.now)
            )
            if reached(entry.at, raised)
            and reached(ended or record.now, entry.at)
            and entry.id not in {*closed, *entries}
        ),
        entries=tuple(entries),
    )


def _telling(cause: Standing, highest: list[Stretch], told: datetime) -> datetime:
    """The moment at which the sentence is told: where it began just then, when it was over.

    A screen says `a moment ago` for a minute; on paper that would be said for good.
    """
    end = highest[0].end
    return told if end is None or told - cause.spell.since >= _MINUTE else max(told, end)


def _heard(life: Life, run: list[Stretch], now: datetime) -> Iterator[Heard]:
    """The first notice taken at each level, the lowest level first."""
    for level, word in _WORDS.items():
        stretches = [stretch for stretch in run if stretch.level is level]
        acks = [
            ack
            for ack in life.acks
            if reached(now, ack.at) and any(one.heard_by(ack) for one in stretches)
        ]
        if acks:
            first = min(acks, key=lambda ack: (ack.at, ack.id))
            yield Heard(level=word, at=first.at, by=first.by)


def _ended(stretch: Stretch, now: datetime) -> datetime | None:
    """When a stretch ended, if it has."""
    return stretch.end if stretch.end is not None and reached(now, stretch.end) else None


def _rises(run: Iterable[Stretch]) -> Iterator[Reached]:
    """Every level that was higher than any before it."""
    highest = Level.PROMPT
    for stretch in run:
        if stretch.level > highest:
            highest = stretch.level
            yield Reached(level=_WORDS[highest], at=stretch.start)


def _rests_on(stretch: Stretch, now: datetime) -> Iterator[int]:
    for start, cause in stretch.causes:
        if reached(now, start):
            yield from cause.spell.opened


def _typed(run: list[Stretch], life: Life, record: _Record) -> datetime:
    """When enough had been typed for a screen to show the alert.

    That is when the last of the lines that raised it was typed, unless the record only came to
    say so by a later correction.
    """
    cause, raised = run[0].causes[0][1], run[0].start
    opened = (record.reads[number].recorded for number in cause.spell.opened)
    typed = max(opened, default=raised)
    later = {entry.recorded for entry in record.corrections if entry.recorded > max(typed, raised)}
    moments = (typed, *sorted(later)) if later else ()
    return next((moment for moment in moments if _shown(run, life, moment, record)), typed)


def _shown(run: list[Stretch], life: Life, moment: datetime, record: _Record) -> bool:
    """Whether what had been typed by a moment already made some of this alert."""
    raised, ended = run[0].start, run[-1].end
    known = Story(known_at(record.matter.entries, max(moment, raised)))
    return any(
        stretch.level >= Level.WATCH
        and (ended is None or stretch.start < ended)
        and (stretch.end is None or stretch.end > raised)
        for other in assess(known, record.matter.verdict.book.protocol).lives
        if (other.rule, other.subject) == (life.rule, life.subject)
        for stretch in other.stretches
    )


def _closed_by(
    life: Life, last: Stretch, ended: datetime | None, record: _Record
) -> tuple[int, ...]:
    """The entries that ended an alert; none where a limit changed or its time ran out."""
    if ended is None:
        return ()
    closed = record.endings.get((life.rule, life.subject, last.level, ended), ())
    return tuple(dict.fromkeys(closed))


def _in_minutes(rule: Rule, run: Iterable[Stretch], now: datetime) -> bool:
    """Whether minutes have counted at any time while an alert stood."""
    return any(
        reached(now, start) and rule.in_minutes(cause.spell.clock)
        for stretch in run
        for start, cause in stretch.causes
    )


def _answers(subject: str, record: _Record, *, in_minutes: bool) -> Iterator[Entry]:
    """What a person did that may answer an alert about this subject, oldest first.

    What is done for a newborn pup answers an alert only where minutes count. What was given to
    one pup answers nothing about another, nor about the dam.
    """
    for entry in record.matter.verdict.story.of(VetContact, Treatment, Caesarean, Step):
        match entry.what:
            case Step(pup=pup, step=step):
                if in_minutes and pup_subject(pup) == subject and step not in _ROUTINE:
                    yield entry
            case Treatment(what=words) if _to_another(words, subject, record):
                pass
            case _:
                yield entry


def _to_another(words: str, subject: str, record: _Record) -> bool:
    """Whether what was given was given to another pup, by its number in the words.

    ``pup 2`` names one to anybody; a number that ends the words does so beside a pup's alert.
    """
    named = {pup_subject(int(number)) for number in _PUP_NAMED.findall(words)}
    last = _LAST_NUMBER.search(words)
    if not named and subject.startswith("pup ") and last and int(last[1]) in record.names:
        named = {pup_subject(int(last[1]))}
    return bool(named) and subject not in named


def _done(entry: Entry, subject: str, record: _Record) -> Done:
    what = entry.what
    if isinstance(what, Round):
        # Of a whole weighing round, only the pup that the alert is about.
        weights = {pup_subject(one.pup): one for one in what.weights}
        if subject in weights:
            one = weights[subject]
            entry = entry.model_copy(update={"what": Weight(pup=one.pup, grams=one.grams)})
    words = told_entry(entry, record.reader, record.names)
    return Done(entry=entry.id, at=entry.at, words=words)


def _message(rule: Rule, cause: Standing, moment: datetime, record: _Record) -> str:
    """The alert's sentence as a screen showed it at a moment, naming the pup it is about."""
    spell = cause.spell
    shown = Alert(
        rule=rule,
        subject=spell.subject,
        level=cause.level,
        raised=cause.start,
        since=spell.since,
        elapsed=moment - spell.since,
        limit=cause.limit,
        message=explain(rule, spell, moment, record.matter.assessment.also(spell, moment)),
        do=(),
        spell=spell,
        acknowledged=None,
        quiet=False,
    )
    return message_words(shown, record.matter.verdict.litter)
