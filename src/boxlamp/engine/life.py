"""The life of an alert: raised, escalated, acknowledged, cleared.

Several spells of one rule about one subject make one alert, at the highest level that stands.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterable, Sequence
from datetime import datetime
from heapq import heappop, heappush
from itertools import zip_longest
from operator import attrgetter, itemgetter
from typing import NamedTuple

from boxlamp.engine.alert import Change
from boxlamp.engine.standing import Standing, reached
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Ack
from boxlamp.model.levels import Level
from boxlamp.rules.spell import Spell

Cause = tuple[datetime, Standing]
"""A standing that carried a level, and the moment from which it did."""

_at = attrgetter("at")

Rank = Callable[[Spell], int]
"""How grave a spell is beside others of its rule and subject: 0 for the gravest."""


def _alike(_spell: Spell) -> int:
    return 0


class Stretch(NamedTuple):
    """One level, standing without a break in ``[start, end)``.

    ``causes`` are the standings that carried it, one after the other, with the moment from
    which each did: a second high reading explains the alert from then on, not from the first.
    """

    level: Level
    start: datetime
    end: datetime | None
    causes: tuple[Cause, ...]

    def holds(self, now: datetime) -> bool:
        """Whether the level stands at ``now``."""
        return reached(now, self.start) and not (self.end is not None and reached(now, self.end))

    def heard_by(self, ack: Entry) -> bool:
        """Whether a person who typed ``ack`` can have meant this: it stood, and it was known.

        What is typed later with an earlier time was not on the screen when the acknowledgement
        was given, so it still has to be heard.
        """
        return self.holds(ack.at) and any(
            reached(ack.at, start) and max(cause.spell.opened, default=0) < ack.id
            for start, cause in self.causes
        )

    def cause_at(self, now: datetime) -> Standing:
        """What carried the level at ``now``."""
        return self.causes[bisect_right(self.causes, now, key=itemgetter(0)) - 1][1]


class _Stretch(NamedTuple):
    """A stretch that is still being laid: its causes may grow."""

    level: Level
    start: datetime
    end: datetime | None
    causes: list[Cause]


class LifeStep(NamedTuple):
    """One change in an alert's life."""

    at: datetime
    level: Level
    change: Change
    spell: Spell
    entries: tuple[int, ...]


class Life(NamedTuple):
    """Everything that happened to one rule's alert about one subject."""

    rule: str
    subject: str
    stretches: tuple[Stretch, ...]
    acks: tuple[Entry, ...]
    steps: tuple[LifeStep, ...]

    def level_at(self, now: datetime) -> Level | None:
        """The level that stands at ``now``, if any."""
        found = self._find(now)
        return found.level if found else None

    def stretch_at(self, now: datetime) -> Stretch:
        """The stretch that stands at ``now``; there must be one."""
        found = self._find(now)
        if found is None:
            raise LookupError(f"nothing stands at {now}")
        return found

    def acknowledged_at(self, now: datetime) -> datetime | None:
        """When a person last took notice of what stands at ``now``, at this level."""
        stretch = self.stretch_at(now)
        newest_first = reversed(_during(stretch, self.acks))
        heard = (ack.at for ack in newest_first if reached(now, ack.at) and stretch.heard_by(ack))
        return next(heard, None)

    def _find(self, now: datetime) -> Stretch | None:
        place = bisect_right(self.stretches, now, key=lambda stretch: stretch.start)
        last = self.stretches[place - 1] if place else None
        return last if last is not None and last.holds(now) else None


def lives(
    standings: Iterable[Standing], acks: Sequence[Entry], rank: Rank = _alike
) -> tuple[Life, ...]:
    """The lives of all alerts, in order of rule and subject."""
    grouped: dict[tuple[str, str], list[Standing]] = {}
    for standing in standings:
        grouped.setdefault((standing.spell.rule, standing.spell.subject), []).append(standing)
    meant = {rule: _meant(rule, acks) for rule in {rule for rule, _ in grouped}}
    return tuple(_life(*key, mine, meant[key[0]], rank) for key, mine in grouped.items())


def _meant(rule: str, acks: Iterable[Entry]) -> tuple[Entry, ...]:
    """The acknowledgements of this rule's alerts, or of all that stood."""
    return tuple(ack for ack in acks if isinstance(ack.what, Ack) and ack.what.rule in {None, rule})


def _during(stretch: Stretch, acks: tuple[Entry, ...]) -> tuple[Entry, ...]:
    """The acknowledgements of one stretch of time; they are in order of time, as a story is."""
    first = bisect_left(acks, stretch.start, key=_at)
    end = stretch.end
    return acks[first : None if end is None else bisect_left(acks, end, lo=first, key=_at)]


def _life(
    rule: str, subject: str, mine: list[Standing], acks: tuple[Entry, ...], rank: Rank
) -> Life:
    stretches = _stretches(mine, rank)
    return Life(rule, subject, stretches, acks, tuple(_steps(stretches, acks)))


def _stretches(mine: list[Standing], rank: Rank) -> tuple[Stretch, ...]:
    """Lay the standings over one another: the highest level at every moment, joined up."""
    # The gravest explains it; among equals the newest reading or spell.
    order = sorted(mine, key=lambda own: (own.level, -rank(own.spell), own.start), reverse=True)
    starting: dict[datetime, list[int]] = {}
    for place, own in enumerate(order):
        starting.setdefault(own.start, []).append(place)
    moments = sorted(starting.keys() | {own.end for own in mine if own.end is not None})
    found: list[_Stretch] = []
    # A heap of places in that order: what has ended below the top costs nothing until it comes up,
    # so that thousands that stand at once are not looked through at every moment.
    standing: list[int] = []
    for moment, end in zip_longest(moments, moments[1:]):
        for place in starting.get(moment, ()):
            heappush(standing, place)
        while standing and not order[standing[0]].holds(moment):
            heappop(standing)
        if not standing:
            continue
        top = order[standing[0]]
        last = found[-1] if found else None
        if last and last.end == moment and last.level == top.level:
            last.causes.append((moment, top))
            found[-1] = last._replace(end=end)
        else:
            found.append(_Stretch(top.level, moment, end, [(moment, top)]))
    return tuple(Stretch(*one[:3], tuple(one.causes)) for one in found)


def _steps(stretches: tuple[Stretch, ...], acks: tuple[Entry, ...]) -> list[LifeStep]:
    steps: list[LifeStep] = []
    last: Stretch | None = None
    alerts = [stretch for stretch in stretches if stretch.level >= Level.WATCH]
    for stretch in alerts:
        spell = stretch.causes[0][1].spell
        rising = last is not None and last.end == stretch.start and last.level < stretch.level
        if last is not None and not rising:
            steps.append(_cleared(last))
        change: Change = "escalated" if rising else "raised"
        steps.append(LifeStep(stretch.start, stretch.level, change, spell, spell.opened))
        last = stretch
    if last is not None and last.end is not None:
        steps.append(_cleared(last))
    for stretch in alerts:
        for ack in filter(stretch.heard_by, _during(stretch, acks)):
            spell = stretch.cause_at(ack.at).spell
            steps.append(LifeStep(ack.at, stretch.level, "acknowledged", spell, (ack.id,)))
    return steps


def _cleared(stretch: Stretch) -> LifeStep:
    end = stretch.end
    if end is None:  # pragma: no cover - only what has ended comes here
        raise ValueError("a stretch that still stands has not been cleared")
    spell = stretch.causes[-1][1].spell
    return LifeStep(end, stretch.level, "cleared", spell, spell.closed)
