"""What a vet has been told of: after a contact nobody is asked the same once more.

A contact is ringing, advice, a visit. What stood at call or above when it was typed is in the
vet's hands for some hours, or until something else rises to call or go. From `left for vet` on
she is in the vet's hands altogether, until she is home or the whelping is called finished.
"""

from collections.abc import Callable, Iterable, Sequence
from datetime import datetime, timedelta
from typing import NamedTuple

from boxlamp.engine import Alert, Transition, Verdict
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Finished, Note, VetContact
from boxlamp.model.levels import Level
from boxlamp.model.litter import says_home

Key = tuple[str, str]
"""A rule and whom it is about."""

HEARD = timedelta(hours=4)
"""So long a contact holds. Our choice."""
AWAY = timedelta(hours=12)
"""Nobody writes down that they are home again; by then they are. Our choice."""
_SECOND = timedelta(seconds=1)


class Told(NamedTuple):
    """One contact: when it was typed, and what stood then.

    ``ends`` is when something else rose to call or go, or the hours were over: until then no
    level is asked about what was ``heard``. ``watched`` stood at a watch only.
    """

    at: datetime
    ends: datetime
    heard: frozenset[Key]
    watched: frozenset[Key]

    def softened(self, alert: Alert, moment: datetime) -> int:
        """The least level that is still reasonable for an alert, the vet having been rung.

        What the vet has heard of asks for nothing new; what stood at a watch then has been
        spoken of, so one level less is reasonable.
        """
        key = key_of(alert)
        if not self.at <= moment < self.at + HEARD:
            return alert.level
        return 0 if key in self.heard else max(1, alert.level - 1) if key in self.watched else (
            alert.level
        )  # fmt: skip


def key_of(one: Alert | Transition) -> Key:
    """Which alert it is, whatever its level."""
    return one.rule.id, one.subject


def contacts(
    entries: Sequence[Entry], verdict: Callable[[datetime], Verdict], steps: Sequence[Transition]
) -> tuple[Told, ...]:
    """Every contact of a night, in the order in which it was typed."""
    return tuple(
        _told(entry.recorded, verdict, steps)
        for entry in entries
        if isinstance(entry.what, VetContact) and entry.what.contact != "left-for"
    )


def _told(
    at: datetime, verdict: Callable[[datetime], Verdict], steps: Sequence[Transition]
) -> Told:
    # The contact itself may end an alert, such as that no vet has seen her.
    stood = [*verdict(at - _SECOND).alerts, *verdict(at).alerts]
    heard = frozenset(key_of(alert) for alert in stood if alert.level >= Level.CALL)
    watched = frozenset(key_of(alert) for alert in stood) - heard
    new = (
        step.at
        for step in steps
        if step.change in {"raised", "escalated"}
        and step.level >= Level.CALL
        and at < step.at
        and key_of(step) not in heard
    )
    return Told(at, min(at + HEARD, next(new, at + HEARD)), heard, watched)


def journeys(entries: Sequence[Entry]) -> tuple[tuple[datetime, datetime], ...]:
    """From each `left for vet` until she is home or done, as it was typed."""
    return tuple(
        (entry.recorded, _home(entry.recorded, entries))
        for entry in entries
        if isinstance(entry.what, VetContact) and entry.what.contact == "left-for"
    )


def _home(left: datetime, entries: Iterable[Entry]) -> datetime:
    back = (entry.recorded for entry in entries if entry.recorded > left and _is_home(entry))
    return min(left + AWAY, next(back, left + AWAY))


def _is_home(entry: Entry) -> bool:
    what = entry.what
    return isinstance(what, Finished) or (isinstance(what, Note) and says_home(what))
