"""The limits that judged this litter, those changed for it, and where they come from."""

from collections.abc import Iterable, Iterator
from datetime import timedelta

from boxlamp.engine import FAILED
from boxlamp.model.levels import Level
from boxlamp.paper.account.evidence import LimitAccount, LimitChange, SourceAccount
from boxlamp.paper.account.matter import Matter
from boxlamp.protocol.book import Book
from boxlamp.protocol.records import SEEN_WORDS, LimitRecord, level_of
from boxlamp.rules.registry import RULES
from boxlamp.rules.rule import Rule

ADDED = "set for this litter; the protocol has no such limit"


def limits_of(matter: Matter) -> tuple[LimitAccount, ...]:
    """Every limit and band in force that had something to judge in this litter by now.

    In the order of the catalogue; of one rule the limits come before the bands. The limits of
    clocks that never ran, such as those of other breeds, are left out.
    """
    now, book = matter.verdict.at, matter.verdict.book
    ran: dict[str, set[str]] = {}
    for spell in matter.assessment.spells:
        if spell.start <= now and spell.clock != FAILED:
            ran.setdefault(spell.rule, set()).add(spell.clock)
    return tuple(
        limit
        for rule in RULES
        if rule.id in ran
        for limit in (*_spans(rule, ran[rule.id], book), *_bands(rule, ran[rule.id], book))
    )


def _spans(rule: Rule, ran: set[str], book: Book) -> Iterator[LimitAccount]:
    records = {
        (record.clock, level_of(record.level)): record
        for record in book.protocol.limit
        if record.rule == rule.id and record.clock in ran
    }
    for clock in dict.fromkeys(clock for clock, _ in records):
        for level in sorted(book.now.spans[rule.id, clock]):
            yield _limit(rule, clock, level, book, records.get((clock, level)))


def _limit(
    rule: Rule, clock: str, level: Level, book: Book, record: LimitRecord | None
) -> LimitAccount:
    span = book.now.spans[rule.id, clock][level]
    own = None if record is None or record.span == span else record.span
    verified = ADDED if record is None else SEEN_WORDS[record.seen]
    return LimitAccount(
        rule=rule.id,
        title=rule.title,
        clock=clock,
        level=_WORDS[level],
        span=span,
        own=own,
        source="" if record is None else record.source,
        seen=verified,
    )


_WORDS = {Level.PROMPT: "prompt", Level.WATCH: "watch", Level.CALL: "call", Level.GO: "go"}


def _bands(rule: Rule, ran: set[str], book: Book) -> Iterator[LimitAccount]:
    records = [record for record in book.protocol.band if record.rule == rule.id]
    # Where readings raise nothing by themselves but start a clock, every band had its part.
    judged = ran & {record.clock for record in records}
    for record in records:
        if not judged or record.clock in judged:
            yield LimitAccount(
                rule=rule.id,
                title=rule.title,
                clock=record.clock,
                level=record.level,
                when=record.when,
                value=record.value,
                unit=record.unit,
                source=record.source,
                seen=SEEN_WORDS[record.seen],
            )


def changes_of(matter: Matter) -> tuple[LimitChange, ...]:
    """Every limit changed, or asked to be changed, for this litter, oldest first."""
    return tuple(
        LimitChange(
            entry=change.entry,
            at=change.at,
            rule=change.limit.rule,
            clock=change.limit.clock,
            level=change.limit.level,
            span=timedelta(seconds=change.limit.seconds),
            by=change.limit.by,
            why=change.limit.why,
            refused=change.refused,
        )
        for change in matter.verdict.book.changes
    )


def sources_of(matter: Matter, limits: Iterable[LimitAccount]) -> tuple[SourceAccount, ...]:
    """The sources that these limits name, each once, in the order of their first use."""
    sources = matter.verdict.book.protocol.sources
    keys = dict.fromkeys(limit.source for limit in limits if limit.source)
    return tuple(
        SourceAccount(key=key, title=sources[key].title, where=sources[key].where) for key in keys
    )
