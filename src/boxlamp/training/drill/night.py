"""A night as a drill needs it: what was known at a second, and when the worst level rose."""

import re
from collections.abc import Sequence
from datetime import datetime, timedelta
from enum import IntEnum
from functools import cached_property

from boxlamp.engine import Alert, Clock, Deadline, Verdict
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
from boxlamp.training.drill.contacts import Told, contacts, journeys, key_of
from boxlamp.training.drill.rises import Rise, is_silence, rises
from boxlamp.training.screening import screen

HEADING = (Details, Expect, Kit, Limit, Mating, Ovulation, Scan)
"""What is known of a dam before her night begins."""

_SEEN = timedelta(hours=1)
"""So long after a visit or a caesarean nobody asks whether to ring the vet. Our choice."""
_NEAR = timedelta(hours=12)
"""A limit further away is no part of this moment. Our choice."""
_OLD = timedelta(minutes=30)
"""A watch that rests on one reading is no news after this. Our choice."""
_AHEAD, _SHARE = timedelta(minutes=5), 10
"""So near its limit, or so small a part of the clock, a call is no longer too early. Our choice."""
_TO_THE_VET = re.compile(r"\b(tell|ring|ask) the vet", re.IGNORECASE)


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
        """What the engine makes of what had been typed by this second.

        That nothing was written down is left out: the silence is the drill's own.
        """
        if moment not in self._verdicts:
            verdict = self.screening.verdict(moment)
            self._verdicts[moment] = verdict._replace(
                alerts=tuple(one for one in verdict.alerts if not is_silence(one.rule)),
                clocks=tuple(one for one in verdict.clocks if not is_silence(one.rule)),
                next=tuple(one for one in verdict.next if not is_silence(one.rule)),
            )
        return self._verdicts[moment]

    def right(self, moment: datetime) -> Choice:
        """What this second asks for: the worst level that stands."""
        return Choice(self.verdict(moment).worst or 0)

    def fair(self, moment: datetime) -> frozenset[Choice]:
        """Every answer that is right at this second.

        Where nothing stands but a watch on a reading of some time ago, such as a light pup,
        no clock runs towards more: then carrying on is right as well. Where the watch itself
        says to tell the vet, or a call is near, calling is right. Where a vet has been told of
        what stands, what that makes reasonable is right.
        """
        verdict, right = self.verdict(moment), self.right(moment)
        alerts, found = verdict.alerts, {right}
        if alerts and all(_is_old_news(alert, moment) for alert in alerts):
            found.add(Choice.CARRY_ON)
        if right is Choice.WATCH and (
            any(map(_tells_the_vet, alerts)) or any(_is_near(c, moment) for c in verdict.clocks)
        ):
            found.add(Choice.CALL)
        return frozenset(found | {Choice(level) for level in range(self.least(moment), right)})

    def least(self, moment: datetime) -> int:
        """The least level that is reasonable, after what a vet has been told."""
        alerts = self.verdict(moment).alerts
        return max((self._softened(alert, moment) for alert in alerts), default=0)

    def _softened(self, alert: Alert, moment: datetime) -> int:
        told = (one.softened(alert, moment) for one in self.told)
        return min(told, default=alert.level)

    def asks(self, moment: datetime) -> bool:
        """Whether a level can be asked here: within the night, and nobody has been told yet."""
        if not self.begins <= moment <= self.end or self.in_hands(moment):
            return False
        verdict = self.verdict(moment)
        worst = {key_of(one) for one in verdict.alerts if one.level == verdict.worst}
        return all(worst.isdisjoint(one.heard) for one in self.told if one.at <= moment < one.ends)

    def in_hands(self, moment: datetime) -> bool:
        """Whether a vet is with her, has just been, or she is on the way to one."""
        verdict = self.verdict(moment)
        visits = (
            entry.at
            for entry in verdict.story.of(VetContact, Caesarean)
            if isinstance(entry.what, Caesarean) or entry.what.contact == "seen"  # type: ignore[union-attr]
        )
        away = any(left <= moment < home for left, home in self._journeys)
        return away or verdict.litter.with_vet(moment) or any(moment - at < _SEEN for at in visits)

    @cached_property
    def _journeys(self) -> tuple[tuple[datetime, datetime], ...]:
        return journeys(self.entries)

    @cached_property
    def told(self) -> tuple[Told, ...]:
        """Every contact with a vet, as it was typed."""
        return contacts(self.entries, self.verdict, self.screening.steps)

    @cached_property
    def rises(self) -> tuple[Rise, ...]:
        """Every rise of the worst level to watch, call or go, in order."""
        return tuple(rises(self.screening.steps, self.told, self.end))


def nearest(verdict: Verdict) -> Deadline | None:
    """The limit that comes next, when one is near."""
    near = (due for due in verdict.next if due.due - verdict.at <= _NEAR and due.rule.on_board)
    return next(near, None)


def is_notice(entry: Entry) -> bool:
    """Whether a line only takes notice of an alert, which would give the alert away."""
    return isinstance(entry.what, Ack)


def _tells_the_vet(alert: Alert) -> bool:
    steps = alert.rule.steps(Level.WATCH)
    return bool(steps) and _TO_THE_VET.search(steps[0]) is not None


def _is_near(clock: Clock, moment: datetime) -> bool:
    """Whether a clock that stands at a watch comes to its call in a moment."""
    ahead = clock.next_limit(moment)
    if clock.level is not Level.WATCH or ahead is None:
        return False
    level, due = ahead
    whole = due - clock.spell.since
    return level >= Level.CALL and due - moment <= max(_AHEAD, whole / _SHARE)


def _is_old_news(alert: Alert, moment: datetime) -> bool:
    reading = alert.spell.level is not None
    return alert.level is Level.WATCH and reading and moment - alert.raised >= _OLD
