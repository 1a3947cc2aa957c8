"""What had been told by one instant, and plain questions about it. No state is kept anywhere."""

from collections.abc import Callable, Iterable
from datetime import datetime, timedelta
from functools import wraps
from typing import Any, Generic, NamedTuple, TypeVar, cast

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Birth,
    Caesarean,
    Contraction,
    DamState,
    Death,
    Finished,
    Milestone,
    Part,
    Sac,
    Waters,
    What,
)
from boxlamp.model.levels import Level

W = TypeVar("W", bound=What)
W_co = TypeVar("W_co", bound=What, covariant=True)
F = TypeVar("F", bound=Callable[..., Any])
SECOND = timedelta(seconds=1)
Levels = dict[str, Level]
"""The level that stands, by subject; of a reminder by subject and clock."""


class Known(tuple[Entry, ...]):  # noqa: SLOT001  (it holds the answers as well)
    """Entries in canonical order, and the answers already found in them.

    A judge asks the same of the same entries at many instants: what does not depend on the instant
    is worked out once. It is no state: the same entries always give the same answer.
    """

    found: dict[object, Any]

    def __init__(self, _entries: Iterable[Entry] = ()) -> None:
        self.found = {}

    def first(self, many: int) -> "Known":
        """The first so many of them, the same object each time."""
        if many == len(self):
            return self
        if many not in self.found:
            self.found[many] = Known(self[:many])
        begun: Known = self.found[many]
        return begun


class Then(NamedTuple):
    """Everything written down of the time up to an instant, in canonical order."""

    known: Known
    now: datetime

    def before(self, place: int) -> "Then":
        """What was known just when the entry at this place was taken in, that entry included."""
        return Then(self.known.first(place + 1), self.known[place].at)


def once(function: F) -> F:
    """Answer a question that does not depend on the instant once for the same entries."""

    @wraps(function)
    def answer(then: Then, *args: object) -> object:
        found, key = then.known.found, (function, args)
        if key not in found:
            found[key] = function(then, *args)
        return found[key]

    return cast("F", answer)


class Said(NamedTuple, Generic[W_co]):
    """One thing that was said: when, what, and its place in the order."""

    at: datetime
    what: W_co
    place: int


@once
def every(then: Then, kind: type[W]) -> list[Said[W]]:
    """All of one kind, in order."""
    return [
        Said(entry.at, entry.what, place)
        for place, entry in enumerate(then.known)
        if isinstance(entry.what, kind)
    ]


@once
def births(then: Then) -> dict[int, Said[Birth]]:
    """The birth of every pup, by its number."""
    return {said.what.pup: said for said in every(then, Birth)}


@once
def of_pup(then: Then, pup: int, kind: type[W]) -> list[Said[W]]:
    """All of one kind that was said of a pup. What comes before its birth counts for nothing."""
    born = births(then)[pup].place
    return [
        said
        for said in every(then, kind)
        if getattr(said.what, "pup", None) == pup and said.place > born
    ]


@once
def died(then: Then, pup: int) -> datetime | None:
    """When a pup died: at its birth, or as was written down first."""
    birth = births(then)[pup]
    if birth.what.state == "dead":
        return birth.at
    return next((said.at for said in of_pup(then, pup, Death)), None)


@once
def left(then: Then, pup: int) -> bool:
    """Whether a pup has left home: said of it, or of the litter while it was there."""
    born = births(then)[pup]
    return any(
        said.what.milestone == "left-home"
        and said.place > born.place
        and (
            said.what.pup == pup
            or (said.what.pup is None and died(then.before(said.place), pup) is None)
        )
        for said in every(then, Milestone)
    )


@once
def here(then: Then) -> list[int]:
    """The pups that are alive and in this house."""
    return [pup for pup in births(then) if died(then, pup) is None and not left(then, pup)]


@once
def last_birth(then: Then) -> datetime | None:
    """When the latest pup was born."""
    return max((said.at for said in births(then).values()), default=None)


def standing(then: Then, signs: set[str], ended_by: set[str]) -> list[Said[DamState]]:
    """Lines that show one of these signs in the dam and that no later line has ended."""
    lines = every(then, DamState)
    end = max((line.place for line in lines if ended_by & set(line.what.signs)), default=-1)
    return [line for line in lines if signs & set(line.what.signs) and line.place >= end]


def over(then: Then, calm: timedelta) -> bool:
    """Whether the whelping is over for her: called finished, or calm for so long after a birth.

    Called finished it stays over until another birth or a caesarean. Waters, a sac and a part are
    as little calm as a push; after a caesarean nothing is labour any more, and its pups are born
    in that calm.
    """
    pups, cuts = every(then, Birth), every(then, Caesarean)
    last = max((said.place for said in (*pups, *cuts)), default=-1)
    if any(said.place > last for said in every(then, Finished)):
        return True
    first_cut = min((said.place for said in cuts), default=len(then.known))
    work = [entry.at for place, entry in enumerate(then.known)
            if isinstance(entry.what, WORK) and place < first_cut]  # fmt: skip
    done = [said.at for said in (*pups, *cuts)]
    return bool(done) and then.now >= max(done + work) + calm


WORK = (Contraction, Waters, Sac, Part)
"""What shows that she is in labour, beside a birth."""


@once
def cut_open(then: Then) -> bool:
    """Whether a caesarean was done."""
    return bool(every(then, Caesarean))


@once
def whelped(then: Then) -> datetime | None:
    """When the last pup came or she was cut open; of a log of neither the first ``finished``."""
    came = [said.at for said in (*every(then, Birth), *every(then, Caesarean))]
    return max(came, default=next((said.at for said in every(then, Finished)), None))
