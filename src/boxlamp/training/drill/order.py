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
_FOR_A_GO = 2
_NEVER = datetime.min.replace(tzinfo=UTC)


class Shelf(NamedTuple):
    """A night that could be drilled: what it is known by, what it exercises, how long it is."""

    key: str
    rules: frozenset[str]
    troubled: bool
    """Whether anything in it asks to ring or to leave."""
    length: timedelta


def weak_rules(past: Iterable[Result]) -> frozenset[str]:
    """The rules that were answered wrong and have not been mended since.

    A right answer mends a rule only where it stood at the same level, and only in a drill that
    was finished; for a go it takes two.
    """
    owed: dict[tuple[str, str], int] = {}
    for result in sorted(past, key=lambda one: one.at):
        for held in result.well if result.finished else ():
            for key in ((held.rule, held.level), (held.rule, "")):
                owed[key] = max(0, owed.get(key, 0) - 1)
        for held in result.poorly:
            owed[held.rule, held.level] = _FOR_A_GO if held.level == "go" else 1
        if not result.poorly:  # kept by an earlier version, which did not say the level
            owed |= {(rule, ""): 1 for rule in result.wrong}
    return frozenset(rule for (rule, _), times in owed.items() if times)


def why_next(shelf: Shelf, past: Sequence[Result]) -> str:
    """Why this night is offered, saying nothing of what happens in it."""
    if weak_rules(past) & shelf.rules and not (_is_tired(past) and not shelf.troubled):
        return "it exercises something you got wrong"
    if all(one.night != shelf.key for one in past):
        return "a night you have not done yet"
    return "the night you did longest ago"


def _is_tired(past: Sequence[Result]) -> bool:
    last = sorted(past, key=lambda one: one.at)[-IN_A_ROW:]
    return len(last) == IN_A_ROW and all(one.troubled for one in last)


def next_night(shelves: Sequence[Shelf], past: Sequence[Result]) -> Shelf:
    """The night that helps this person most now. There must be one on the shelves."""
    done = sorted(past, key=lambda one: one.at)
    last = done[-1].night if done else None
    others = [shelf for shelf in shelves if shelf.key != last] or list(shelves)
    calm = [shelf for shelf in others if not shelf.troubled]
    weak = weak_rules(done)
    times = {one.night: one.at for one in done}

    def need(shelf: Shelf) -> tuple[bool, datetime, int, timedelta, str]:
        again = weak & shelf.rules
        when = times.get(shelf.key, _NEVER)
        return not again, when, -len(again), shelf.length, shelf.key

    return min(calm if _is_tired(done) and calm else others, key=need)
