"""A night as a drill needs it: what was known at a second, and when the worst level rose."""

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta
from enum import IntEnum
from functools import cached_property
from itertools import groupby
from typing import NamedTuple

from boxlamp.engine import Alert, Deadline, Transition, Verdict
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Ack,
    Caesarean,
    Details,
    Expect,
    Kit,
    Limit,
    Mating,
    Ovulation,
    Scan,
    VetContact,
)
from boxlamp.model.levels import Level
from boxlamp.protocol.records import Protocol
from boxlamp.rules.rule import Rule
from boxlamp.training.screening import screen

HEADING = (Details, Expect, Kit, Limit, Mating, Ovulation, Scan)
"""What is known of a dam before her night begins."""

_SEEN = timedelta(hours=1)
"""So long after a visit or a caesarean nobody asks whether to ring the vet. Our choice."""
_NEAR = timedelta(hours=12)
"""A limit further away is no part of this moment. Our choice."""
_OLD = timedelta(minutes=30)
"""A watch that rests on one reading is no news after this. Our choice."""


class Choice(IntEnum):
    """What a person can choose at a stop: nothing new, or one of the three levels."""

    CARRY_ON = 0
    WATCH = 1
    CALL = 2
    GO = 3

    @property
    def word(self) -> str:
        """``carry on``, ``watch``, ``call`` or ``go``."""
        return self.name.lower().replace("_", " ")


class Rise(NamedTuple):
    """The moment at which the worst level rose, and how long it stayed so high.

    ``since`` is where the clock of the rule behind it counts from: a person who acted after
    that and before ``at`` was early, not lucky.
    """

    at: datetime
    level: Level
    rule: Rule
    subject: str
    since: datetime
    until: datetime


def begins(entries: Sequence[Entry]) -> datetime:
    """When the first line of the night itself was typed. There must be an entry."""
    told = (
        entry.recorded
        for entry in entries
        if entry.certainty != "day" and not isinstance(entry.what, HEADING)
    )
    return min(told, default=entries[0].recorded)


class PastNight:
    """One night that is over, up to ``end``. What is asked of it is worked out once."""

    def __init__(self, entries: Sequence[Entry], protocol: Protocol, end: datetime) -> None:
        self.entries = tuple(sorted(entries, key=lambda entry: (entry.recorded, entry.id)))
        self.screening = screen(self.entries, protocol, until=end)
        self.zone, self.begins, self.end = self.screening.zone, begins(self.entries), end
        self._verdicts: dict[datetime, Verdict] = {}

    @property
    def zone_name(self) -> str:
        """The name of the zone of the whelping box."""
        named = [e.what.zone for e in self.entries if isinstance(e.what, Details) and e.what.zone]
        return named[-1] if named else self.entries[0].zone

    def typed(self, after: datetime | None, until: datetime) -> tuple[Entry, ...]:
        """The entries typed after one second and up to another."""
        known = self.screening.typed(until)
        return tuple(entry for entry in known if after is None or entry.recorded > after)

    def verdict(self, moment: datetime) -> Verdict:
        """What the engine makes of what had been typed by this second."""
        if moment not in self._verdicts:
            self._verdicts[moment] = self.screening.verdict(moment)
        return self._verdicts[moment]

    def right(self, moment: datetime) -> Choice:
        """What this second asks for: the worst level that stands."""
        return Choice(self.verdict(moment).worst or 0)

    def fair(self, moment: datetime) -> frozenset[Choice]:
        """Every answer that is right at this second.

        Where nothing stands but a watch on a reading of some time ago, such as a light pup,
        no clock runs towards more: then carrying on is right as well.
        """
        alerts = self.verdict(moment).alerts
        both = alerts and all(_is_old_news(alert, moment) for alert in alerts)
        return frozenset({self.right(moment), *({Choice.CARRY_ON} if both else ())})

    def in_hands(self, moment: datetime) -> bool:
        """Whether a vet is with her, or has just been: then nobody asks whether to ring one."""
        verdict = self.verdict(moment)
        visits = (
            entry.at
            for entry in verdict.story.of(VetContact, Caesarean)
            if isinstance(entry.what, Caesarean) or entry.what.contact == "seen"  # type: ignore[union-attr]
        )
        return verdict.litter.with_vet(moment) or any(moment - at < _SEEN for at in visits)

    @cached_property
    def rises(self) -> tuple[Rise, ...]:
        """Every rise of the worst level to watch, call or go, in order."""
        return tuple(_rises(self.screening.steps, self.end))


def nearest(verdict: Verdict) -> Deadline | None:
    """The limit that comes next, when one is near.

    That nothing was written for a while says little to somebody who sits at the box, so any
    other clock comes before it.
    """
    near = [due for due in verdict.next if due.due - verdict.at <= _NEAR and due.rule.on_board]
    return min(near, key=lambda due: due.rule.urgency == "records", default=None)


def is_decision(entry: Entry) -> bool:
    """Whether a line tells what somebody decided, which the trainee must decide alone."""
    what = entry.what
    return isinstance(what, Ack) or (
        isinstance(what, VetContact) and what.contact in {"called", "advised", "left-for"}
    )


def _is_old_news(alert: Alert, moment: datetime) -> bool:
    reading = alert.spell.level is not None
    return alert.level is Level.WATCH and reading and moment - alert.raised >= _OLD


def _is_slow(step: Transition) -> bool:
    """Whether it is a watch on one reading of a pup, such as a low weight: it must hide nothing.

    Such a watch stands for hours, and a clock that then reaches its own watch is news.
    """
    reading = step.spell.level is Level.WATCH and step.level is Level.WATCH
    return reading and step.rule.group == "each pup"


def _rises(steps: Sequence[Transition], end: datetime) -> Iterator[Rise]:
    """Lay the alerts over one another and find where the worst of them rises."""
    stairs = list(_stairs(steps))
    before = 0
    for place, (at, worst, step) in enumerate(stairs):
        if step is not None and worst > before:
            falls = (later for later, level, _ in stairs[place:] if level < worst)
            yield Rise(at, Level(worst), step.rule, step.subject, step.since, next(falls, end))
        before = worst


def _stairs(steps: Sequence[Transition]) -> Iterator[tuple[datetime, int, Transition | None]]:
    """The worst level after each second in which something changed, and what carries it."""
    standing: dict[tuple[str, str], Transition] = {}
    for at, together in groupby(steps, key=lambda step: step.at):
        for step in together:
            if step.change == "cleared":
                standing.pop((step.rule.id, step.subject), None)
            elif step.change != "acknowledged" and not _is_slow(step):
                standing[step.rule.id, step.subject] = step
        worst = max((step.level for step in standing.values()), default=0)
        # Of several that carry it the newest has made it rise.
        carries = [step for step in standing.values() if step.level == worst]
        yield at, int(worst), max(carries, key=lambda step: step.at, default=None)
