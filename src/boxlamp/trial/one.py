"""One night under one protocol: what was raised, and whether the trouble was caught."""

from collections.abc import Iterable
from datetime import datetime
from typing import NamedTuple

from boxlamp.engine import FAILED, Transition, history_as_known
from boxlamp.imagine import Imagined
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Limit
from boxlamp.model.levels import Level
from boxlamp.protocol.records import Protocol
from boxlamp.trial.plan import BrokenNight, Which

_BEGUN = {"raised", "escalated"}
_MINUTE = 60


class Side(NamedTuple):
    """What the nights are judged by: a protocol, and the limits a vet has changed in it.

    The changed limits are written into each night at its very beginning, as ``protocol use`` would
    write them: risk factors do not tighten them again, and a rule that is never relaxed keeps the
    sooner of the two.
    """

    name: str
    protocol: Protocol
    limits: tuple[Limit, ...] = ()


class Raised(NamedTuple):
    """One level of one rule, and how often it was reached in a night."""

    rule: str
    level: Level
    times: int


class Flag(NamedTuple):
    """The first call or go in a trouble: by which rule, and how far in. Whole minutes, cut."""

    rule: str
    after: int
    """Since the trouble began."""
    before: int
    """Until it had run its course."""


class Outcome(NamedTuple):
    """What one side made of one night."""

    raised: tuple[Raised, ...]
    flag: Flag | None = None
    already: bool = False
    """No call or go came in the trouble, but one from before it was still standing."""
    told: int | None = None
    """Minutes into the trouble until a call or go stood; 0 where one from before still did."""
    missed: bool = False
    """In the whole of the trouble no call or go stood."""
    watched: bool = False
    """Missed, but not in silence: a watch came in the trouble, or still stood when it began."""


def outcome(night: Imagined, side: Side) -> Outcome:
    """Judge a night by one side."""
    entries = with_limits(night.entries, side.limits)
    steps = history_as_known(entries, side.protocol, night.ended)
    _sound(steps, night)
    if night.troubled is None:
        return Outcome(_counted(steps))
    came = [step for step in steps if _in_trouble(step, night.troubled, night.ended)]
    first = next((step for step in came if step.level >= Level.CALL), None)
    stood = max(_standing(steps, night.troubled), default=Level.PROMPT)
    before = stood >= Level.CALL
    flag = None if first is None else _flag(first, night.troubled, night.ended)
    missed = flag is None and not before
    return Outcome(
        _counted(steps),
        flag,
        already=flag is None and before,
        told=0 if before else flag and flag.after,
        missed=missed,
        watched=missed and (bool(came) or stood >= Level.WATCH),
    )


def with_limits(entries: tuple[Entry, ...], limits: tuple[Limit, ...]) -> tuple[Entry, ...]:
    """The entries of a night with a vet's own limits in force from its beginning."""
    if not limits:
        return entries
    first = min(entries, key=lambda entry: entry.at)
    number = max(entry.id for entry in entries)
    changed = (
        Entry(
            id=number + place, litter=first.litter, at=first.at, zone=first.zone,
            certainty=first.certainty, recorded=first.at, what=limit,
        )
        for place, limit in enumerate(limits, start=1)
    )  # fmt: skip
    return (*entries, *changed)


def _sound(steps: Iterable[Transition], night: Imagined) -> None:
    """A rule that crashed is a loud finding at the box; here it would be counted as an alert."""
    for step in steps:
        if step.spell.clock == FAILED:
            asked = Which(night.seed, night.trouble or "none")
            raise BrokenNight(
                f"The rule {step.rule.id} failed in a night ({step.spell.detail}). "
                f"To see it: {asked.words}"
            )


def _counted(steps: Iterable[Transition]) -> tuple[Raised, ...]:
    times: dict[tuple[str, Level], int] = {}
    for step in steps:
        if step.change in _BEGUN:
            key = step.rule.id, step.level
            times[key] = times.get(key, 0) + 1
    return tuple(Raised(rule, level, times[rule, level]) for rule, level in sorted(times))


def _in_trouble(step: Transition, troubled: datetime, ended: datetime) -> bool:
    """Whether something was raised in the trouble: from its beginning and before its end."""
    return step.change in _BEGUN and troubled <= step.at < ended


def _flag(step: Transition, troubled: datetime, ended: datetime) -> Flag:
    return Flag(step.rule.id, _minutes(troubled, step.at), _minutes(step.at, ended))


def _standing(steps: Iterable[Transition], troubled: datetime) -> Iterable[Level]:
    """The levels that were reached before the trouble and still stood when it began."""
    stands: dict[tuple[str, str], Level] = {}
    for step in steps:
        if step.at > troubled:
            break
        if step.change in _BEGUN:
            stands[step.rule.id, step.subject] = step.level
        elif step.change == "cleared":
            stands.pop((step.rule.id, step.subject), None)
    return stands.values()


def _minutes(start: datetime, end: datetime) -> int:
    return int((end - start).total_seconds()) // _MINUTE
