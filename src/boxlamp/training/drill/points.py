"""Where a night stops to ask: the same night, the same stops.

Most stops ask for a level: a little after a level was reached and, for a call or go that still
stands, a second time; a little before it, where less is still right; and on enough calm moments
that "carry on" is often right, so that the stop itself gives nothing away. A few ask for the
first thing to do, or for a line to type. How many
of each is our own choice; so are the minutes before and after.
"""

from collections import Counter
from collections.abc import Container, Iterable, Iterator, Sequence
from datetime import datetime, timedelta
from itertools import pairwise
from typing import Literal, NamedTuple, TypeVar

from boxlamp.model.entry import Entry
from boxlamp.model.levels import Level
from boxlamp.training.drill.acts import act_of_alert, act_of_birth
from boxlamp.training.drill.moments import after, again, before, whole
from boxlamp.training.drill.night import Choice, PastNight
from boxlamp.training.drill.rises import Rise
from boxlamp.training.drill.scenes import can_be_typed, facts_of, scene

MOST = 14
"""Stops in one night, of every kind."""
_RISES, _BEFORE, _WATCHES, _CALM = 3, 2, 3, 3
_LEVELS, _EACH = 11, 2
_APART = timedelta(seconds=90)
_LOOKED_AT = 40

T = TypeVar("T")
Kind = Literal["line", "level", "act"]


class Stop(NamedTuple):
    """One stop: the second at which the night stands still, and what is asked there.

    ``known`` is the second up to which what was typed is shown; it is ``at``, but a second less
    where a scene tells what happens now. ``entry`` is the number of the line that scene is made
    of. ``rise`` is the rise that came a little before.
    """

    at: datetime
    kind: Kind
    known: datetime
    entry: int | None = None
    rise: Rise | None = None


def stops_of(night: PastNight) -> tuple[Stop, ...]:
    """The stops of a night in order of time; none where nothing happened."""
    levels = _levels(night)
    lines = _first(_lines(night), _EACH)
    typed = {line.entry for line in lines}
    extras = [*_first(_acts(night, levels, typed), _EACH), *lines]
    room = max(0, MOST - len(levels))
    # Lines and acts take turns until the night is full.
    turns = sorted(range(len(extras)), key=lambda place: (_turn(extras, place), place))
    chosen = [extras[place] for place in turns[:room]]
    return tuple(sorted([*levels, *chosen], key=lambda stop: (stop.at, _order(stop))))


def _order(stop: Stop) -> int:
    """With a newborn pup hands come before the pen; at a limit the level before the step."""
    if stop.kind == "act":
        return 0 if stop.rise is None else 3
    return 1 if stop.kind == "line" else 2


def _turn(extras: Sequence[Stop], place: int) -> int:
    return sum(stop.kind == extras[place].kind for stop in extras[:place])


def _levels(night: PastNight) -> list[Stop]:
    """The stops that ask for a level."""
    taken: dict[datetime, Rise | None] = {}
    turns = list[Rise]()
    for rise in _important(night.rises):
        if len(turns) < _RISES and _take(taken, night, rise):
            turns.append(rise)
    _add(taken, (before(night, rise) for rise in sorted(turns)), _BEFORE)
    calm = _calm(night)
    _add(taken, calm, _CALM)
    watches = _spread([rise for rise in night.rises if rise.level is Level.WATCH])
    watches.sort(key=lambda rise: rise.since == rise.at)
    added = 0
    for rise in watches:
        if added < _WATCHES and len(taken) < _LEVELS and _take(taken, night, rise):
            added += 1
            _add(taken, [before(night, rise)], int(len(taken) < _LEVELS))
    _add(taken, calm, _LEVELS - len(taken))
    return [Stop(at, "level", at, rise=rise) for at, rise in taken.items()]


def _take(taken: dict[datetime, Rise | None], night: PastNight, rise: Rise) -> bool:
    """Stop for a rise, and a second time where a call or go still stands; false where it cannot."""
    at = after(night, rise)
    if at is None or not _is_free(taken, at):
        return False
    taken[at] = rise
    if rise.level > Level.WATCH:
        _add(taken, [again(night, rise, at)], 1)
    return True


def _important(rises: Iterable[Rise]) -> Iterator[Rise]:
    """Go before call, each rule once before any comes a second time, then by time."""
    times: dict[tuple[Level, str], int] = {}
    ranked = []
    for rise in rises:
        if rise.level > Level.WATCH:
            key = rise.level, rise.rule.id
            times[key] = times.get(key, 0) + 1
            ranked.append((-rise.level, times[key], rise.at, rise))
    return (rise for *_, rise in sorted(ranked, key=lambda row: row[:3]))


def _calm(night: PastNight) -> list[datetime]:
    """Moments at which carrying on is right, far apart; those where nothing stands at all first.

    Last come those of a mere watch: she may be overdue all night long.
    """
    clear, known, watched = list[datetime](), list[datetime](), list[datetime]()
    for at in _spread(_quiet(night)):
        fair = night.fair(at) if night.asks(at) else frozenset({Choice.GO})
        if Choice.CARRY_ON in fair:
            (clear if len(fair) == 1 else known).append(at)
        elif Choice.WATCH in fair:
            watched.append(at)
        if len(clear) == _LEVELS:
            break
    return [*clear, *known, *watched]


def _quiet(night: PastNight) -> list[datetime]:
    """Moments between two lines: most of the way through a pause, all through the night."""
    typed = [entry.recorded for entry in night.typed(None, night.end)]
    moments = sorted({night.begins, *(at for at in typed if at >= night.begins), night.end})
    pauses = [(a, b) for a, b in pairwise(moments) if b - a > _APART]
    return _thinned([whole(a + (b - a) * 2 / 3) for a, b in pauses], _LOOKED_AT)


def _acts(night: PastNight, levels: Sequence[Stop], typed: Container[int | None]) -> Iterator[Stop]:
    """Where to ask for the first thing to do: at a birth, and after a level has risen.

    The birth whose line is to be ``typed`` comes before any other: hands first, then the pen.
    """
    births = sorted(_told_alone(night), key=lambda entry: entry.id not in typed)
    for entry in births:
        if not night.in_hands(entry.recorded) and act_of_birth(night, entry) is not None:
            at = entry.recorded
            yield Stop(at, "act", at - timedelta(seconds=1), entry=entry.id)
            break
    seen = set[str]()
    for stop in sorted(levels, key=lambda stop: stop.at):
        if stop.rise is None or stop.rise.rule.id in seen:
            continue
        if act_of_alert(night, stop.rise, night.verdict(stop.at)) is not None:
            seen.add(stop.rise.rule.id)
            yield Stop(stop.at, "act", stop.at, rise=stop.rise)


def _lines(night: PastNight) -> Iterator[Stop]:
    """Where to ask for a line: the birth that tells most, then other kinds, spread out."""
    told = _told_alone(night)
    births = [entry for entry in told if entry.what.kind == "birth"]
    births.sort(key=lambda entry: -len(facts_of(entry.what)))
    others = [entry for entry in told if entry.what.kind not in {"birth", "contraction", "rest"}]
    middle = others[len(others) // 2 :] + others[: len(others) // 2]
    asked = {entry.id: entry for entry in (*births[:1], *middle, *told)}
    for entry in asked.values():
        if can_be_typed(night, entry):
            at = entry.recorded
            yield Stop(at, "line", at - timedelta(seconds=1), entry=entry.id)


def _told_alone(night: PastNight) -> list[Entry]:
    """The lines of the night that make a scene, each the only one typed at its second."""
    typed = night.typed(None, night.end)
    times = Counter(entry.recorded for entry in typed)
    return [
        entry
        for entry in typed
        if entry.recorded >= night.begins
        and times[entry.recorded] == 1
        and scene(entry) is not None
    ]


def _add(taken: dict[datetime, Rise | None], moments: Iterable[datetime | None], most: int) -> None:
    """Take so many more of the moments, none too close to another."""
    added = 0
    for at in moments:
        if added < most and at is not None and _is_free(taken, at):
            taken[at] = None
            added += 1


def _is_free(taken: Iterable[datetime], at: datetime) -> bool:
    return all(abs(at - other) >= _APART for other in taken)


def _spread(found: Sequence[T]) -> list[T]:
    """The same, so ordered that any few from the front lie far apart."""
    halves = (int(_reversed_bits(turn) * len(found)) for turn in range(1, 2 * len(found) + 1))
    order = dict.fromkeys([*halves, *range(len(found))])
    return [found[place] for place in order]


def _reversed_bits(number: int) -> float:
    """The digits of a number in base two, turned round behind the point: 1/2, 1/4, 3/4 ..."""
    return sum(2.0 ** -(place + 1) for place, bit in enumerate(bin(number)[:1:-1]) if bit == "1")


def _thinned(found: list[T], most: int) -> list[T]:
    step = max(1, -(-len(found) // most))
    return found[::step]


def _first(found: Iterable[T], most: int) -> list[T]:
    return [one for one, _ in zip(found, range(most), strict=False)]
