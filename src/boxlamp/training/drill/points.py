"""Where a night stops to ask: the same night, the same stops.

Most stops ask for a level: where a level was reached, a little before it (where less is still
right), some time after it, and on enough calm moments that "carry on" is often right, so that
the stop itself gives nothing away. A few ask for the first thing to do, or for a line to type.
How many of each is our own choice; so are the minutes before and after.
"""

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime, timedelta
from itertools import pairwise
from typing import Literal, NamedTuple, TypeVar
from zlib import crc32

from boxlamp.model.levels import Level
from boxlamp.training.drill.acts import act_of_alert, act_of_birth
from boxlamp.training.drill.night import Choice, PastNight, Rise
from boxlamp.training.drill.scenes import can_be_typed, facts_of, scene

MOST = 14
"""Stops in one night, of every kind."""
_RISES, _BEFORE, _AFTER, _WATCHES, _CALM = 4, 2, 1, 3, 3
_LEVELS, _EACH = 10, 2
_LEAD, _LATER = (2, 7), (6, 15)
"""Between so many minutes before a limit, and after it: another number at each."""
_APART = timedelta(seconds=90)
_LOOKED_AT = 40

T = TypeVar("T")
Kind = Literal["line", "level", "act"]
_ORDER: tuple[Kind, ...] = ("line", "level", "act")


class Stop(NamedTuple):
    """One stop: the second at which the night stands still, and what is asked there.

    ``known`` is the second up to which what was typed is shown; it is ``at``, but a second less
    where the person is to type what happens. ``entry`` is the number of the line a question is
    made of. ``rise`` is the rise that comes at this very second.
    """

    at: datetime
    kind: Kind
    known: datetime
    entry: int | None = None
    rise: Rise | None = None


def stops_of(night: PastNight) -> tuple[Stop, ...]:
    """The stops of a night in order of time; none where nothing happened."""
    levels = _levels(night)
    extras = [*_first(_lines(night), _EACH), *_first(_acts(night, levels), _EACH)]
    room = max(0, MOST - len(levels))
    # Lines and acts take turns until the night is full.
    turns = sorted(range(len(extras)), key=lambda place: (_turn(extras, place), place))
    chosen = [extras[place] for place in turns[:room]]
    return tuple(sorted([*levels, *chosen], key=lambda stop: (stop.at, _ORDER.index(stop.kind))))


def _turn(extras: Sequence[Stop], place: int) -> int:
    return sum(stop.kind == extras[place].kind for stop in extras[:place])


def _levels(night: PastNight) -> list[Stop]:
    """The stops that ask for a level."""
    rises = [rise for rise in night.rises if _open_to_choice(night, rise.at)]
    turns = _first(_important(rises), _RISES)
    taken: dict[datetime, Rise | None] = {rise.at: rise for rise in turns}
    _add(taken, (_before(night, rise) for rise in sorted(turns)), _BEFORE)
    _add(taken, (_after(night, rise) for rise in sorted(turns)), _AFTER)
    calm = _calm(night)
    _add(taken, calm, _CALM)
    watches = _spread([rise for rise in rises if rise.level is Level.WATCH])
    watches.sort(key=lambda rise: (rise.since == rise.at, rise.rule.urgency == "records"))
    for rise in watches[:_WATCHES]:
        if len(taken) < _LEVELS and _is_free(taken, rise.at):
            taken[rise.at] = rise
            _add(taken, [_before(night, rise)], 1)
    _add(taken, calm, _LEVELS - len(taken))
    return [Stop(at, "level", at, rise=rise) for at, rise in taken.items()]


def _open_to_choice(night: PastNight, at: datetime) -> bool:
    return night.begins <= at <= night.end and not night.in_hands(at)


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


def _before(night: PastNight, rise: Rise) -> datetime | None:
    """A few minutes before a limit, on a clock that already runs; less is right there."""
    ran = rise.at - rise.since
    at = _whole(rise.at - min(_minutes(_LEAD, rise), ran / 3))
    good = rise.since < at < rise.at and _open_to_choice(night, at)
    return at if good and night.right(at) < rise.level else None


def _after(night: PastNight, rise: Rise) -> datetime | None:
    """Some time after, while it still stands and has not grown worse."""
    at = _whole(rise.at + min(_minutes(_LATER, rise), (rise.until - rise.at) / 2))
    good = rise.at < at < rise.until and _open_to_choice(night, at)
    return at if good and night.right(at) == Choice(rise.level) else None


def _minutes(span: tuple[int, int], rise: Rise) -> timedelta:
    """A number of minutes that looks like chance and is always the same for the same rise."""
    least, most = span
    return timedelta(minutes=least + crc32(f"{rise.rule.id} {rise.at}".encode()) % (most - least))


def _calm(night: PastNight) -> list[datetime]:
    """Moments at which carrying on is right, far apart; those where nothing stands at all first.

    Last come those of a mere watch: she may be overdue all night long.
    """
    clear, known, watched = list[datetime](), list[datetime](), list[datetime]()
    for at in _spread(_quiet(night)):
        fair = night.fair(at) if _open_to_choice(night, at) else frozenset({Choice.GO})
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
    return _thinned([_whole(a + (b - a) * 2 / 3) for a, b in pauses], _LOOKED_AT)


def _acts(night: PastNight, levels: Sequence[Stop]) -> Iterator[Stop]:
    """Where to ask for the first thing to do: at a birth, and where a level has just risen."""
    births = [
        entry
        for entry in night.typed(None, night.end)
        if act_of_birth(night, entry) is not None and _open_to_choice(night, entry.recorded)
    ]
    # A pup in its sac or limp teaches more than one that cries.
    births.sort(key=lambda entry: not {"in_sac", "state"} & facts_of(entry.what).keys())
    yield from (Stop(e.recorded, "act", e.recorded, entry=e.id) for e in births[:1])
    risen = [stop for stop in levels if stop.rise is not None]
    # The level has just been told, so "ring" and "leave" would be no question.
    risen.sort(key=lambda stop: (stop.rise is not None and _is_plain(stop.rise), stop.at))
    by_rule = {stop.rise.rule.id: stop for stop in reversed(risen) if stop.rise is not None}
    yield from (
        Stop(stop.at, "act", stop.at, rise=stop.rise)
        for stop in risen
        if stop in by_rule.values() and act_of_alert(night, stop.rise) is not None
    )


def _is_plain(rise: Rise) -> bool:
    first = " ".join(rise.rule.steps(rise.level)[:1])
    return first.startswith(("Ring the vet", "Leave for the vet"))


def _lines(night: PastNight) -> Iterator[Stop]:
    """Where to ask for a line: the birth that tells most, then other kinds, spread out."""
    typed = night.typed(None, night.end)
    seconds = [entry.recorded for entry in typed]
    told = [
        entry
        for entry in typed
        if entry.recorded >= night.begins
        and seconds.count(entry.recorded) == 1
        and scene(entry) is not None
    ]
    births = [entry for entry in told if entry.what.kind == "birth"]
    births.sort(key=lambda entry: -len(facts_of(entry.what)))
    others = [entry for entry in told if entry.what.kind not in {"birth", "contraction", "rest"}]
    middle = others[len(others) // 2 :] + others[: len(others) // 2]
    asked = {entry.id: entry for entry in (*births[:1], *middle, *told)}
    for entry in asked.values():
        if can_be_typed(night, entry):
            at = entry.recorded
            yield Stop(at, "line", at - timedelta(seconds=1), entry=entry.id)


def _add(taken: dict[datetime, Rise | None], moments: Iterable[datetime | None], most: int) -> None:
    """Take so many more of the moments, none too close to another."""
    added = 0
    for at in moments:
        if added < most and at is not None and _is_free(taken, at):
            taken[at] = None
            added += 1


def _is_free(taken: Iterable[datetime], at: datetime) -> bool:
    return all(abs(at - other) >= _APART for other in taken)


def _whole(at: datetime) -> datetime:
    """To the minute when that is not far off, for a person looks at a clock of minutes."""
    return at.replace(second=0, microsecond=0)


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
