"""When the worst level of a night rose, and how long it stayed so high."""

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta
from itertools import groupby
from typing import NamedTuple

from boxlamp.engine import Transition
from boxlamp.model.levels import Level
from boxlamp.rules.rule import Rule
from boxlamp.training.drill.contacts import Key, Told, key_of

_SLOW = timedelta(days=2)


class Rise(NamedTuple):
    """The moment at which the worst level rose, and how long it stayed so high.

    ``since`` is where the clock of the rule behind it counts from: a person who acted after
    that and before ``at`` was early, not lucky. It is over when a vet was told of it.
    """

    at: datetime
    level: Level
    rule: Rule
    subject: str
    since: datetime
    until: datetime

    @property
    def slow(self) -> bool:
        """Whether its clock counts days: then an hour is what a minute is elsewhere."""
        return self.at - self.since >= _SLOW


def rises(steps: Sequence[Transition], told: Sequence[Told], end: datetime) -> Iterator[Rise]:
    """Lay the alerts over one another and find where the worst of them rises."""
    stairs = list(_stairs(steps, told))
    before = 0
    for place, (at, worst, step) in enumerate(stairs):
        if step is not None and worst > before:
            falls = (later for later, level, _ in stairs[place:] if level < worst)
            yield Rise(at, Level(worst), step.rule, step.subject, step.since, next(falls, end))
        before = worst


def is_silence(rule: Rule) -> bool:
    """Whether it speaks of what was not written down: the silence of a drill is no one's."""
    return rule.urgency == "records"


def _is_slow(step: Transition) -> bool:
    """Whether it is a watch on one reading of a pup, such as a low weight: it must hide nothing.

    Such a watch stands for hours, and a clock that then reaches its own watch is news.
    """
    reading = step.spell.level is Level.WATCH and step.level is Level.WATCH
    return reading and step.rule.group == "each pup"


def _stairs(
    steps: Sequence[Transition], told: Sequence[Told]
) -> Iterator[tuple[datetime, int, Transition | None]]:
    """The worst level after each second in which something changed, and what carries it.

    What a vet has heard of carries nothing any more, until the contact no longer holds.
    """
    standing: dict[Key, Transition] = {}
    events: list[tuple[datetime, Transition | Told]] = [(step.at, step) for step in steps]
    events += [(one.at, one) for one in told]
    events.sort(key=lambda event: (event[0], isinstance(event[1], Told)))
    for at, together in groupby(events, key=lambda event: event[0]):
        for _, event in together:
            if isinstance(event, Told):
                for key in event.heard:
                    standing.pop(key, None)
            elif event.change == "cleared":
                standing.pop(key_of(event), None)
            elif _carries(event, told):
                standing[key_of(event)] = event
        worst = max((step.level for step in standing.values()), default=0)
        # Of several that carry it the newest has made it rise.
        carries = [step for step in standing.values() if step.level == worst]
        yield at, int(worst), max(carries, key=lambda step: step.at, default=None)


def _carries(step: Transition, told: Sequence[Told]) -> bool:
    heard = any(one.at <= step.at < one.ends and key_of(step) in one.heard for one in told)
    quiet = step.change == "acknowledged" or is_silence(step.rule)
    return not (heard or quiet or _is_slow(step))
