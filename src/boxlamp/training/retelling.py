"""A past night as it unfolded: what was typed and what the board then said, in one order."""

from collections.abc import Iterator, Sequence
from datetime import datetime
from typing import NamedTuple

from boxlamp.engine import Transition, history_as_known
from boxlamp.language import Expected
from boxlamp.model.entry import Entry
from boxlamp.protocol.records import Protocol


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
    """What a night's file expects and the engine did not do, one sentence each."""
    for line in expected:
        if line.at is None or line.level == "prompt":  # a reminder is no change of the board
            continue
        wanted = {"cleared"} if line.change == "cleared" else {"raised", "escalated"}
        if not any(
            step.at == line.at
            and step.change in wanted
            and step.rule.id == line.rule
            and (line.level is None or step.level.word == line.level)
            and line.subject in {None, step.subject}
            for step in steps
        ):
            yield f"Expected and not seen: {line.at:%H:%M:%S} UTC {line.level} {line.rule}"
