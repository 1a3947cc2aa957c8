"""The judge's history beside the engine's, at every instant at which either could change."""

from bisect import bisect_right
from collections import Counter
from collections.abc import Callable, Collection, Iterable, Sequence
from datetime import UTC, datetime, timedelta
from typing import NamedTuple

from boxlamp.engine import Assessment, assess
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import What
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.protocol.records import LimitRecord, Record, SettingRecord
from boxlamp.rules.registry import BY_ID
from judge.counts.told import SECOND, Known, Levels, Then
from support.effort import NIGHTLY
from support.nights import DEFAULT

FOREVER = datetime.max.replace(tzinfo=UTC)
Step = tuple[datetime, str, Level | None]
"""At this instant, for this subject, this level begins to stand; None when nothing does."""
Extra = Callable[[tuple[Entry, ...]], Iterable[datetime]]


class Judge(NamedTuple):
    """How one rule is judged: by which function, and from which kinds of entries alone."""

    rule: str
    now: Callable[[Then], Levels]
    reads: tuple[type[What], ...]
    reminder: bool = False
    besides: Extra = lambda _entries: ()
    """Instants that matter and that lie at no limit after an entry, such as midnights."""


class Compared(NamedTuple):
    """Both histories of one rule over one night, and over how many instants."""

    rule: str
    engine: tuple[Step, ...]
    judge: tuple[Step, ...]
    instants: int

    @property
    def agrees(self) -> bool:
        """Whether every level begins and ends at the same second for the same subject."""
        return self.engine == self.judge

    def __str__(self) -> str:
        first = min(set(self.engine) ^ set(self.judge), key=lambda step: step[0])
        return "\n".join(
            [f"{self.rule}: first apart at {first[0]:%Y-%m-%d %H:%M:%S}, {first[1]}"]
            + [f"  {who:6} {at:%Y-%m-%d %H:%M:%S} {key}: {level.word if level is not None else '-'}"
               for who, steps in (("engine", self.engine), ("judge", self.judge))
               for at, key, level in steps]
        )  # fmt: skip


def compared(story: Story, judges: Sequence[Judge]) -> list[Compared]:
    """Each of these rules over a story, by the engine and by the judge."""
    rules = {judge.rule: BY_ID[judge.rule] for judge in judges}
    assessment = assess(story, DEFAULT, tuple(rules.values()))
    return [_one(story, assessment, judge) for judge in judges]


def _one(story: Story, assessment: Assessment, judge: Judge) -> Compared:
    mine = story.of(*judge.reads)
    engine = engine_steps(assessment, judge)
    edges = {entry.at for entry in mine} | {step[0] for step in engine}
    limits = _limits_after(mine, judge)
    instants = sorted(_beside(edges) | (_beside(limits) if NIGHTLY else limits))
    return Compared(judge.rule, engine, tuple(_judge_steps(mine, judge, instants)), len(instants))


def _beside(moments: Iterable[datetime]) -> set[datetime]:
    """Each of these, the second before it and the second after it."""
    return {moment + apart for moment in moments for apart in (-SECOND, timedelta(0), SECOND)}


def _limits_after(mine: tuple[Entry, ...], judge: Judge) -> set[datetime]:
    """Every limit and setting of the rule, counted from every entry it reads."""
    spans = [each for each in map(_length, DEFAULT.records_of(judge.rule)) if each]
    return {entry.at + each for entry in mine for each in spans} | set(judge.besides(mine))


def _length(record: Record) -> timedelta | None:
    """The limit or setting as a length of time, if it is one."""
    if isinstance(record, LimitRecord):
        return record.span
    if isinstance(record, SettingRecord) and record.unit in {"s", "min", "h", "d"}:
        return timedelta(seconds=int(record.number))
    return None


def _judge_steps(mine: tuple[Entry, ...], judge: Judge, instants: list[datetime]) -> Iterable[Step]:
    """Ask what stands at each instant; nothing is carried over but what the last answer was."""
    at = [entry.at for entry in mine]
    known = Known(mine)
    before: Levels = {}
    for now in instants:
        levels = judge.now(Then(known.first(bisect_right(at, now)), now))
        yield from _changes(now, before, levels)
        before = levels


def engine_steps(assessment: Assessment, judge: Judge) -> tuple[Step, ...]:
    """What the engine's history says of one rule, in the judge's form."""
    if judge.reminder:
        return tuple(_reminder_steps(assessment, judge.rule))
    steps = [one for one in assessment.history(FOREVER) if one.rule.id == judge.rule]
    found: list[Step] = []
    standing: Levels = {}
    for moment in sorted({one.at for one in steps}):
        levels = dict(standing)
        for one in steps:
            if one.at == moment and one.change == "cleared":
                del levels[one.subject]
            elif one.at == moment and one.change in {"raised", "escalated"}:
                levels[one.subject] = one.level
        found += _changes(moment, standing, levels)
        standing = levels
    return tuple(found)


def _reminder_steps(assessment: Assessment, rule: str) -> Iterable[Step]:
    mine = [own for own in assessment.standings
            if own.spell.rule == rule and own.level is Level.PROMPT]  # fmt: skip
    before: Levels = {}
    edges = {edge for own in mine for edge in (own.start, own.end) if edge is not None}
    for moment in sorted(edges):
        levels = {
            f"{own.spell.subject} {own.spell.clock}": Level.PROMPT
            for own in mine
            if own.holds(moment)
        }
        yield from _changes(moment, before, levels)
        before = levels


def _changes(now: datetime, before: Levels, after: Levels) -> list[Step]:
    return [
        (now, key, after.get(key))
        for key in sorted({*before, *after})
        if before.get(key) != after.get(key)
    ]


class Tally:
    """How much was compared, and how often the two did not agree, by rule."""

    def __init__(self, judged_by: str) -> None:
        self.judged_by = judged_by
        self.nights = 0
        self.instants: Counter[str] = Counter()
        self.apart: Counter[str] = Counter()

    def add(self, found: Iterable[Compared]) -> None:
        """Take in what was found over one night."""
        self.nights += 1
        for one in found:
            self.instants[one.rule] += one.instants
            self.apart[one.rule] += not one.agrees

    def count(self, rules: Iterable[str], apart: Collection[str]) -> None:
        """Take in one instant of the night."""
        self.instants.update(rules)
        self.apart.update(apart)

    def __str__(self) -> str:
        rules = ", ".join(f"{rule} {self.apart[rule]}" for rule in sorted(self.instants))
        return (
            f"{self.judged_by}: {self.nights} nights, {sum(self.instants.values())} instants, "
            f"{sum(self.apart.values())} disagreements ({rules})"
        )
