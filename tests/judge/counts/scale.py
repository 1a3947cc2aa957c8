"""What the scale says: birth weight, loss, growth, and whether a pup is due on it."""

import unicodedata
from collections.abc import Callable
from datetime import datetime, timedelta
from decimal import Decimal
from typing import NamedTuple

from boxlamp.model.happenings import Birth, Caesarean, Finished, Weight
from boxlamp.model.levels import LITTER, Level, pup_subject
from judge.counts.numbers import banded, details, number, plain_limit, span
from judge.counts.told import WORK, Levels, Then, births, every, here, of_pup, once
from support.nights import DEFAULT


class Weighing(NamedTuple):
    """One weight of a pup: when, how much, and its place in the order."""

    at: datetime
    grams: Decimal
    place: int


@once
def weights(then: Then, pup: int) -> list[Weighing]:
    """Every weight of a pup, the one of its birth included."""
    birth = births(then)[pup]
    first = (
        [] if birth.what.weight is None else [Weighing(birth.at, birth.what.weight, birth.place)]
    )
    return first + [
        Weighing(one.at, one.what.grams, one.place) for one in of_pup(then, pup, Weight)
    ]


def _age(then: Then, pup: int, at: datetime) -> timedelta:
    return at - births(then)[pup].at


# --- birth weight --------------------------------------------------------------------------


@once
def birth_grams(then: Then, pup: int) -> Decimal | None:
    """The first weight, if it was taken within twelve hours of the birth."""
    taken = weights(then, pup)
    within = span("birth-weight", "birth-within")
    return taken[0].grams if taken and _age(then, pup, taken[0].at) <= within else None


EVERYDAY = {"westie": "west highland white terrier", "labrador": "labrador retriever"}
"""Everyday names that the nights of the tests use, written down here afresh."""


@once
def breed_of(then: Then) -> str:
    """The dam's breed in small letters, without accents and hyphens."""
    plain = unicodedata.normalize("NFKD", details(then).breed or "").replace("-", " ")
    name = " ".join("".join(c for c in plain if not unicodedata.combining(c)).lower().split())
    return EVERYDAY.get(name, name)


Limits = Callable[[Decimal], Level | None]


@once
def reference(then: Then) -> Limits | None:
    """The best reference known now: limits or mean of the breed, size of the dam, the litter."""
    rule, breed = "birth-weight", breed_of(then)
    if (rule, breed) in DEFAULT.bands and breed not in {"small", "medium", "large", "litter"}:
        return lambda grams: banded(rule, breed, grams)
    mean = details(then).breed_birth_weight or DEFAULT.numbers.get((rule, f"mean {breed}"))
    if mean is not None:
        return lambda grams: banded(rule, "breed mean", grams / mean)
    size = _size(then)
    if size is not None:
        return lambda grams: banded(rule, size, grams)
    litter = [
        grams
        for pup, birth in births(then).items()
        if birth.what.state != "dead" and (grams := birth_grams(then, pup)) is not None
    ]
    if len(litter) < number(rule, "litter-least"):
        return None
    whole = sum(litter)
    return lambda grams: banded(rule, "litter", grams * len(litter) / whole)


@once
def _size(then: Then) -> str | None:
    """By the weight given for her, else the last one after a birth: heavy with pups says nothing.

    That a given weight comes before one on the scale the catalogue does not say.
    """
    first = min((said.place for said in births(then).values()), default=len(then.known))
    weighed = [said.what.grams for said in every(then, Weight)
               if said.what.pup is None and said.place > first]  # fmt: skip
    grams = details(then).weight or next(reversed(weighed), None)
    if grams is None:
        return None
    kilos = grams / 1000
    if kilos < number("birth-weight", "small-under"):
        return "small"
    return "large" if kilos > number("birth-weight", "large-over") else "medium"


def light(then: Then, pup: int) -> Level | None:
    """Watch when it was low at birth, call when very low, as long as that says something."""
    grams, limits = birth_grams(then, pup), reference(then)
    if grams is None or limits is None or births(then)[pup].what.state == "dead":
        return None
    level = limits(grams)
    if level is None or pup not in here(then):
        return None
    name = "low" if level is Level.WATCH else "very-low"
    rule = "birth-weight"
    if _age(then, pup, then.now) >= span(rule, f"{name}-until"):
        return None
    settled = span(rule, f"{name}-settled")
    for one in weights(then, pup):
        grown = limits(one.grams) is None
        if grown or (_age(then, pup, one.at) >= settled and one.grams > grams):
            return None
    return level


def birth_weight(then: Then) -> Levels:
    """All low pups share one watch; each very low pup has a call of its own."""
    levels = {pup: light(then, pup) for pup in births(then)}
    found = {pup_subject(pup): level for pup, level in levels.items() if level is Level.CALL}
    return found | ({LITTER: Level.WATCH} if Level.WATCH in levels.values() else {})


# --- growth --------------------------------------------------------------------------------


def _each(then: Then, judge: Callable[[Then, int], Level | None]) -> Levels:
    levels = {pup: judge(then, pup) for pup in here(then)}
    return {pup_subject(pup): level for pup, level in levels.items() if level is not None}


def loss(then: Then) -> Levels:
    """The last weight against the birth weight, by the pup's age at it."""
    return _each(then, _lost)


def _lost(then: Then, pup: int) -> Level | None:
    taken = weights(then, pup)
    if len(taken) < 2:
        return None
    first, last = taken[0], taken[-1]
    # A first weight that came late is one of a pup twelve hours old.
    late = birth_grams(then, pup) is None
    age = last.at - first.at + timedelta(hours=12) if late else _age(then, pup, last.at)
    percent = (last.grams - first.grams) * 100 / first.grams
    names = ("72 h on", "36-72 h", "0-36 h")
    name = next(name for name in names if age >= span("weight-loss", f"from {name}"))
    return banded("weight-loss", name, percent)


def stalled(then: Then) -> Levels:
    """Against the weight of about a day before; from three days on against one of two days."""
    return _each(then, _stalled)


def _stalled(then: Then, pup: int) -> Level | None:
    """Each clock by itself; the graver of both."""
    levels = (_stalled_by(then, pup, clock) for clock in ("day", "two days"))
    return max((level for level in levels if level is not None), default=None)


def _stalled_by(then: Then, pup: int, clock: str) -> Level | None:
    """The verdict of the newest weighing that had anything to be held against, until a gain."""
    taken = weights(then, pup)
    for place, one in reversed([*enumerate(taken)]):
        if _age(then, pup, one.at) >= span("weight-stalled", "until"):
            return None
        change = _change(then, pup, one, clock)
        if change is not None:
            return banded("weight-stalled", clock, change)
        if one.grams > taken[max(place - 1, 0)].grams:  # the page: the next gain ends it
            return None
    return None


def _change(then: Then, pup: int, one: Weighing, clock: str) -> Decimal | None:
    """By how many percent it changed since a day, or two days or longer, before; if told."""
    rule = "weight-stalled"
    if _age(then, pup, one.at) < span(rule, f"from {clock}"):
        return None
    most = span(rule, "most day") if clock == "day" else timedelta.max
    least = span(rule, f"least {clock}")
    before = [each for each in weights(then, pup) if least <= one.at - each.at <= most]
    return (one.grams - before[-1].grams) * 100 / before[-1].grams if before else None


def slow(then: Then) -> Levels:
    """The mean daily gain since the newest weight of about three days ago or more."""
    return _each(then, _slow)


def _slow(then: Then, pup: int) -> Level | None:
    """The verdict of the newest weighing that had anything to be held against."""
    rule = "weight-slow"
    for one in reversed(weights(then, pup)):
        age = _age(then, pup, one.at)
        if age >= span(rule, "until"):
            return None
        before = [
            each
            for each in weights(then, pup)
            if span(rule, "least") <= one.at - each.at <= span(rule, "most")
            and _age(then, pup, each.at) >= span(rule, "count-from")
        ]
        if age >= span(rule, "from days 3-14") and before:
            late = age >= span(rule, "from days 15-28") or _doubled(then, pup, one)
            daily = _daily_percent(before[-1], one)
            return banded(rule, "days 15-28" if late else "days 3-14", daily)
    return None


def _doubled(then: Then, pup: int, one: Weighing) -> bool:
    return one.grams >= number("weight-slow", "doubled") * weights(then, pup)[0].grams


def _daily_percent(earlier: Weighing, later: Weighing) -> Decimal:
    """The compound gain a day: what, every day, would have made this weight of that."""
    days = (later.at - earlier.at) / timedelta(days=1)
    daily = float(later.grams / earlier.grams) ** (1 / days) - 1
    return Decimal(daily * 100).quantize(Decimal("1e-9"))


def not_doubled(then: Then) -> Levels:
    """Twice the birth weight by day 10, at the latest by day 14."""
    return _each(then, _not_doubled)


def _not_doubled(then: Then, pup: int) -> Level | None:
    rule, taken = "not-doubled", weights(then, pup)
    if not taken or _age(then, pup, taken[0].at) > span(rule, "first-within"):
        return None
    if any(one.grams >= number(rule, "times") * taken[0].grams for one in taken):
        return None
    last, born = taken[-1], births(then)[pup].at
    told = last.at - born
    if then.now >= last.at + span(rule, "weight-holds"):
        return None
    watch, call = born + plain_limit(rule, "main", Level.WATCH), None
    if span(rule, "told-from") <= told < span(rule, "judged-from"):
        watch = max(watch, last.at + span(rule, "next-weight watch"))
    if told >= span(rule, "late-from"):
        call = born + plain_limit(rule, "late", Level.CALL)
    elif told >= span(rule, "late-told-from"):
        call = max(
            born + plain_limit(rule, "late", Level.CALL), last.at + span(rule, "next-weight call")
        )
    if call is not None and then.now >= call:
        return Level.CALL
    return Level.WATCH if then.now >= watch else None


def litter_slow(then: Then) -> Levels:
    """Half of the weighed pups, and two at least, slow or without gain at weighings of one day.

    Once so, it stands until fewer than half of the pups stand so.
    """
    moments = [then.before(place) for place, _ in enumerate(then.known)]
    for at in reversed([*moments, then]):
        weighed = [pup for pup in here(at) if weights(at, pup)]
        behind = [pup for pup in weighed if _behind(at, pup)]
        enough = len(behind) >= number("litter-slow", "least") and (
            len(behind) * 100 >= number("litter-slow", "share") * len(weighed)
        )
        if not enough:
            return {}
        newest = max(weights(at, pup)[-1].at for pup in behind)
        day = span("litter-slow", "one-day")
        same = [pup for pup in behind if newest - weights(at, pup)[-1].at <= day]
        if len(same) >= number("litter-slow", "least") and (
            len(same) * 100 >= number("litter-slow", "share") * len(weighed)
        ):
            return {LITTER: Level.CALL}
    return {}


def _behind(then: Then, pup: int) -> bool:
    return _slow(then, pup) is not None or _stalled(then, pup) is not None


# --- the next weighing ---------------------------------------------------------------------


def weighing_due(then: Then) -> Levels:
    """By the age: the birth weight, a second one, daily, every third day, weekly."""
    found: Levels = {}
    for pup in here(then):
        clock = _due(then, pup)
        if clock is not None:
            found[f"{pup_subject(pup)} {clock}"] = Level.PROMPT
    return found


def _due(then: Then, pup: int) -> str | None:
    rule, age, taken = "weighing-due", _age(then, pup, then.now), weights(then, pup)
    if not taken:
        born = age >= plain_limit(rule, "birth", Level.PROMPT)
        return "birth" if born and age < span(rule, "until weekly") else None
    if not _quiet(then):
        return None
    for clock in ("low", "second", "daily", "third-day", "weekly"):
        if age >= span(rule, f"until {clock}"):
            continue
        if clock == "low" and not _was_light(then, pup):
            continue
        if clock == "second" and (len(taken) > 1 or birth_grams(then, pup) is None):
            continue
        due = then.now >= taken[-1].at + plain_limit(rule, clock, Level.PROMPT)
        return clock if due else None
    return None


def _quiet(then: Then) -> bool:
    """Whether she is done whelping: the newest of labour and ``finished`` decides.

    The page: so long without a birth or a push after a birth, and she is taken as done.
    """
    first = min(said.place for said in births(then).values())
    newest = [
        (place, entry)
        for place, entry in enumerate(then.known)
        if isinstance(entry.what, Finished)
        or (isinstance(entry.what, (Birth, Caesarean, *WORK)) and place >= first)
    ][-1][1]
    calm = span("weighing-due", "calm")
    return isinstance(newest.what, Finished) or then.now >= newest.at + calm


@once
def _was_light(then: Then, pup: int) -> bool:
    grams, limits = birth_grams(then, pup), reference(then)
    return grams is not None and limits is not None and limits(grams) is not None
