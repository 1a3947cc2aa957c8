"""Run the rules over a story once, and answer questions about any moment of it."""

from collections.abc import Iterable, Iterator
from datetime import datetime
from functools import cached_property

from boxlamp.engine.alert import (
    FAILED,
    Alert,
    Clock,
    Deadline,
    Prompt,
    Transition,
    Verdict,
    explain,
    pressing,
    steps_of,
)
from boxlamp.engine.beside import Beside, beside
from boxlamp.engine.life import Life, lives
from boxlamp.engine.standing import Standing, reached, runs, standings
from boxlamp.model.happenings import Ack
from boxlamp.model.levels import LITTER, Level
from boxlamp.model.litter import Litter, fold
from boxlamp.model.story import Story
from boxlamp.protocol.book import BEGINNING, Book, open_book
from boxlamp.protocol.records import Protocol
from boxlamp.rules.registry import RULES
from boxlamp.rules.rule import Rule, spells_of
from boxlamp.rules.spell import Spell, Yardstick


class Assessment:
    """What the rules make of one story. Everything that does not depend on the present moment.

    Ask it about moments at or after the last entry of the story; for an earlier moment assess
    ``story.until(moment)``, so that nothing later is known.
    """

    def __init__(self, story: Story, book: Book, rules: tuple[Rule, ...]) -> None:
        self.story, self.book = story, book
        self.rules = {rule.id: rule for rule in rules}
        self.spells: tuple[Spell, ...] = tuple(
            spell for rule in rules for spell in watched(rule, story, book)
        )
        self._judged = tuple((spell, tuple(standings(spell, book))) for spell in self.spells)
        self.standings: tuple[Standing, ...] = tuple(
            standing for _, mine in self._judged for standing in mine
        )

    @cached_property
    def _open(self) -> tuple[tuple[Spell, tuple[Standing, ...]], ...]:
        """The spells that can still run at or after the last entry: few, however long the log.

        Each with its standings that can still hold then.
        """
        last = self.story.entries[-1].at if self.story.entries else BEGINNING
        return tuple(
            (spell, tuple([own for own in mine if own.end is None or not reached(last, own.end)]))
            for spell, mine in self._judged
            if spell.end is None or not reached(last, spell.end)
        )

    @cached_property
    def _open_standings(self) -> tuple[Standing, ...]:
        return tuple(own for _, mine in self._open for own in mine)

    @cached_property
    def _beside(self) -> dict[tuple[str, str], Beside]:
        """By rule and subject, which clocks run at once, for the rules that tell of several."""
        telling = {rule.id for rule in self.rules.values() if rule.gravest_first}
        found: dict[tuple[str, str], list[Spell]] = {}
        for spell in self.spells:
            if spell.rule in telling:
                found.setdefault((spell.rule, spell.subject), []).append(spell)
        return {key: beside(mine) for key, mine in found.items()}

    @cached_property
    def litter(self) -> Litter:
        """The litter at the end of the story."""
        return fold(self.story)

    @cached_property
    def lives(self) -> tuple[Life, ...]:
        """The life of every alert, by rule and subject. A reminder has none: it only stands."""
        alerting = (own for own in self.standings if own.level >= Level.WATCH)
        return lives(alerting, self.story.of(Ack), self._rank)

    def _rank(self, spell: Spell) -> int:
        """How grave a spell is beside others of its rule: 0 for the gravest."""
        return self.rules[spell.rule].rank(spell.clock)

    def also(self, spell: Spell, now: datetime) -> tuple[str, ...]:
        """The other clocks of its rule that run for the same subject, the gravest first."""
        rule = self.rules[spell.rule]
        if not rule.gravest_first:
            return ()
        run = self._beside[spell.rule, spell.subject].at(now) - {spell.clock}
        return tuple(clock for clock in rule.gravest_first if clock in run)

    def verdict(self, now: datetime) -> Verdict:
        """What stands at ``now``, what runs, and what comes next."""
        standing = (life for life in self.lives if (life.level_at(now) or 0) >= Level.WATCH)
        alerts = sorted((self._alert(life, now) for life in standing), key=pressing)
        return Verdict(
            at=now,
            story=self.story,
            litter=self.litter,
            book=self.book,
            alerts=tuple(alerts),
            prompts=tuple(self._prompts(now)),
            clocks=tuple(self._clocks(now)),
            next=tuple(self._deadlines(now)),
        )

    def history(self, until: datetime) -> list[Transition]:
        """Every raising, escalation, acknowledgement and clearing up to ``until``, in order."""
        steps = (
            Transition(
                at=step.at,
                rule=self.rules[life.rule],
                subject=life.subject,
                level=step.level,
                change=step.change,
                since=step.spell.since,
                spell=step.spell,
                entries=step.entries,
                also=self.also(step.spell, step.at),
            )
            for life in self.lives
            for step in life.steps
            if reached(until, step.at)
        )
        # At one instant clearings come first: what is over should not look like a new worry.
        return sorted(
            steps,
            key=lambda step: (
                step.at,
                step.change != "cleared",
                -step.level,
                step.rule.id,
                step.subject,
            ),
        )

    def next_change(self, now: datetime) -> datetime | None:
        """The next instant at which some level is reached or left if nothing is written down."""
        moments = (
            moment
            for standing in self._open_standings
            for moment in (standing.start, standing.end)
            if moment is not None and not reached(now, moment)
        )
        return min(moments, default=None)

    def _alert(self, life: Life, now: datetime) -> Alert:
        stretch = life.stretch_at(now)
        standing = stretch.cause_at(now)
        rule = self.rules[life.rule]
        acknowledged = life.acknowledged_at(now)
        also = self.also(standing.spell, now)
        repeat = self.book.protocol.repeat_go
        return Alert(
            rule=rule,
            subject=life.subject,
            level=stretch.level,
            raised=stretch.start,
            since=standing.spell.since,
            elapsed=now - standing.spell.since,
            limit=standing.limit,
            message=explain(rule, standing.spell, now, also),
            do=steps_of(rule, standing.spell, stretch.level),
            spell=standing.spell,
            acknowledged=acknowledged,
            quiet=acknowledged is not None
            and not (stretch.level is Level.GO and reached(now, acknowledged + repeat)),
            also=also,
        )

    def _prompts(self, now: datetime) -> Iterator[Prompt]:
        """What to be reminded of: every clock for itself, unless the same clock is an alert."""
        held = [own for own in self._open_standings if own.holds(now)]
        loud = {_clock_of(own.spell) for own in held if own.level >= Level.WATCH}
        for own in sorted(held, key=lambda own: own.start):
            if own.level is Level.PROMPT and _clock_of(own.spell) not in loud:
                rule = self.rules[own.spell.rule]
                yield Prompt(
                    rule, own.spell.subject, own.start, explain(rule, own.spell, now),
                    rule.steps(Level.PROMPT), own.spell,
                )  # fmt: skip

    def _clocks(self, now: datetime) -> Iterator[Clock]:
        for spell, mine in self._open:
            if spell.level is not None or spell.held or not runs(spell, now):
                continue
            yield Clock(
                rule=self.rules[spell.rule],
                spell=spell,
                elapsed=now - spell.since,
                level=max((own.level for own in mine if own.holds(now)), default=None),
                limits=tuple(
                    sorted(((own.level, own.start) for own in mine), key=lambda limit: limit[1])
                ),
            )

    def _deadlines(self, now: datetime) -> list[Deadline]:
        ahead = [
            Deadline(self.rules[own.spell.rule], own.spell.subject, own.level, own.start, own.spell)
            for own in self._open_standings
            if own.level >= Level.WATCH and not reached(now, own.start)
        ]
        return sorted(ahead, key=lambda line: (line.due, -line.level, line.rule.id, line.subject))


def _clock_of(spell: Spell) -> tuple[str, str, str]:
    return spell.rule, spell.subject, spell.clock


def assess(story: Story, protocol: Protocol, rules: tuple[Rule, ...] = RULES) -> Assessment:
    """Run every rule over a story under a protocol."""
    never_relaxed = frozenset(rule.id for rule in rules if rule.never_relaxed)
    return Assessment(story, open_book(story, protocol, never_relaxed), rules)


def watched(rule: Rule, story: Story, yardstick: Yardstick) -> Iterable[Spell]:
    """The spells of one rule. A rule that crashes becomes a loud finding; the others still run."""
    try:
        return spells_of(rule.watch, story, yardstick)
    except Exception as error:  # noqa: BLE001 - whatever breaks a rule, the night goes on
        first = story.entries[0]
        return (
            Spell(
                rule.id,
                LITTER,
                FAILED,
                first.at,
                first.at,
                None,
                (first.id,),
                detail=f"{type(error).__name__}: {error}",
                level=Level.CALL,
            ),
        )
