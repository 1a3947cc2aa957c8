"""The book: the limits in force for one litter, as they changed over time.

Limits change when a risk factor becomes known and when a vet changes one. Neither reaches back:
an alert that stood under yesterday's limits stood, and the record says so.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from itertools import groupby
from typing import NamedTuple

from boxlamp.model.happenings import Details, Expect, Limit, Scan
from boxlamp.model.levels import Level
from boxlamp.model.litter import Litter, take
from boxlamp.model.story import Story
from boxlamp.protocol.overrides import loosens
from boxlamp.protocol.records import FormulaRecord, Protocol, level_of
from boxlamp.protocol.risk import risk_factors, tightened

BEGINNING = datetime.min.replace(tzinfo=UTC)

Key = tuple[str, str]
Spans = dict[Key, dict[Level, timedelta]]


class Change(NamedTuple):
    """One limit changed on a vet's word, as the record tells it."""

    entry: int
    at: datetime
    limit: Limit
    refused: bool = False
    """True when it would have loosened a never-relaxed rule; then it has no effect."""


class Page(NamedTuple):
    """The limits in force from one moment until the next page."""

    start: datetime
    spans: Spans
    risks: tuple[str, ...]


class InForce(NamedTuple):
    """The limits of one clock, in force in ``[start, end)``."""

    start: datetime
    end: datetime | None
    limits: Mapping[Level, timedelta]


@dataclass(frozen=True, eq=False)
class Book:
    """Every page of one litter's limits, first to last, and the changes that made them."""

    protocol: Protocol
    pages: tuple[Page, ...]
    changes: tuple[Change, ...] = ()
    _looked_up: dict[Key, tuple[InForce, ...]] = field(default_factory=dict, init=False, repr=False)

    def spans_over(self, rule: str, clock: str) -> tuple[InForce, ...]:
        """The limits of one clock, oldest first. A page that does not change them is passed over.

        Looked up once for each clock: a long night has thousands of spells of the same few.
        """
        key = rule, clock
        found = self._looked_up.get(key)
        if found is None:
            found = self._looked_up[key] = tuple(self._look_up(key))
        return found

    def _look_up(self, key: Key) -> Iterator[InForce]:
        changing = groupby(self.pages, key=lambda page: page.spans.get(key, {}))
        turns = [(next(pages).start, limits) for limits, pages in changing]
        ends = [*(start for start, _ in turns[1:]), None]
        for (start, limits), end in zip(turns, ends, strict=True):
            yield InForce(start, end, limits)

    @property
    def now(self) -> Page:
        """The limits in force at the end of the story."""
        return self.pages[-1]

    def levels_at(self, rule: str, clock: str, value: Decimal, at: datetime) -> tuple[Level, ...]:
        """The levels whose band a reading falls in. Bands do not change over time."""
        del at
        bands = self.protocol.bands.get((rule, clock), ())
        return tuple([band.reaches for band in bands if band.holds(value)])

    def number(self, rule: str, name: str) -> Decimal:
        """A named setting of a rule."""
        return self.protocol.numbers[rule, name]

    def length(self, rule: str, name: str) -> timedelta:
        """A named setting of a rule that is a length of time."""
        return self.protocol.lengths[rule, name]

    def edge(self, rule: str, clock: str, level: Level) -> Decimal:
        """The value at which a band begins."""
        bands = self.protocol.bands[rule, clock]
        return next(band.value for band in bands if band.reaches is level)

    def has(self, rule: str, name: str) -> bool:
        """Whether the protocol holds bands or a setting of this rule under this name."""
        return (rule, name) in self.protocol.bands or (rule, name) in self.protocol.numbers

    def formulas(self, rule: str) -> tuple[FormulaRecord, ...]:
        """The formulas of a rule, in the order in which they are to be tried."""
        return tuple(record for record in self.protocol.formula if record.rule == rule)


def open_book(story: Story, protocol: Protocol, never_relaxed: frozenset[str]) -> Book:
    """Write the book of one litter from what its story says of risks and changed limits."""
    litter, changes = Litter(), list[Change]()
    risks: tuple[str, ...] = ()
    pages = [Page(BEGINNING, protocol.spans, risks)]
    for entry in story.of(Details, Expect, Scan, Limit):
        if isinstance(entry.what, Limit):
            own = _own_spans(protocol, at_risk=bool(risks))
            refused = entry.what.rule in never_relaxed and loosens(entry.what, own)
            changes.append(Change(entry.id, entry.at, entry.what, refused))
            spans = _changed(pages[-1].spans, changes[-1:], protocol, never_relaxed)
        else:
            take(litter, entry)
            before, risks = risks, risk_factors(litter, protocol.risk)
            spans = pages[-1].spans
            if bool(risks) != bool(before):
                own = _own_spans(protocol, at_risk=bool(risks))
                spans = _changed(own, changes, protocol, never_relaxed)
        if spans != pages[-1].spans or risks != pages[-1].risks:
            pages.append(Page(entry.at, spans, risks))
    return Book(protocol, tuple(pages), tuple(changes))


def _own_spans(protocol: Protocol, *, at_risk: bool) -> Spans:
    """The protocol's own limits, tightened when the litter carries a risk."""
    spans = {key: dict(levels) for key, levels in protocol.spans.items()}
    if at_risk:
        for (rule, _clock), levels in spans.items():
            if rule in protocol.risk.rules:
                levels.update(
                    {level: tightened(span, level, protocol.risk) for level, span in levels.items()}
                )
    return spans


def _changed(
    spans: Spans, changes: Iterable[Change], protocol: Protocol, never_relaxed: frozenset[str]
) -> Spans:
    """These limits with a vet's changes made to them, one after the other."""
    changed = {key: dict(levels) for key, levels in spans.items()}
    for change in changes:
        _change(changed, change, never_relaxed)
    _follow(changed, protocol)
    return changed


def _change(spans: Spans, change: Change, never_relaxed: frozenset[str]) -> None:
    """Let a vet's word change the limits. It is the last word, and no risk tightens it again.

    A rule that is never relaxed keeps the sooner of the two, whichever came to be known first.
    """
    limit, level = change.limit, level_of(change.limit.level)
    if change.refused:
        return
    levels = spans.setdefault((limit.rule, limit.clock), {})
    span = timedelta(seconds=limit.seconds)
    never = limit.rule in never_relaxed and level in levels
    levels[level] = min(span, levels[level]) if never else span


def _follow(spans: Spans, protocol: Protocol) -> None:
    """Set the limits that are by definition those of another rule."""
    for (rule, clock, level), leader in protocol.following.items():
        spans[rule, clock][level] = spans[leader, "main"][level]
