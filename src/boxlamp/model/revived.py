"""A pup that was written down as dead and breathes after all: what its death was instead.

Nobody breathes after a death. So a ``breathing`` that comes after one shows what was seen then:
a pup that was born limp, or that had stopped breathing. The lines stay as they were typed; to
every reader of a story they say that, and no rule knows of dead pups that come back.
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from datetime import UTC, datetime

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Amend, Birth, Death, PupState, Step, Strike, What

_EVER = datetime.min.replace(tzinfo=UTC)


def alive_after_all(entries: tuple[Entry, ...]) -> tuple[Entry, ...]:
    """These entries, in canonical order, with every death before a breath told as what it was."""
    if not any(_dead(entry.what) for entry in entries):
        return entries
    return tuple(reversed([*_backwards(entries)]))


def _backwards(entries: tuple[Entry, ...]) -> Iterator[Entry]:
    breathed: set[int] = set()
    for entry in reversed(entries):
        what = entry.what
        dead = _dead(what)
        if isinstance(what, Step) and what.step == "breathing":
            breathed.add(what.pup)
        if dead in breathed and isinstance(what, Birth):
            yield entry.model_copy(update={"what": what.model_copy(update={"state": "limp"})})
        elif dead is not None and dead in breathed:
            state = PupState(pup=dead, signs=("not-breathing",))
            yield entry.model_copy(update={"what": state})
        else:
            yield entry
        if isinstance(what, Birth):
            breathed.discard(what.pup)


def _dead(what: What) -> int | None:
    """The pup that is said to be dead, if any."""
    match what:
        case Death(pup=pup) | Birth(pup=pup, state="dead"):
            return pup
        case _:
            return None


def returns(entries: Sequence[Entry]) -> frozenset[int]:
    """Numbers of the entries that may bring a pup back: typing one changes what went before.

    Where a correction moves or makes a death or a breath, it may lie at any time; and a birth
    that a correction is about keeps nothing apart.
    """
    moved = any(isinstance(entry.what, Amend) and entry.what.retimed for entry in entries)
    wrong = {e.what.target for e in entries if isinstance(e.what, Amend | Strike)}
    died, born = defaultdict[int, list[datetime]](list), defaultdict[int, list[datetime]](list)
    for entry in entries:
        what = said(entry)
        pup = _dead(what)
        if pup is not None:
            died[pup].append(_EVER if moved or isinstance(entry.what, Amend) else entry.at)
        if isinstance(entry.what, Birth) and not moved and entry.id not in wrong:
            born[entry.what.pup].append(entry.at)

    def breathes_after(entry: Entry) -> bool:
        what = said(entry)
        if not isinstance(what, Step) or what.step != "breathing" or what.pup not in died:
            return False
        if isinstance(entry.what, Amend):
            return True
        again = max((at for at in born[what.pup] if at <= entry.at), default=_EVER)
        return any(again <= at <= entry.at or at == _EVER for at in died[what.pup])

    return frozenset(entry.id for entry in entries if breathes_after(entry))


def said(entry: Entry) -> What:
    """What an entry says of the world; of an amend, what it puts into the record."""
    what = entry.what
    return what.what if isinstance(what, Amend) and what.what is not None else what
