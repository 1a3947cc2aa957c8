"""Which clocks of one rule run at once for one subject: for alerts that speak of them all."""

from bisect import bisect_right
from collections import Counter
from collections.abc import Iterable
from datetime import datetime
from typing import NamedTuple

from boxlamp.rules.spell import Spell


class Beside(NamedTuple):
    """The clocks that run from each moment at which one of them starts or stops."""

    moments: tuple[datetime, ...]
    running: tuple[frozenset[str], ...]

    def at(self, now: datetime) -> frozenset[str]:
        """The clocks that run at ``now``."""
        place = bisect_right(self.moments, now)
        return self.running[place - 1] if place else frozenset()


def beside(spells: Iterable[Spell]) -> Beside:
    """Lay the spells of one rule and one subject beside one another, in one sweep over time."""
    turns: dict[datetime, Counter[str]] = {}
    for spell in spells:
        turns.setdefault(spell.start, Counter())[spell.clock] += 1
        if spell.end is not None:
            turns.setdefault(spell.end, Counter())[spell.clock] -= 1
    moments = tuple(sorted(turns))
    open_now, running = Counter[str](), list[frozenset[str]]()
    for moment in moments:
        open_now.update(turns[moment])
        running.append(frozenset(clock for clock, many in open_now.items() if many))
    return Beside(moments, tuple(running))
