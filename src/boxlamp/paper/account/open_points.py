"""What is still open: said once each, the weightiest first."""

import re
from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta

from boxlamp.engine import Alert, Deadline, Prompt, Verdict
from boxlamp.model.levels import Level, pup_subject
from boxlamp.model.litter import Litter
from boxlamp.paper.account.base import LevelWord
from boxlamp.paper.account.course import course_of
from boxlamp.paper.account.matter import Matter
from boxlamp.paper.account.models import OpenPoint
from boxlamp.rules import afterbirth_owed, litter_short, log_quiet
from boxlamp.rules.rule import Group
from boxlamp.view.reminders import pups_words, reminder_lines
from boxlamp.view.words import message_words, steps_for, subject_words

_NEAR = timedelta(days=1)
_AFTERBIRTHS: Group = "afterbirths"
_LEVELS: dict[Level, LevelWord] = {
    Level.WATCH: "watch",
    Level.CALL: "call",
    Level.GO: "go",
}

_BRINGS_THE_VET = ("Ring the vet", "Leave for the vet", "Tell the vet", "Drive on to the vet")

_Key = tuple[str, str]
"""A rule and its subject."""


def open_points(matter: Matter) -> tuple[OpenPoint, ...]:
    """Alerts that stand, afterbirths owed, the end not written down, what comes next, reminders.

    Each matter is said in the first of these places that it belongs to, and only there. An
    alert and a reminder say when the same clock will reach its next level. An afterbirth is
    owed here while no alert names its pup.
    """
    verdict = matter.verdict
    return (
        *_alerts(verdict),
        *_owed(verdict),
        *_unfinished(matter),
        *_next(verdict),
        *_reminders(verdict),
    )


def _alerts(verdict: Verdict) -> Iterator[OpenPoint]:
    for alert in verdict.alerts:
        ahead = (
            one for one in verdict.next if _key(one) == _key(alert) and one.level > alert.level
        )
        worse = _soonest(ahead)
        yield OpenPoint(
            kind="alert",
            words=_plainly(message_words(alert, verdict.litter)),
            level=_LEVELS[alert.level],
            do=_plainly(_advice(alert, verdict.litter)),
            when=_due(worse),
            becomes=_level(worse),
        )


def _advice(alert: Alert, litter: Litter) -> str:
    """Of a call or a go, the first sentence of what brings the vet in; else what comes first."""
    if alert.level < Level.CALL:
        return ""
    steps = steps_for(alert, litter)
    step = next((one for one in steps if one.startswith(_BRINGS_THE_VET)), next(iter(steps), ""))
    return f"{step.partition('. ')[0].rstrip('.')}." if step else ""


def _owed(verdict: Verdict) -> Iterator[OpenPoint]:
    """The pups whose afterbirth nobody has answered for and no alert names."""
    alerted = {_key(alert) for alert in verdict.alerts}
    named = {
        pup_subject(debt.pup): debt.pup
        for debt in verdict.litter.ledger.owed
        if (afterbirth_owed.ID, pup_subject(debt.pup)) not in alerted
    }
    if not named:
        return
    ahead = (
        one for one in verdict.next if one.rule.id == afterbirth_owed.ID and one.subject in named
    )
    pups = pups_words(sorted(named.values()), verdict.litter)
    first = _soonest(ahead)
    yield OpenPoint(
        kind="afterbirth",
        words=f"Afterbirth not accounted for yet: {pups}.",
        when=_due(first),
        becomes=_level(first),
    )


def _unfinished(matter: Matter) -> Iterator[OpenPoint]:
    """A labour that does not go on and that nobody has called finished."""
    labour = matter.verdict.litter.phase == "labour"
    if labour and not course_of(matter).running:
        yield OpenPoint(
            kind="finish", words="Nobody has written down that the whelping is finished."
        )


def _next(verdict: Verdict) -> Iterator[OpenPoint]:
    """The soonest deadline of every rule that matters to a vet and is not told of above.

    Slow clocks that the board leaves out are no news until the day before. That nothing was
    typed lately is the breeder's business alone, and a calm before the last pup counted is told
    of by the gap since the last one.
    """
    told = {*map(_key, verdict.alerts), *map(_key, verdict.prompts)}
    rules = {log_quiet.ID, litter_short.ID}
    for one in verdict.next:
        near = one.rule.on_board or one.due - verdict.at <= _NEAR
        if not near or _key(one) in told or one.rule.group == _AFTERBIRTHS or one.rule.id in rules:
            continue
        rules.add(one.rule.id)
        name = subject_words(one.subject, verdict.litter)
        about = f", {name}" if one.subject.startswith("pup ") else ""
        yield OpenPoint(
            kind="next",
            words=f"Being timed: {one.rule.running or one.rule.title}{about}.",
            level=_LEVELS[one.level],
            when=one.due,
            becomes=_LEVELS[one.level],
        )


def _reminders(verdict: Verdict) -> Iterator[OpenPoint]:
    """Every reminder, those of several pups together, with when it would become an alert."""
    groups: dict[tuple[str, ...], list[Prompt]] = {}
    for prompt in verdict.prompts:
        several = (prompt.rule.id, prompt.spell.clock)
        of_pup = prompt.subject.startswith("pup ")
        groups.setdefault(several if of_pup else (*several, prompt.subject), []).append(prompt)
    for group in groups.values():
        keys = {_key(prompt) for prompt in group}
        first = _soonest(one for one in verdict.next if _key(one) in keys)
        for line in reminder_lines(verdict._replace(prompts=tuple(group))):
            words = _plainly(line)
            yield OpenPoint(kind="reminder", words=words, when=_due(first), becomes=_level(first))


def _key(one: Alert | Prompt | Deadline) -> _Key:
    return one.rule.id, one.subject


def _soonest(deadlines: Iterable[Deadline]) -> Deadline | None:
    return min(deadlines, key=lambda one: (one.due, -one.level), default=None)


def _due(one: Deadline | None) -> datetime | None:
    return None if one is None else one.due


def _level(one: Deadline | None) -> LevelWord | None:
    return None if one is None else _LEVELS[one.level]


def _plainly(words: str) -> str:
    """A sentence without the entry words that it shows to those who type: a vet types none."""
    return re.sub(r" \(`[^`]*`\)|, for instance `[^`]*`", "", words).replace("`", "")
