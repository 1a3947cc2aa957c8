"""What stands for the dam: her signs, her temperature, her discharge, the vet's visit."""

from datetime import datetime
from decimal import Decimal

from boxlamp.model.happenings import (
    Birth,
    Caesarean,
    DamState,
    Details,
    Discharge,
    Finished,
    Sign,
    Temperature,
    Weight,
)
from boxlamp.model.levels import DAM, Level
from judge.counts.numbers import banded, details, limit, number, plain_limit, reached, span
from judge.counts.told import (
    WORK,
    Levels,
    Said,
    Then,
    births,
    every,
    here,
    last_birth,
    once,
    over,
    standing,
    whelped,
)

BETTER = {"bright", "recovered"}
CANNOT_WAIT = {
    "collapsed", "fits", "rigid", "cannot-stand", "pale", "blue", "unresponsive",
}  # fmt: skip


def _dam(level: Level | None) -> Levels:
    return {} if level is None else {DAM: level}


def collapse(then: Then) -> Levels:
    """Go from such a sign until a later line says recovered or bright."""
    return _dam(Level.GO if standing(then, CANNOT_WAIT, BETTER) else None)


def tremor(then: Then) -> Levels:
    """Go from a line written down after whelping, to day 42, that shows low calcium.

    Stiff, staring or unsteady; or trembling with one of these or with face rubbing, the first
    still standing; or trembling alone when the whelping is finished, or calm for half a day.
    """
    lines = _trembled(then)
    shown = any(_low_calcium(then.before(line.place), line) for line in lines)
    return _dam(Level.GO if shown else None)


TREMOR = {"trembling", "stiff", "staring", "unsteady", "face-rubbing"}


def _trembled(then: Then) -> list[Said[DamState]]:
    """The lines that still count: a good word in one line with such a sign takes nothing back."""
    lines = every(then, DamState)
    ends = [one.place for one in lines if BETTER & set(one.what.signs) and not _shows(one)]
    return [line for line in lines if _shows(line) and line.place > max(ends, default=-1)]


def _shows(line: Said[DamState]) -> bool:
    return bool(TREMOR & set(line.what.signs))


def _low_calcium(then: Then, line: Said[DamState]) -> bool:
    began = [*every(then, Birth), *every(then, Caesarean), *every(then, Finished)]
    born = whelped(then)
    if not began or born is None or then.now > born + span("dam-tremor", "until"):
        return False
    signs = {sign for each in _trembled(then) for sign in each.what.signs}
    alone = "trembling" in line.what.signs and over(then, span("dam-tremor", "calm"))
    stiff = {"stiff", "staring", "unsteady"}
    together = "trembling" in signs and signs & {*stiff, "face-rubbing"}
    return bool(alone or stiff & signs or together)


def vomiting(then: Then) -> Levels:
    """Call at the third time within six hours, or with dullness within six hours of it.

    When she has eaten, or is better, the count begins again.
    """
    within, many = span("dam-vomiting", "within"), int(number("dam-vomiting", "how-many"))
    ended = _ends(then, {*BETTER, "ate"})
    times = [time for time in _vomits(then) if time[0] >= ended]
    often = any(
        last[1] - first[1] <= within for first, last in zip(times, times[many - 1 :], strict=False)
    )
    better = _ends(then, BETTER)
    dull = any(
        place >= line.place or line.at - at <= within
        for line in standing(then, {"dull"}, BETTER)
        for place, at in _vomits(then)
        if place >= better
    )
    return _dam(Level.CALL if often or dull else None)


@once
def _vomits(then: Then) -> list[tuple[int, datetime]]:
    lines: list[Said[DamState] | Said[Sign]] = [*every(then, DamState), *every(then, Sign)]
    return sorted((line.place, line.at) for line in lines if "vomited" in line.what.signs)


def _ends(then: Then, signs: set[str]) -> int:
    lines = every(then, DamState)
    return max((line.place for line in lines if signs & set(line.what.signs)), default=-1)


@once
def readings(then: Then) -> list[Said[Temperature]]:
    """The dam's own temperatures."""
    return [said for said in every(then, Temperature) if said.what.where == "dam"]


def _stage(then: Then) -> str | None:
    """Which temperatures are ordinary now: before, in labour, or how long after the last pup."""
    born = whelped(then)
    if not over(then, span("dam-hot", "calm")):
        begun = any(every(then, kind) for kind in (Sign, Birth, *WORK))
        return "labour" if begun else "before"
    if born is None or then.now < born + span("dam-hot", "first-days"):
        return "day 0-3"
    if then.now < born + span("dam-hot", "until"):
        return "day 4-14"
    return "later" if here(then) or not births(then) else None


def hot(then: Then) -> Levels:
    """Her last reading, held against the limits of the stage in which it was taken.

    After whelping also a call when 39.4 °C stands in readings an hour apart or more, or with any
    sign of illness. When the last pup has gone nobody's limits are left, but a fever that stood
    is ended only by a reading.
    """
    taken = readings(then)
    return _dam(_hot(then, taken)) if taken else {}


def _hot(then: Then, taken: list[Said[Temperature]]) -> Level | None:
    if not taken:
        return None
    last, earlier = taken[-1], taken[:-1]
    stage = _stage(then.before(last.place))
    if stage is None:
        stood = earlier and _hot(then.before(last.place - 1), earlier) is not None
        stage = "later" if stood else None
    if stage is None:
        return None
    level = banded("dam-hot", stage, last.what.celsius)
    fever = banded("dam-hot", "fever", last.what.celsius) is not None
    if fever and stage not in IN_LABOUR and (_ill(then) or _again(then, taken)):
        return max(level or Level.CALL, Level.CALL)
    return level


IN_LABOUR = {"before", "labour"}


def _again(then: Then, taken: list[Said[Temperature]]) -> bool:
    """Fever in readings an hour or more apart, with none between that was not fever."""
    run: list[Said[Temperature]] = []
    for one in reversed(taken):
        after = _stage(then.before(one.place)) not in IN_LABOUR
        if not after or banded("dam-hot", "fever", one.what.celsius) is None:
            break
        run.append(one)
    return run[0].at - run[-1].at >= span("dam-hot", "twice-apart")


def _ill(then: Then) -> bool:
    """Dull, foul, or, written down after the whelping, off her food or vomiting."""
    calm = span("dam-hot", "calm")
    off = [
        *standing(then, {"refused-food"}, {"ate", "recovered"}),
        *standing(then, {"vomited"}, {*BETTER, "ate"}),
    ]
    return bool(
        standing(then, {"dull"}, BETTER)
        or any(over(then.before(line.place), calm) for line in off)
        or foul_now(then)
    )


def cold(then: Then) -> Levels:
    """Her last reading, if it was taken after whelping; go when she is weak as well.

    What stands is ended only by a reading, not by another birth.
    """
    taken = readings(then)
    level = _cold(then, taken)
    weak = standing(then, {"dull", "cannot-stand", "collapsed"}, BETTER)
    return _dam(Level.GO if level is not None and weak else level)


def _cold(then: Then, taken: list[Said[Temperature]]) -> Level | None:
    if not taken:
        return None
    judged = over(then.before(taken[-1].place), span("dam-cold", "calm"))
    if judged or _cold(then, taken[:-1]) is not None:
        return banded("dam-cold", "main", taken[-1].what.celsius)
    return None


def foul_now(then: Then) -> bool:
    """Whether the last discharge smelt foul or was pus."""
    seen = [said.what for said in every(then, Discharge)]
    return bool(seen) and seen[-1].amount != "none" and (seen[-1].foul or seen[-1].colour == "pus")


def foul(then: Then) -> Levels:
    """Foul, pus or mustard-yellow: call; go with a fever by the last reading, dull, or off food."""
    seen = [said.what for said in every(then, Discharge)]
    yellow = bool(seen) and seen[-1].amount != "none" and seen[-1].colour == "yellow"
    if not foul_now(then) and not yellow:
        return {}
    taken = readings(then)
    fever = bool(taken) and banded("foul-discharge", "fever", taken[-1].what.celsius) is not None
    ill = standing(then, {"dull"}, BETTER) or standing(then, {"refused-food"}, {"ate", "recovered"})
    return _dam(Level.GO if fever or ill else Level.CALL)


def bleeding(then: Then) -> Levels:
    """Red by amount: "some" is a watch, and a call ten minutes on; heavy or clots is a go.

    None, a streak, clear or brown says that it has gone; green, black, yellow, pus or no colour
    is another worry and says nothing of the blood (so say the rule's cases).
    """
    some: datetime | None = None
    heavy = False
    for entry in then.known:
        what = entry.what
        if isinstance(what, DamState) and "bleeding" in what.signs:
            heavy = True
        elif isinstance(what, DamState) and set(what.signs) & BETTER:
            some, heavy = None, False
        elif isinstance(what, Discharge):
            if what.amount in {"none", "streak"} or what.colour in {"clear", "brown"}:
                some, heavy = None, False
            elif what.colour == "red" and what.amount == "some":
                some = some or entry.at
            elif what.colour == "red" or (what.colour == "unknown" and what.amount == "clots"):
                heavy = True
    if heavy:
        return _dam(Level.GO)
    if some is None:
        return {}
    long = then.now >= some + limit(then, "bleeding", "some", Level.CALL)
    return _dam(Level.CALL if long else Level.WATCH)


def green_after(then: Then) -> Levels:
    """The last discharge was green or black, half a day or more after the last birth."""
    rule, born = "green-after-whelping", last_birth(then)
    seen = [one for one in every(then, Discharge)
            if one.what.colour != "unknown" or one.what.amount == "none"]  # fmt: skip
    if born is None or not seen:
        return {}
    last = seen[-1]
    green = last.what.colour in {"green", "black"} and last.what.amount != "none"
    if not green or last.at < born + span(rule, "ordinary-for"):
        return {}
    return _dam(reached(rule, "main", then.now - born))


def lochia(then: Then) -> Levels:
    """Discharge reported in the last three days, counted from the last pup or the caesarean."""
    born, seen = whelped(then), every(then, Discharge)
    if born is None or not seen:
        return {}
    last = seen[-1]
    fresh = then.now < last.at + span("lochia-long", "stands")
    if last.what.amount == "none" or last.at < born or not fresh:
        return {}
    return _dam(reached("lochia-long", "main", then.now - born))


def udder(then: Then) -> Levels:
    """Hot, hard or painful after whelping is a call; purple or black a go at any time."""
    well = {"udder-well", "recovered"}
    if standing(then, {"udder-purple", "udder-black"}, well):
        return _dam(Level.GO)
    sore = standing(then, {"udder-hot", "udder-hard", "udder-painful"}, well)
    calm = span("udder", "calm")
    return _dam(Level.CALL if any(over(then.before(line.place), calm) for line in sore) else None)


def eclampsia(then: Then) -> Levels:
    """Shown from day 7 to 40 for a small dam with four pups or more, or any with over eight."""
    rule, born = "eclampsia-window", whelped(then)
    if born is None:
        return {}
    pups = len(here(then))
    many = banded(rule, "many-pups", Decimal(pups)) is not None
    several = banded(rule, "pups", Decimal(pups)) is not None and _small(then)
    from_then = plain_limit(rule, "main", Level.PROMPT)
    window = from_then <= then.now - born < span(rule, "until")
    return {f"{DAM} main": Level.PROMPT} if window and (many or several) else {}


def _small(then: Then) -> bool:
    """By her newest weight, given or on the scale; said to be a toy while no weight is known."""
    given = [(said.place, said.what.weight) for said in every(then, Details)
             if said.what.weight is not None]  # fmt: skip
    given += [(said.place, said.what.grams) for said in every(then, Weight)
              if said.what.pup is None]  # fmt: skip
    if not given:
        return bool(details(then).toy)
    return banded("eclampsia-window", "weight", max(given)[1]) is not None
