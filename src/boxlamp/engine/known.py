"""The history as it was known then: what the screen showed, moment by moment.

Entries typed late, amends and strikes change the past as it now reads. This module replays the
typing instead: at each moment only what had been typed by then counts.
"""

from collections.abc import Sequence
from datetime import datetime, timedelta
from itertools import pairwise

from boxlamp.engine.alert import Alert, Change, Transition
from boxlamp.engine.assess import Assessment, assess
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Amend, Strike
from boxlamp.model.story import Story, as_known
from boxlamp.protocol.records import Protocol

_SECOND = timedelta(seconds=1)
_Key = tuple[str, str]


def history_as_known(
    entries: Sequence[Entry], protocol: Protocol, until: datetime
) -> list[Transition]:
    """Every change of the board up to ``until``, in order.

    Where lines were typed late or corrected, one pass of the rules per moment of typing: the cost
    grows with the square of the number of entries, so this is for a night and its summary, not
    for every redraw.
    """
    if _typed_as_it_happened(entries):
        # Then what was known is what had happened, and one pass tells it all.
        return assess(Story(entries), protocol).history(until)
    moments = sorted({entry.recorded for entry in entries if entry.recorded <= until})
    steps: list[Transition] = []
    before: Assessment | None = None
    for moment, following in pairwise([*moments, until + _SECOND]):
        known = assess(as_known(entries, moment), protocol)
        steps += _changes(before, known, moment)
        steps += [
            step for step in known.history(following - _SECOND) if moment < step.at < following
        ]
        before = known
    return steps


def _typed_as_it_happened(entries: Sequence[Entry]) -> bool:
    return all(
        entry.recorded == entry.at and not isinstance(entry.what, Amend | Strike)
        for entry in entries
    )


def _changes(before: Assessment | None, after: Assessment, at: datetime) -> list[Transition]:
    """What typing something at ``at`` changed on the screen."""
    shown = _alerts(before, at - _SECOND) if before is not None else {}
    shows = _alerts(after, at)
    steps: list[Transition] = []
    for key, alert in shown.items():
        new = shows.get(key)
        if new is None or new.level < alert.level:
            steps.append(_transition(alert, "cleared", at))
    for key, alert in shows.items():
        old = shown.get(key)
        if old is None or old.level > alert.level:
            steps.append(_transition(alert, "raised", at))
        elif old.level < alert.level:
            steps.append(_transition(alert, "escalated", at))
        if alert.acknowledged == at:
            steps.append(_transition(alert, "acknowledged", at))
    return steps


def _alerts(assessment: Assessment, at: datetime) -> dict[_Key, Alert]:
    return {(alert.rule.id, alert.subject): alert for alert in assessment.verdict(at).alerts}


def _transition(alert: Alert, change: Change, at: datetime) -> Transition:
    return Transition(
        at=at,
        rule=alert.rule,
        subject=alert.subject,
        level=alert.level,
        change=change,
        since=alert.since,
        entries=alert.entries,
        spell=alert.spell,
    )
