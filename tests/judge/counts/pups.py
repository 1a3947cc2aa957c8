"""What stands for one pup or for the litter: scores, temperatures, losses, the box."""

from collections.abc import Iterable
from datetime import datetime, timedelta
from decimal import Decimal

from boxlamp.model.happenings import (
    Birth,
    Death,
    Feed,
    PupState,
    Reflexes,
    Score,
    Step,
    Temperature,
    VetContact,
)
from boxlamp.model.levels import LITTER, Level, pup_subject
from judge.counts.numbers import banded, number, plain_limit, span
from judge.counts.told import Levels, Said, Then, births, every, here, left, of_pup, once

Loss = Said[Birth] | Said[Death]
AGES = ("day 29 on", "day 15-28", "day 8-14", "day 1-7", "hour 1-24")


def _each(levels: dict[int, Level | None]) -> Levels:
    return {pup_subject(pup): level for pup, level in levels.items() if level is not None}


def _highest(*levels: Level | None) -> Level | None:
    return max((level for level in levels if level is not None), default=None)


# --- the viability score -------------------------------------------------------------------


def viability(then: Then) -> Levels:
    """By the newest score, its range when items are missing, and by the newest reflexes."""
    return _each({pup: _viable(then, pup) for pup in here(then)})


def _viable(then: Then, pup: int) -> Level | None:
    return _highest(
        _scored(then, pup, _scores(then, pup)), Level.CALL if _lacks_reflex(then, pup) else None
    )


@once
def _scores(then: Then, pup: int) -> list[Said[Score]]:
    """The scores in which anything was taken."""
    return [one for one in of_pup(then, pup, Score) if any(i is not None for i in one.what.items)]


def _range(score: Score) -> tuple[int, int]:
    """The least and the most it may be: an item not taken may have been 0 or 2."""
    least = sum(item or 0 for item in score.items)
    return least, least + 2 * sum(item is None for item in score.items)


def _scored(then: Then, pup: int, scores: list[Said[Score]]) -> Level | None:
    if not scores or _ended(then, pup, scores[-1]):
        return None
    last = scores[-1]
    least, most = _range(last.what)
    levels = [
        banded("viability", "middle", Decimal(least)), banded("viability", "low", Decimal(most))
    ]  # fmt: skip
    if last.at >= births(then)[pup].at + span("viability", "late-from"):
        levels.append(banded("viability", "late", Decimal(most)))
    levels.append(banded("viability", "fall", Decimal(_fallen(scores))))
    return _highest(*levels)


def _fallen(scores: list[Said[Score]]) -> int:
    """By how much it has surely fallen since the best score before it.

    A normal score that is not lower than the one just before it falls no further (the catalogue
    says only "falls by 2"; from what, the rule's cases say).
    """
    *earlier, last = (_range(one.what) for one in scores)
    if not earlier:
        return 0
    normal = banded("viability", "middle", Decimal(last[0])) is None
    if normal and earlier[-1][0] <= last[1]:
        return 0
    return max(0, max(least for least, _ in earlier) - last[1])


def _ended(then: Then, pup: int, last: Said[Score] | Said[Reflexes]) -> bool:
    """By ``well`` since, or by half a day without another."""
    well = any(
        "well" in said.what.signs and said.place > last.place
        for said in of_pup(then, pup, PupState)
    )
    return well or then.now >= last.at + span("viability", "stands-for")


def _lacks_reflex(then: Then, pup: int) -> bool:
    """Sucking or righting absent an hour after the birth or later, in a pup that is not cold.

    It stands until there; sucking also until it takes milk, a teat or a bottle (so say the cases).
    """
    old = births(then)[pup].at + span("viability", "reflex-from")
    for reflex in ("suckle", "righting"):
        tests = [
            one for one in of_pup(then, pup, Reflexes) if getattr(one.what, reflex) is not None
        ]
        if not tests:
            continue
        last = tests[-1]
        absent = getattr(last.what, reflex) == 0 and last.at >= old
        cold = _cold_at(then.before(last.place), pup)
        drank = reflex == "suckle" and any(place > last.place for place in _drinks(then, pup))
        if absent and not cold and not drank and not _ended(then, pup, last):
            return True
    return False


@once
def _drinks(then: Then, pup: int) -> list[int]:
    return [one.place for one in of_pup(then, pup, Feed) if one.what.how != "tube"] + [
        one.place for one in of_pup(then, pup, Step) if one.what.step == "milk"
    ]


def _cold_at(then: Then, pup: int) -> bool:
    """Whether its last temperature of the last hour was too cold to feed it."""
    taken = temperatures(then, pup)
    return (
        bool(taken)
        and taken[-1].what.celsius < number("pup-cold", "feed-from")
        and then.now <= taken[-1].at + span("pup-cold", "speaks-for")
    )


def viability_reminders(then: Then) -> Levels:
    """Score again: a quarter of an hour after a score that was not well, and at an hour of age.

    Once for both: from the hour on only the second asks.
    """
    found: Levels = {}
    for pup in here(then):
        scores = _scores(then, pup)
        if not scores or _scored(then, pup, scores) is None:
            continue
        last, hour = scores[-1], plain_limit("viability", "hour", Level.PROMPT)
        born = births(then)[pup].at
        if last.at < born + hour <= then.now:
            found[f"{pup_subject(pup)} hour"] = Level.PROMPT
        elif then.now >= last.at + plain_limit("viability", "again", Level.PROMPT):
            found[f"{pup_subject(pup)} again"] = Level.PROMPT
    return found


# --- temperatures --------------------------------------------------------------------------


@once
def temperatures(then: Then, pup: int) -> list[Said[Temperature]]:
    """The temperatures of one pup."""
    return [one for one in of_pup(then, pup, Temperature) if one.what.where == "pup"]


def age_band(rule: str, age: timedelta) -> str | None:
    """The name of the limits for a pup of this age."""
    return next((name for name in AGES if age >= span(rule, f"from {name}")), None)


def _measured(then: Then, rule: str, pup: int) -> Level | None:
    taken = temperatures(then, pup)
    if not taken or then.now >= taken[-1].at + span(rule, "stands-for"):
        return None
    band = age_band(rule, taken[-1].at - births(then)[pup].at)
    return None if band is None else banded(rule, band, taken[-1].what.celsius)


def cold(then: Then) -> Levels:
    """The last reading against the limits of the age at which it was taken."""
    return _each(
        {
            pup: _highest(
                _measured(then, "pup-cold", pup), Level.CALL if _not_warmed(then, pup) else None
            )
            for pup in here(then)
        },
    )


def _not_warmed(then: Then, pup: int) -> bool:
    """On the first day: under the temperature at which it may be fed, for an hour."""
    run: list[Said[Temperature]] = []
    later = then.now
    for one in reversed(temperatures(then, pup)):
        stands = later < one.at + span("pup-cold", "stands-for")
        if not stands or one.what.celsius >= number("pup-cold", "feed-from"):
            break
        run.append(one)
        later = one.at
    born = births(then)[pup].at
    young = [one for one in run if age_band("pup-cold", one.at - born) == "hour 1-24"]
    hour = plain_limit("pup-cold", "warming", Level.CALL)
    return bool(young) and then.now >= young[-1].at + hour


def hot(then: Then) -> Levels:
    """The last reading against the limits of the age at which it was taken."""
    return _each({pup: _measured(then, "pup-hot", pup) for pup in here(then)})


def cold_reminders(then: Then) -> Levels:
    """Measure again half an hour after a cold reading; in the first hour of life as well."""
    return _again(then, "pup-cold")


def hot_reminders(then: Then) -> Levels:
    """Measure again half an hour after a hot reading."""
    return _again(then, "pup-hot")


def _again(then: Then, rule: str) -> Levels:
    found: Levels = {}
    for pup in here(then):
        taken = temperatures(then, pup)
        if not taken or then.now >= taken[-1].at + span(rule, "stands-for"):
            continue
        newborn = age_band(rule, taken[-1].at - births(then)[pup].at) is None
        low = taken[-1].what.celsius < number("pup-cold", "feed-from")
        out = (newborn and low and rule == "pup-cold") or _measured(then, rule, pup) is not None
        if out and then.now >= taken[-1].at + plain_limit(rule, "again", Level.PROMPT):
            found[f"{pup_subject(pup)} again"] = Level.PROMPT
    return found


def box_cold(then: Then) -> Levels:
    """The last reading of the box against the age of the youngest pup in it then."""
    return _box(then, "box-cold")


def box_hot(then: Then) -> Levels:
    """The last reading of the box against the age of the youngest pup in it then."""
    return _box(then, "box-hot")


def _box(then: Then, rule: str) -> Levels:
    taken = [one for one in every(then, Temperature) if one.what.where == "box"]
    if not taken or not here(then) or then.now >= taken[-1].at + span(rule, "stands-for"):
        return {}
    at_it = then.before(taken[-1].place)
    pups = here(at_it)
    if not pups:
        return {}
    age = at_it.now - max(births(then)[pup].at for pup in pups)
    names = ("day 29 on", "day 15-28", "day 8-14", "day 0-7")
    band = next(name for name in names if age >= span(rule, f"from {name}"))
    level = banded(rule, band, taken[-1].what.celsius)
    return {} if level is None else {LITTER: level}


# --- losses --------------------------------------------------------------------------------


def losses(then: Then) -> Levels:
    """The second stillborn pup, the second death within seven days, a death after the first day.

    Until a vet has advised, come or seen them since the newest loss, or seven days after it. The
    last is for the pups that are left: with none left, nobody is to be saved by it.
    """
    many, within = int(number("litter-losses", "how-many")), span("litter-losses", "within")
    stillborn = _by_place(said for said in births(then).values() if said.what.state == "dead")
    deaths = _by_place(
        said
        for pup, birth in births(then).items()
        if birth.what.state != "dead"
        for said in of_pup(then, pup, Death)[:1]
        if not left(then.before(said.place), pup)
    )
    calls = stillborn[many - 1 :]
    calls += [
        later
        for earlier, later in zip(deaths, deaths[many - 1 :], strict=False)
        if later.at - earlier.at <= within
    ]
    calls += [
        said
        for said in deaths
        if said.at >= _first_day(then, said.what.pup)
        # Whoever is born after it was not left by it.
        and any(births(then)[pup].place < said.place for pup in here(then))
    ]
    losses_ = _by_place((*stillborn, *deaths))
    return {LITTER: Level.CALL} if any(_open(then, one, losses_) for one in calls) else {}


def _by_place(losses_: Iterable[Loss]) -> list[Loss]:
    return sorted(losses_, key=lambda said: said.place)


def _first_day(then: Then, pup: int) -> datetime:
    return births(then)[pup].at + span("litter-losses", "first-day")


def _open(then: Then, call: Loss, losses_: list[Loss]) -> bool:
    """Whether a call is unanswered, and no more than seven days past the newest loss."""
    told = [one.place for one in every(then, VetContact)
            if one.what.contact in ANSWERED and one.place > call.place]  # fmt: skip
    ends = call.at + span("litter-losses", "within")
    for loss in losses_:
        if loss.place > call.place and loss.at < ends:
            ends = loss.at + span("litter-losses", "within")
    return not told and then.now < ends


ANSWERED = {"advised", "arrived", "seen"}
