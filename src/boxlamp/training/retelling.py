"""A past night as it unfolded: what was typed and what the board then said, in one order."""

from collections.abc import Iterator, Sequence
from datetime import datetime
from typing import NamedTuple

from boxlamp.engine import Transition, history_as_known
from boxlamp.language import Expected
from boxlamp.model.entry import Entry
from boxlamp.model.levels import Level
from boxlamp.protocol.records import Protocol

_WORSE = frozenset(("raised", "escalated"))
_LEVELS = {level.word: level for level in Level}


class Moment(NamedTuple):
    """One thing that happened: an entry typed, or a change of the board."""

    at: datetime
    entry: Entry | None = None
    step: Transition | None = None


def retell(
    entries: Sequence[Entry], protocol: Protocol, until: datetime
) -> tuple[list[Moment], list[Transition]]:
    """The moments of a night up to ``until``, and the changes of the board among them.

    Told as it was known then: an entry stands where it was typed. What was typed at an instant
    comes before what the board made of it.
    """
    steps = history_as_known(entries, protocol, until)
    typed = [Moment(entry.recorded, entry=entry) for entry in entries if entry.recorded <= until]
    changed = [Moment(step.at, step=step) for step in steps]
    return sorted(typed + changed, key=lambda moment: (moment.at, moment.step is not None)), steps


def unmet(expected: Sequence[Expected], steps: Sequence[Transition]) -> Iterator[str]:
    """What a night's file states and the engine did not keep to, one sentence each."""
    for line in expected:
        if line.at is None:
            yield from _forbidden(line, steps)
            continue
        if line.level == "prompt":  # a reminder is no change of the board
            continue
        wanted = {"cleared"} if line.change == "cleared" else _WORSE
        if not any(
            step.at == line.at
            and step.change in wanted
            and step.rule.id == line.rule
            and (line.level is None or step.level.word == line.level)
            and line.subject in {None, step.subject}
            for step in steps
        ):
            yield f"Expected and not seen: {line.at:%H:%M:%S} UTC {line.level} {line.rule}"


def _forbidden(line: Expected, steps: Sequence[Transition]) -> Iterator[str]:
    """What came although the file says that nothing of this level may come."""
    for step in steps:
        if (
            step.change in _WORSE
            and step.level >= _LEVELS[line.level or "watch"]
            and line.rule in {None, step.rule.id}
        ):
            yield f"Seen and not expected: {step.at:%H:%M:%S} UTC {step.level.word} {step.rule.id}"
