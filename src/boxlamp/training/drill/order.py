"""Which night comes next: what went wrong first, then what is new, then what is longest ago.

After two troubled nights in a row comes a calm one, for leaving a healthy dam in peace has to be
trained too. A pure function: the same nights and results give the same answer.
"""

from collections.abc import Iterable, Sequence
from datetime import UTC, datetime, timedelta
from typing import NamedTuple

from boxlamp.training.drill.record import Result

IN_A_ROW = 2
"""Troubled nights in a row before a calm one. Our choice."""
_NEVER = datetime.min.replace(tzinfo=UTC)


class Shelf(NamedTuple):
    """A night that could be drilled: what it is known by, what it exercises, how long it is."""

    key: str
    rules: frozenset[str]
    troubled: bool
    """Whether anything in it asks to ring or to leave."""
    length: timedelta


def weak_rules(past: Iterable[Result]) -> frozenset[str]:
    """The rules that were answered wrong the last time they came."""
    known: dict[str, bool] = {}
    for result in sorted(past, key=lambda one: one.at):
        known |= dict.fromkeys(result.right, True)
        known |= dict.fromkeys(result.wrong, False)
    return frozenset(rule for rule, well in known.items() if not well)


def next_night(shelves: Sequence[Shelf], past: Sequence[Result]) -> Shelf:
    """The night that helps this person most now. There must be one on the shelves."""
    done = sorted(past, key=lambda one: one.at)
    last = done[-1].night if done else None
    others = [shelf for shelf in shelves if shelf.key != last] or list(shelves)
    tired = len(done) >= IN_A_ROW and all(one.troubled for one in done[-IN_A_ROW:])
    calm = [shelf for shelf in others if not shelf.troubled]
    weak = weak_rules(done)
    times = {one.night: one.at for one in done}

    def need(shelf: Shelf) -> tuple[bool, datetime, int, timedelta, str]:
        again = weak & shelf.rules
        when = times.get(shelf.key, _NEVER)
        return not again, when, -len(again), shelf.length, shelf.key

    return min(calm if tired and calm else others, key=need)
