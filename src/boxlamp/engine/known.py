"""The history as it was known then: what the screen showed, moment by moment.

Entries typed late, amends and strikes change the past as it now reads. This module replays the
typing instead: at each moment only what had been typed by then counts.
"""

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta
from itertools import pairwise

from boxlamp.engine.alert import Alert, Change, Transition
from boxlamp.engine.assess import Assessment, assess
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Amend, Strike
from boxlamp.model.revived import returns
from boxlamp.model.story import Story, as_known
from boxlamp.protocol.records import Protocol

_SECOND = timedelta(seconds=1)
_Key = tuple[str, str]


def history_as_known(
    entries: Sequence[Entry], protocol: Protocol, until: datetime
) -> list[Transition]:
    """Every change of the board up to ``until``, in order.

    One pass of the rules for each line that was typed late, ahead of its time, as a correction, or
    of a pup that came back, with what was typed as it happened after it: a record in which
    everything was typed late costs the square of its length, so this is for a night and its
    summary, not for every redraw.
    """
    if not _turning(entries):
        # Then what was known is what had happened, and one pass tells it all.
        return assess(Story(entries), protocol).history(until)
    steps: list[Transition] = []
    before: Assessment | None = None
    for first, last, following in _runs(entries, until):
        known = assess(as_known(entries, last), protocol)
        steps += _changes(before, known, first)
        steps += [step for step in known.history(until) if first < step.at < following]
        before = known
    return steps


def _turning(entries: Sequence[Entry]) -> set[int]:
    """Numbers of the lines that changed more than the present when they were typed."""
    return {
        entry.id
        for entry in entries
        if entry.recorded != entry.at or isinstance(entry.what, Amend | Strike)
    } | returns(entries)


def _runs(
    entries: Sequence[Entry], until: datetime
) -> Iterator[tuple[datetime, datetime, datetime]]:
    """The stretches in which only the present was written down, one after the other.

    Each with the moment it begins, the last moment at which what is known changes, and where
    the next one begins. A line typed ahead waits for its time, and that is a beginning too.
    Where the computer's clock was set back while somebody typed, a correction can stand before
    what it corrects and wait for it; then every moment is a beginning.
    """
    typed = [one.recorded for one in sorted(entries, key=lambda one: one.id)]
    set_back = any(late < early for early, late in pairwise(typed))
    turns = {moment for one in entries for moment in _moments(one)}
    turning = _turning(entries)
    begins = {
        moment for one in entries if set_back or one.id in turning for moment in _moments(one)
    }
    moments = sorted(moment for moment in turns if moment <= until)
    starts = [place for place, one in enumerate(moments) if place == 0 or one in begins]
    for place, after in pairwise([*starts, len(moments)]):
        following = moments[after] if after < len(moments) else until + _SECOND
        yield moments[place], moments[after - 1], following


def _moments(entry: Entry) -> tuple[datetime, datetime]:
    """When a line was typed, and when it counts: a line typed ahead waits for its time."""
    return entry.recorded, max(entry.at, entry.recorded)


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
        also=alert.also,
    )
