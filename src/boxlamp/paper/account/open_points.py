"""What is still open: said once each, the weightiest first."""

import re
from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta

from boxlamp.engine import Alert, Deadline, Prompt, Verdict
from boxlamp.model.levels import Level, pup_subject
from boxlamp.paper.account.base import LevelWord
from boxlamp.paper.account.course import course_of
from boxlamp.paper.account.matter import Matter
from boxlamp.paper.account.models import OpenPoint
from boxlamp.rules import afterbirth_owed, litter_short, log_quiet
from boxlamp.rules.rule import Group
from boxlamp.view.board import message_words, subject_words
from boxlamp.view.reminders import pups_words, reminder_lines

_NEAR = timedelta(days=1)
_AFTERBIRTHS: Group = "afterbirths"
_LEVELS: dict[Level, LevelWord] = {
    Level.WATCH: "watch",
    Level.CALL: "call",
    Level.GO: "go",
}

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
        yield OpenPoint(
            kind="alert",
            words=_plainly(message_words(alert, verdict.litter)),
            level=_LEVELS[alert.level],
            when=_soonest(
                one for one in verdict.next if _key(one) == _key(alert) and one.level > alert.level
            ),
        )


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
    yield OpenPoint(
        kind="afterbirth", words=f"Afterbirth not accounted for yet: {pups}.", when=_soonest(ahead)
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
        due = _soonest(one for one in verdict.next if _key(one) in keys)
        for line in reminder_lines(verdict._replace(prompts=tuple(group))):
            yield OpenPoint(kind="reminder", words=_plainly(line), when=due)


def _key(one: Alert | Prompt | Deadline) -> _Key:
    return one.rule.id, one.subject


def _soonest(deadlines: Iterable[Deadline]) -> datetime | None:
    return min((one.due for one in deadlines), default=None)


def _plainly(words: str) -> str:
    """A sentence without the entry words that it shows to those who type: a vet types none."""
    return re.sub(r" \(`[^`]*`\)|, for instance `[^`]*`", "", words).replace("`", "")
