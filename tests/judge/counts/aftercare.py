"""What is owed and what is due after a whelping: afterbirths, the vet's look, pups left inside."""

from datetime import datetime
from typing import NamedTuple

from boxlamp.model.happenings import (
    Afterbirth,
    Birth,
    Caesarean,
    Contraction,
    DamState,
    Discharge,
    Finished,
    PupState,
    Rest,
    Treatment,
    VetContact,
)
from boxlamp.model.levels import DAM, Level
from judge.counts.dam import BETTER, foul_now, readings
from judge.counts.numbers import banded, expected, limit, number, reached, span
from judge.counts.told import (
    WORK,
    Levels,
    Said,
    Then,
    births,
    cut_open,
    died,
    every,
    last_birth,
    of_pup,
    once,
    standing,
)


class Afterbirths(NamedTuple):
    """Pups that owe one, pups whose afterbirth was looked for and not seen, and how many spare."""

    owed: list[int]
    not_seen: list[int]
    spare: int


@once
def afterbirths(then: Then) -> Afterbirths:
    """Count the births against the afterbirths, from the beginning, by hand.

    One without a name settles the oldest debt, and so does one that names a pup nobody has
    written down. "Not seen" is an answer, and a later one of that pup's number takes it back.
    After a caesarean nothing is owed.
    """
    owed: list[int] = []
    not_seen: list[int] = []
    spare = 0
    cut = False
    for entry in then.known:
        what = entry.what
        if isinstance(what, Caesarean):
            cut, owed, not_seen = True, [], []
        elif isinstance(what, Birth) and not cut:
            if spare:
                spare -= 1
            else:
                owed.append(what.pup)
                owed.sort(key=lambda pup: (births(then)[pup].at, pup))
        elif isinstance(what, Afterbirth):
            for turn in range(what.count):
                named = what.of if turn == 0 else None
                known = (
                    named is not None
                    and named in births(then)
                    and (births(then)[named].at <= entry.at)
                )
                if known and named is not None and named not in {*owed, *not_seen}:
                    spare += what.fate != "not-seen"
                    continue
                pup = named if known else next(iter(owed), None)
                if pup is None:
                    spare += what.fate != "not-seen"
                    continue
                owed = [one for one in owed if one != pup]
                not_seen = [one for one in not_seen if one != pup]
                if what.fate == "not-seen":
                    not_seen.append(pup)
    return Afterbirths(owed, not_seen, spare)


def behind(then: Then) -> Levels:
    """Three or more owed at once."""
    many = int(number("afterbirths-behind", "how-many"))
    return {DAM: Level.WATCH} if len(afterbirths(then).owed) >= many else {}


def surplus(then: Then) -> Levels:
    """More afterbirths than births. After a caesarean this count means nothing."""
    return {DAM: Level.WATCH} if afterbirths(then).spare and not cut_open(then) else {}


def missing_at_end(then: Then) -> Levels:
    """One is owed and the whelping looks over: counted from the last birth. Go when she is ill.

    "Not seen" ends the clock but not the danger: while she is ill it counts until a vet has seen
    her after the last pup or has called her finished.
    """
    rule, born, count = "afterbirth-missing-at-end", last_birth(then), afterbirths(then)
    if born is None or not looks_over(then):
        return {}
    levels = []
    if count.owed:
        levels.append(reached(rule, "main", then.now - born))
    if (count.owed or (count.not_seen and not _looked(then))) and _seems_ill(then, born):
        levels.append(Level.GO)
    best = max((level for level in levels if level is not None), default=None)
    return {} if best is None else {DAM: best}


def looks_over(then: Then) -> bool:
    """Called finished, or the counted number is born and she rests or nothing comes for an hour.

    A push, waters, a sac or a part after it shows that it was not over. Called finished once, an
    hour of calm is enough to end it again after another birth (so say the rule's cases; the
    catalogue is silent).
    """
    last = max(said.place for said in every(then, Birth))
    ends = every(then, Finished)
    if any(said.place > last for said in ends):
        return True
    count = expected(then)
    counted = count is not None and count[1] != "guess" and len(births(then)) >= count[0]
    if not counted and not ends:
        return False
    work = [said for kind in (Birth, *WORK) for said in every(then, kind)]
    rests = any(said.place > max(one.place for one in work) for said in every(then, Rest))
    calm = then.now >= max(said.at for said in work) + span("afterbirth-missing-at-end", "calm")
    return calm or (counted and rests)


@once
def _looked(then: Then) -> bool:
    """Whether a vet has seen her after the last pup, or has called her finished."""
    last = max(said.place for said in every(then, Birth))
    return any(
        said.place > last and said.what.contact in {"seen", "arrived"}
        for said in every(then, VetContact)
    ) or any(said.place > last and said.what.by != "breeder" for said in every(then, Finished))


def _seems_ill(then: Then, born: datetime) -> bool:
    """A fever, a foul discharge, dullness, pushing after ``finished``, or green a day later.

    Bright or recovered ends dullness, and pushing too (the catalogue is silent of the second).
    """
    rule, taken = "afterbirth-missing-at-end", readings(then)
    # A discharge whose colour nobody named says nothing of it; that there is none does.
    seen = [
        said
        for said in every(then, Discharge)
        if said.what.colour != "unknown" or said.what.amount == "none"
    ]
    fever = bool(taken) and banded(rule, "fever", taken[-1].what.celsius) is not None
    green = (
        bool(seen)
        and seen[-1].what.colour in {"green", "black"}
        and seen[-1].what.amount != "none"
        and seen[-1].at >= born + span(rule, "green-after")
    )
    last = max(said.place for said in every(then, Birth))
    ends = [said.place for said in every(then, Finished) if said.place > last]
    better = max((said.place for said in every(then, DamState)
                  if set(said.what.signs) & BETTER), default=-1)  # fmt: skip
    pushes = bool(ends) and any(
        said.place > max(ends[0], better) for said in every(then, Contraction)
    )
    return fever or foul_now(then) or bool(standing(then, {"dull"}, BETTER)) or green or pushes


def litter_short(then: Then) -> Levels:
    """Fewer born than counted: once finished by the breeder, or after the long calm.

    The newest ``finished`` since the last birth says who has looked. Pups of a caesarean begin
    no calm.
    """
    count = expected(then)
    if count is None or count[1] == "guess" or len(births(then)) >= count[0]:
        return {}
    pups, cuts = every(then, Birth), every(then, Caesarean)
    last = max((said.place for said in (*pups, *cuts)), default=-1)
    ends = [said for said in every(then, Finished) if said.place > last]
    if ends:
        level = Level.CALL if count[1] == "xray" else Level.WATCH
        return {DAM: level} if ends[-1].what.by == "breeder" else {}
    pushed = any(said.place > last for said in every(then, Contraction))
    if not pups or cuts or pushed or count[1] != "xray":
        return {}
    calm = then.now - pups[-1].at >= limit(then, "litter-short", "calm", Level.CALL)
    return {DAM: Level.CALL} if calm else {}


def vet_check(then: Then) -> Levels:
    """No vet since ``finished``: a day; two days, when the night was not smooth.

    Ended by a vet who saw her after the last pup, who called her finished, or who cut her open.
    """
    last = max((said.place for said in every(then, Birth)), default=-1)
    ends = [said for said in every(then, Finished) if said.place > last]
    if not ends or cut_open(then) or _seen_since(then, last, ends):
        return {}
    elapsed = then.now - ends[0].at
    levels = [reached("vet-check-due", "main", elapsed)]
    if _not_smooth(then):
        levels.append(reached("vet-check-due", "helped", elapsed))
    best = max((level for level in levels if level is not None), default=None)
    return {} if best is None else {DAM: best}


def _seen_since(then: Then, last: int, ends: list[Said[Finished]]) -> bool:
    return any(said.what.by != "breeder" for said in ends) or any(
        said.place > last and said.what.contact in {"seen", "arrived"}
        for said in every(then, VetContact)
    )


@once
def _not_smooth(then: Then) -> bool:
    """An afterbirth not seen, a pup dead or in need of help, or something given."""
    count = afterbirths(then)
    helped = any(said.what.state == "limp" for said in births(then).values()) or any(
        set(said.what.signs) & {"limp", "gasping", "not-breathing", "blue"}
        for pup in births(then)
        for said in of_pup(then, pup, PupState)
    )
    dead = any(died(then, pup) is not None for pup in births(then))
    return bool(count.owed or count.not_seen or every(then, Treatment) or helped or dead)
