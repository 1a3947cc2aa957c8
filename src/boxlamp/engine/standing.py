"""From spells to standings: the stretches of time in which a level is reached.

This module holds the only comparison between a clock and a limit.
"""

from collections.abc import Iterator
from datetime import datetime, timedelta
from typing import NamedTuple

from boxlamp.model.levels import Level
from boxlamp.protocol.book import Book, InForce
from boxlamp.rules.spell import Spell


def reached(now: datetime, due: datetime) -> bool:
    """Whether a moment has come. The whole product turns on this ``>=``; it is written once.

    Entries at an instant are applied before clocks are read at that instant, so a birth in the
    very second in which a limit runs out comes in time.
    """
    return now >= due


class Standing(NamedTuple):
    """``level`` is reached for this spell in ``[start, end)``, by this limit."""

    spell: Spell
    level: Level
    start: datetime
    end: datetime | None
    limit: timedelta

    def holds(self, now: datetime) -> bool:
        """Whether the level stands at ``now``."""
        return reached(now, self.start) and not (self.end is not None and reached(now, self.end))


def runs(spell: Spell, now: datetime) -> bool:
    """Whether the spell is open at ``now``."""
    return reached(now, spell.start) and not (spell.end is not None and reached(now, spell.end))


def standings(spell: Spell, book: Book) -> Iterator[Standing]:
    """Every stretch in which this spell reaches a level, under the limits of the day."""
    if spell.level is not None:
        if spell.end != spell.start:
            yield Standing(spell, spell.level, spell.start, spell.end, timedelta(0))
        return
    pages = book.spans_over(spell.rule, spell.clock)
    if spell.held:
        yield from _held(spell, pages)
        return
    if len(pages) > 1:
        yield from _over_pages(spell, pages)
        return
    # The limits of this clock never changed, as in nearly every night.
    since, earliest, end = spell.since, spell.start, spell.end
    for level, limit in pages[0].limits.items():
        due = max(since + limit, earliest)
        if end is None or not reached(due, end):
            yield Standing(spell, level, due, end, limit)


def _held(spell: Spell, pages: tuple[InForce, ...]) -> Iterator[Standing]:
    """What a clock had reached just before it stopped, under the limits in force until then."""
    *_, last = (page for page in pages if not reached(page.start, spell.start))
    for level, limit in last.limits.items():
        if not reached(spell.since + limit, spell.start):
            yield Standing(spell, level, spell.start, spell.end, limit)


def _over_pages(spell: Spell, pages: tuple[InForce, ...]) -> Iterator[Standing]:
    """The stretches of a spell whose limits changed while this litter's record ran."""
    joined: dict[Level, Standing] = {}
    for start, end, limits in pages:
        until = _earlier(spell.end, end)
        for level, limit in limits.items():
            due = max(spell.since + limit, spell.start, start)
            if until is not None and reached(due, until):
                continue
            before = joined.get(level)
            if before is not None and before.end == due:
                due = before.start  # the limits changed while it stood, and it still stands
            elif before is not None:
                yield before
            joined[level] = Standing(spell, level, due, until, limit)
    yield from joined.values()


def _earlier(one: datetime | None, other: datetime | None) -> datetime | None:
    if one is None or other is None:
        return one or other
    return min(one, other)
