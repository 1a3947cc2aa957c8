"""A pup is due on the scale. A reminder, and no alert.

What it watches: each pup's time since its last weight, by its age. It asks for the birth weight
an hour after the birth; for a second weight after 12 hours; then once a day for two weeks, every
third day for two more, and once a week to the end of the eighth. A pup that was low or very low
at birth is asked for every 12 hours until it is three days old. While she is whelping only birth
weights are asked for. It asks for no pup that has died or left home.

Why it matters: the scale shows trouble a day or more before the eye does, and only to one who
knows the weight of the day before.

What to do: the same scale at the same hour, before a meal. `round 1 340 2 355` takes them all.

Example:
    02:00 pup
    #= 03:00 prompt weighing-due pup 1
    03:10 weigh 1 340g
    03:30 finished
    #= 15:10 prompt weighing-due pup 1
    15:30 weigh 1 342g
    #= 2026-03-03 17:30 prompt weighing-due pup 1
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import NamedTuple

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Birth,
    Caesarean,
    Contraction,
    Finished,
    Part,
    Sac,
    Waters,
)
from boxlamp.model.levels import Level, pup_subject
from boxlamp.model.story import Story
from boxlamp.rules.birth_reference import KINDS, BirthWeights
from boxlamp.rules.foreseen import Foreseen
from boxlamp.rules.rule import Rule
from boxlamp.rules.scale import Scale, birth_within
from boxlamp.rules.spell import Spell, Yardstick, span

ID = "weighing-due"
_LABOUR = (Birth, Contraction, Waters, Sac, Part, Caesarean)
_BIRTH, _LOW, _SECOND, _DAILY = "birth", "low", "second", "daily"
_THIRD_DAY, _WEEKLY = "third-day", "weekly"


class _Due(NamedTuple):
    """One clock of a pup: where it counts from, and between which moments it may ask."""

    clock: str
    since: datetime
    start: datetime
    end: datetime


@dataclass(eq=False, repr=False)
class _Pups:
    """What is asked of each pup, and until when nobody has a hand free for it."""

    yardstick: Yardstick
    births: BirthWeights
    clocks: Foreseen = field(default_factory=lambda: Foreseen(ID))
    quiet: datetime | None = None
    """The moment from which she counts as done whelping, if nothing more comes."""
    _stirred: Entry | None = None
    """The last entry of labour, until the calm after it has come: nothing is asked before that."""
    _foreseen: dict[int, tuple[_Due, ...]] = field(default_factory=dict)

    def take(self, entry: Entry) -> None:
        """Let one entry be a weight, or stir or end the whelping, and foresee what is due."""
        if self.quiet is not None and self.quiet < entry.at:
            self.settle()
        concerned = self.births.take(entry) if isinstance(entry.what, KINDS) else []
        if isinstance(entry.what, _LABOUR) and self._pups:
            self._stir(entry)
        elif isinstance(entry.what, Finished) and self.quiet != entry.at:
            self.quiet, self._stirred = entry.at, entry
            self.settle()
        if isinstance(entry.what, Birth) and entry.what.pup in self._pups:
            concerned = [*concerned, self._pups[entry.what.pup]]
        for pup in concerned:
            if not self._waits(entry, pup):
                self._ask(entry, pup)

    def _waits(self, entry: Entry, pup: Scale) -> bool:
        """Whether a pup is asked for when it is calm again, and this entry did not weigh it."""
        last = pup.last
        weighed_now = last is None or last.entry is entry
        return self._stirred is not None and pup.pup not in self._foreseen and not weighed_now

    def settle(self) -> None:
        """Foresee what will be asked once the calm after the last entry of labour has come."""
        stirred, self._stirred = self._stirred, None
        if stirred is not None:
            for pup in self._pups.values():
                self._ask(stirred, pup)

    @property
    def _pups(self) -> dict[int, Scale]:
        return self.births.scales.pups

    def _stir(self, entry: Entry) -> None:
        """Ask for no weight but the first until it is calm again."""
        quiet = entry.at + span(self.yardstick, ID, "calm")
        if quiet == self.quiet:
            return
        for number in tuple(self._foreseen):
            if self._pups[number].last is not None:
                self.clocks.cut(entry, subject=pup_subject(number))
                del self._foreseen[number]
        self.quiet, self._stirred = quiet, entry

    def _ask(self, entry: Entry, pup: Scale) -> None:
        """Foresee everything that will be asked of one pup if nothing more is written down."""
        due = () if pup.gone is not None else tuple(self._due(pup))
        if due == self._foreseen.get(pup.pup):
            return
        self._foreseen[pup.pup] = due
        subject, plan = pup_subject(pup.pup), self.clocks.plan
        self.clocks.cut(entry, subject=subject)
        also = () if pup.last is None else (pup.last.entry.id,)
        for clock, since, start, end in due:
            plan(entry, clock, since=since, start=start, end=end, subject=subject, also=also)

    def _due(self, pup: Scale) -> Iterator[_Due]:
        """One clock after the other, from the last weight to the end of the eighth week."""
        born, last = pup.birth.at, pup.last
        if last is None:
            yield _Due(_BIRTH, born, born, born + self._until(_WEEKLY))
            return
        start = max(last.at, self.quiet or last.at)
        for clock in self._asked(pup):
            end = born + self._until(clock)
            if start < end:
                yield _Due(clock, last.at, start, end)
                start = end

    def _asked(self, pup: Scale) -> Iterator[str]:
        """Which clocks, in the order of age."""
        young = pup.last is not None and pup.age(pup.last.at) < self._until(_LOW)
        if young and self.births.is_low(pup):
            yield _LOW
        once = len(pup.weighings) == 1 and not pup.late(birth_within(self.yardstick))
        yield _SECOND if once else _DAILY
        yield _THIRD_DAY
        yield _WEEKLY

    def _until(self, clock: str) -> timedelta:
        return span(self.yardstick, ID, f"until {clock}")


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """For each pup, from one weight until the next, as often as its age asks for it."""
    pups = _Pups(yardstick, BirthWeights(yardstick))
    for entry in story.of(*KINDS, *(kind for kind in (*_LABOUR, Finished) if kind not in KINDS)):
        pups.take(entry)
    pups.settle()
    return pups.clocks.finish()


RULE = Rule(
    id=ID,
    group="each pup",
    title="Weighing is due",
    watch=watch,
    says={
        _BIRTH: "Weigh {subject}: no weight is written down since birth.",
        _LOW: "Weigh {subject} again: low at birth, so twice a day for three days.",
        _SECOND: "Weigh {subject} a second time. Half a day shows whether the milk comes.",
        _DAILY: "Weigh {subject}: once a day in the first two weeks.",
        _THIRD_DAY: "Weigh {subject}: every third day in the third and fourth week.",
        _WEEKLY: "Weigh {subject}: once a week from now on.",
    },
    do={Level.PROMPT: ("Same scale, before a meal.",)},
    page=__doc__,
    running="Weighing to come",
    on_board=False,
)
