"""Signs that weigh more together: two in one pup, or one in each of two pups."""

from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta
from typing import NamedTuple

from boxlamp.model.entry import Entry
from boxlamp.model.levels import LITTER
from boxlamp.rules.sickness import AGAIN, LASTING
from boxlamp.rules.spell import Spell, Yardstick, span

PAIR, SEVERAL = "two-signs", "litter"
_SOFT = frozenset(
    {"crying", "not-suckling", "weak", "diarrhoea", "cold", "no-stool", "sleeps-still"}
)
"""Signs that are only watched when they come alone."""

_OVER, _COUNTS, _ADVISED = range(3)
"""What can happen in one instant, in this order."""


class Bout(NamedTuple):
    """One sign in one pup, from when it counts until it is over.

    ``last`` is when it was last written down.
    """

    subject: str
    sign: str
    counts: datetime
    last: datetime
    end: datetime
    opened: tuple[int, ...]
    closed: tuple[int, ...]


def bouts(spells: Iterable[Spell], yardstick: Yardstick, rule: str) -> list[Bout]:
    """The signs that stood, each from first to last, in order of time.

    A sign counts from when it was written down; one that is ordinary for a while, such as
    crying, once it has gone on for longer than that.
    """
    found: dict[tuple[str, str, datetime], Bout] = {}
    for spell in sorted(spells, key=lambda spell: (spell.start, spell.subject, spell.clock)):
        if spell.clock in LASTING or spell.clock == AGAIN or spell.end is None:
            continue
        name = f"{spell.clock}-counts-after"
        wait = span(yardstick, rule, name) if yardstick.has(rule, name) else timedelta(0)
        key = spell.subject, spell.clock, spell.since
        bout = found.get(key)
        opened = bout.opened if bout else spell.opened
        found[key] = Bout(
            *key[:2], spell.since + wait, spell.start, spell.end, opened, spell.closed
        )
    return sorted(
        (bout for bout in found.values() if bout.counts < bout.end),
        key=lambda bout: (bout.counts, bout.subject, bout.sign),
    )


def pairs(found: Iterable[Bout], within: timedelta, rule: str) -> Iterator[Spell]:
    """While two different soft signs stand in one pup that came within so long of each other."""
    soft = [bout for bout in found if bout.sign in _SOFT]
    for one, other in _close(soft, within):
        if one.subject == other.subject and one.sign != other.sign:
            end = min(one.end, other.end)
            start, said = other.counts, f"{one.sign} and {other.sign}".replace("-", " ")
            opened, closed = (*one.opened, *other.opened), min(one, other, key=_end).closed
            yield Spell(rule, one.subject, PAIR, start, start, end, opened, closed, said)


def _close(found: list[Bout], within: timedelta) -> Iterator[tuple[Bout, Bout]]:
    """Every two bouts of which the later one came while the earlier one stood, soon after it."""
    for place, one in enumerate(found):
        for later in range(place + 1, len(found)):
            other = found[later]
            if other.counts >= one.end or other.counts - one.counts > within:
                break
            yield one, other


class _Event(NamedTuple):
    """A moment at which the number of sick pups changes, or a vet advises."""

    at: datetime
    order: int
    bout: Bout | None


def several(
    found: Iterable[Bout], within: timedelta, rule: str, deaths: set[int], vets: Iterable[Entry]
) -> Iterator[Spell]:
    """While two pups or more have been ill within so long of each other, until a vet advises.

    A pup that has died of it, or of which nobody has written since, counts until then as well.
    """
    events = [_Event(vet.at, _ADVISED, None) for vet in vets]
    for bout in found:
        over = bool(bout.closed) and not deaths & set(bout.closed)
        end = bout.end if over else bout.last + within
        events += [_Event(bout.counts, _COUNTS, bout), _Event(end, _OVER, bout)]
    ill: list[Bout] = []
    stands: Spell | None = None
    for event in sorted(events, key=lambda event: event[:2]):
        _count(ill, event)
        told = _told(rule, ill, event, stands)
        if stands is not None and (told is None or told.detail != stands.detail):
            if stands.start < event.at:
                yield stands._replace(end=event.at)
            stands = told
        elif stands is None:
            stands = told


def _count(ill: list[Bout], event: _Event) -> None:
    if event.bout is not None and event.order == _OVER:
        ill.remove(event.bout)
    elif event.bout is not None:
        ill.append(event.bout)


def _told(rule: str, ill: list[Bout], event: _Event, before: Spell | None) -> Spell | None:
    """The spell of the whole litter after this event; only a new sign begins one."""
    spreads = len({one.subject for one in ill}) > 1
    if not spreads or event.bout is None or (before is None and event.order == _OVER):
        return None
    return _of(rule, ill, event.at, before)


def _of(rule: str, ill: list[Bout], at: datetime, before: Spell | None) -> Spell:
    """The spell of the whole litter from this moment on, with the pups it is about."""
    numbers = sorted({int(bout.subject.removeprefix("pup ")) for bout in ill})
    *most, last = map(str, numbers)
    opened = tuple(dict.fromkeys(number for bout in ill for number in bout.opened))
    since = before.since if before is not None else at
    detail = f"pups {', '.join(most)} and {last}"
    return Spell(rule, LITTER, SEVERAL, since, at, None, opened, detail=detail)


def _end(bout: Bout) -> datetime:
    return bout.end
