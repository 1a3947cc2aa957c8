"""A pup that was written down as dead and breathes after all: what its death was instead.

Nobody breathes after a death. So a ``breathing`` that comes after one shows what was seen then:
a pup that was born limp, or that had stopped breathing. The lines stay as they were typed; to
every reader of a story they say that, and no rule knows of dead pups that come back.
"""

from collections.abc import Iterable, Iterator

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Amend, Birth, Death, PupState, Step, What


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


def returns(entries: Iterable[Entry]) -> frozenset[int]:
    """Numbers of the entries that may bring a pup back: typing one changes what went before."""
    every = [(entry.id, said(entry)) for entry in entries]
    dead = {_dead(what) for _, what in every}
    return frozenset(
        number
        for number, what in every
        if isinstance(what, Step) and what.step == "breathing" and what.pup in dead
    )


def said(entry: Entry) -> What:
    """What an entry says of the world; of an amend, what it puts into the record."""
    what = entry.what
    return what.what if isinstance(what, Amend) and what.what is not None else what
