"""Half the litter gains too little: think of the dam.

What it watches: the pups that are alive, here, and have been weighed. When half of them or more,
and at least two, were found slow or without gain at weighings of one day, it asks to ring at
once. It ends when fewer than half of the pups stand so.

Why it matters: one slow pup is that pup's trouble. When many are slow on the same day the milk is
missing, or the udder hurts her, or she is ill. Treating her helps all of them.

What to do: feel every gland, look at her milk and her discharge, take her temperature, and ring.

Example:
    02:00 pup 300g
    02:30 pup 300g
    2026-03-06 08:00 round 1 350 2 350
    2026-03-07 08:00 round 1 350 2 349
    #= 2026-03-07 08:00 call litter-slow
    2026-03-08 08:00 round 1 374 2 349
    #= 2026-03-08 08:00 cleared litter-slow
"""

from collections import deque
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import datetime
from itertools import chain
from typing import NamedTuple

from boxlamp.model.entry import Entry
from boxlamp.model.levels import LITTER, Level, pup_subject
from boxlamp.model.story import Story
from boxlamp.rules import weight_slow, weight_stalled
from boxlamp.rules.rule import Rule, spells_of
from boxlamp.rules.scale import KINDS, Scales
from boxlamp.rules.spell import Spell, Stopwatch, Yardstick, span

ID = "litter-slow"


class _Stretch(NamedTuple):
    """A stretch of time in which one pup stands slow or stalled."""

    start: datetime
    end: datetime | None


@dataclass(eq=False, repr=False)
class _Litter:
    """Which pups stand slow or stalled at an entry, and whether they are half of all."""

    yardstick: Yardstick
    slow: dict[str, deque[_Stretch]]
    """The stretches that are not over yet, by pup; a pup that has none any more is left out."""
    clock: Stopwatch = field(default_factory=lambda: Stopwatch(ID, LITTER))
    scales: Scales = field(default_factory=Scales)

    def take(self, entry: Entry) -> None:
        """Let one entry be weighed, and the clock follow."""
        self.scales.take(entry)
        weighed = [scale for scale in self.scales.here if scale.weighings]
        standing = self._standing(entry.at)
        slow = [one for one in weighed if pup_subject(one.pup) in standing] if standing else []
        counted = slow
        if not self.clock.running:
            day = span(self.yardstick, ID, "one-day")
            counted = [one for one in slow if one.last and entry.at - one.last.at <= day]
        detail = f"{len(slow)} of {len(weighed)} pups"
        if not self._half(len(counted), len(weighed)):
            self.clock.close(entry)
        elif self.clock.detail != detail:
            since = self.clock.since if self.clock.running else entry.at
            found = dict.fromkeys(one.last.entry.id for one in slow if one.last)
            also = tuple(number for number in found if number != entry.id)
            self.clock.close(entry)
            self.clock.open(entry, since=since, also=also, detail=detail)

    def _standing(self, now: datetime) -> set[str]:
        """The pups that stand slow or stalled at a moment; what is over by then is forgotten."""
        found: set[str] = set()
        for subject, ahead in tuple(self.slow.items()):
            while ahead and ahead[0].end is not None and ahead[0].end <= now:
                ahead.popleft()
            if not ahead:
                del self.slow[subject]
            elif ahead[0].start <= now:
                found.add(subject)
        return found

    def _half(self, slow: int, every: int) -> bool:
        enough = slow >= self.yardstick.number(ID, "least")
        return enough and 100 * slow >= every * self.yardstick.number(ID, "share")


def _stretches(spells: Iterable[Spell]) -> dict[str, deque[_Stretch]]:
    """When each pup stood slow or stalled: spells that overlap or meet are one stretch."""
    found: dict[str, deque[_Stretch]] = {}
    for spell in sorted(spells, key=lambda spell: spell.start):
        mine = found.setdefault(spell.subject, deque())
        last = mine[-1] if mine else None
        if last is None or (last.end is not None and last.end < spell.start):
            mine.append(_Stretch(spell.start, spell.end))
        elif last.end is not None:
            end = None if spell.end is None else max(last.end, spell.end)
            mine[-1] = last._replace(end=end)
    return found


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """While half of the weighed pups are slow or stalled."""
    slow = chain.from_iterable(
        spells_of(rule.watch, story, yardstick) for rule in (weight_slow, weight_stalled)
    )
    litter = _Litter(yardstick, _stretches(slow))
    for entry in story.of(*KINDS):
        litter.take(entry)
    return litter.clock.finish()


RULE = Rule(
    id=ID,
    group="each pup",
    title="Litter gains too little",
    watch=watch,
    says={"": "{detail} gain too little. Think of the dam: milk, udder, fever."},
    do={
        Level.CALL: (
            "Ring the vet now. Say how many pups are slow, and how the dam is.",
            "Take her temperature. Feel each gland: hot, hard or painful?",
            "Look at her discharge and her appetite. Keep the pups warm.",
        ),
    },
    page=__doc__,
)
