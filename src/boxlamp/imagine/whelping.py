"""Drawing a whelping that goes as it should: pushes, pups, afterbirths, and what each pup does."""

from itertools import pairwise
from math import sqrt

from boxlamp.imagine import figures
from boxlamp.imagine.beforehand import a_dam, counted, litter_size, warmth
from boxlamp.imagine.course import NEVER, Course, Effort, Pup
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.figures import Lognormal
from boxlamp.imagine.imagined import Size
from boxlamp.imagine.kennel import Breed
from boxlamp.imagine.ours import About, Exactly, Share, Span
from boxlamp.model.seen import BirthState, Presentation

_SHORTEST_FIRST = Exactly(3, "min", "shortest time to a first pup")
_SHORTEST_GAP = Exactly(4, "min", "shortest time from pup to pup")
_SHORT = Exactly(2, "min", "shortest spell of weak pushes told apart")
_WATERS_SEEN = Share(0.6, "waters before the first pup that are seen")
_SAC_SEEN = Share(0.35, "a sac is seen before the first pup")
_SAC_SHOWS = Span(1.5, 9, "min", "it is seen before that pup")
_HARD_MOST = Share(0.7, "of a gap that is hard labour, at most")
_WEAK_FIRST = Share(0.3, "later pups with weak pushes before the hard labour")
_WEAK = About(12, 0.5, "min", "such weak pushes")
_REST = Exactly(5, "min", "rest after a pup, at least, before such weak pushes")
_DOGS = Share(0.5, "pups that are dogs")
_BREATHES = Span(5, 50, "s", "a lively pup breathes after")
_GROUPED = About(30, 0.4, "min", "an afterbirth with a later pup comes later by")
_LOST_MOST = Share(0.5, "stillborn after a long gap, at most")
_LONG = Exactly(2, "h", "a gap after which more are stillborn")
_FAR = Exactly(2, "", "the farthest of a birth weight from the average, in spreads")


def whelping(dice: Dice, size: Size, *, hard: bool = False, least: int = 1) -> Course:
    """A whelping of at least so many pups. A hard one has longer gaps and more stillborn."""
    dam, breed = a_dam(dice, size)
    carried = max(least, litter_size(dice, size))
    run = _hard_run(dice) if hard else 1.0
    births = _births(dice, carried, run)
    pups = _pups(dice, breed, births, hard=hard)
    number, by = counted(dice, carried)
    first = births[0]
    waters = first - _drawn(dice, figures.WATERS_BEFORE)
    sac = first - dice.drawn(_SAC_SHOWS) if dice.chance(_SAC_SEEN.of) else NEVER
    return Course(
        dam=dam,
        signs=-_drawn(dice, figures.FIRST_STAGE),
        waters=waters if dice.chance(_WATERS_SEEN.of) else NEVER,
        sac=sac,
        efforts=_efforts(dice, births),
        pups=pups,
        warmth=warmth(dice, first),
        counted=number,
        counted_by=by,
        over=births[-1] + _drawn(dice, figures.OVER_AFTER),
    )


def _hard_run(dice: Dice) -> float:
    """How many times as long the gaps of a hard whelping are."""
    middle, give = figures.HARD_RUN.value, figures.HARD_RUN_GIVE.value
    return dice.between(middle - give, middle + give)


def _drawn(dice: Dice, time: Lognormal) -> float:
    return dice.lognormal(time.median, time.sigma)


def _births(dice: Dice, carried: int, run: float) -> list[float]:
    """When each pup is out, in minutes from the first strain."""
    first = max(_SHORTEST_FIRST.value, _drawn(dice, figures.FIRST_PUP))
    births = [min(first, figures.FIRST_PUP_MOST.value)]
    for _ in range(carried - 1):
        births.append(births[-1] + max(_SHORTEST_GAP.value, run * _drawn(dice, figures.INTERVAL)))
    return births


def _efforts(dice: Dice, births: list[float]) -> tuple[Effort, ...]:
    """The pushing that brings each pup: hard labour at the end, often weak pushes before it."""
    efforts: list[Effort] = []
    hard = _drawn(dice, figures.HARD_LABOUR)
    start = max(0.0, births[0] - hard)
    if start > _SHORT.value:
        efforts.append(Effort(0.0, start, strong=False))
    efforts.append(Effort(start, births[0], strong=True))
    for before, born in pairwise(births):
        gap = born - before
        hard = min(_drawn(dice, figures.NEXT_HARD_LABOUR), _HARD_MOST.of * gap)
        weak = min(dice.drawn(_WEAK), gap - hard - _REST.value)
        if dice.chance(_WEAK_FIRST.of) and weak > _SHORT.value:
            efforts.append(Effort(born - hard - weak, born - hard, strong=False))
        efforts.append(Effort(born - hard, born, strong=True))
    return tuple(efforts)


def _pups(dice: Dice, breed: Breed, births: list[float], *, hard: bool) -> tuple[Pup, ...]:
    """The pups, in the order in which they come."""
    inside = figures.WITHIN_LITTER.value
    usual = dice.normal(breed.grams, breed.spread * sqrt(1 - inside**2), most=_FAR.value)
    gaps = [0.0, *(born - before for before, born in pairwise(births))]
    return tuple(
        _pup(dice, born, usual, breed.spread * inside, _lost(gap, hard=hard))
        for born, gap in zip(births, gaps, strict=True)
    )


def _lost(gap: float, *, hard: bool) -> float:
    """The share of pups that come dead after such a gap."""
    share = figures.STILLBORN.value * (figures.STILLBORN_IF_HARD.value if hard else 1.0)
    more = figures.STILLBORN_AFTER_LONG.value
    return min(_LOST_MOST.of, share + more * max(0.0, (gap - _LONG.amount) / 60))


def _pup(dice: Dice, born: float, usual: float, spread: float, lost: float) -> Pup:
    is_dog = dice.chance(_DOGS.of)
    heavier = figures.DOG_HEAVIER.value * (1 if is_dog else -1)
    state: BirthState = "dead" if dice.chance(lost) else "alive"
    if state == "alive" and dice.chance(figures.LIMP.value):
        state = "limp"
    breathes = _drawn(dice, figures.BREATHES) if state == "limp" else dice.drawn(_BREATHES)
    first: Presentation = "feet" if dice.chance(figures.HIND_FIRST.value) else "head"
    in_sac = dice.chance(figures.IN_SAC.value)
    opened = _drawn(dice, figures.SAC_OPENED)
    grouped = dice.chance(figures.GROUPED.value)
    afterbirth = _drawn(dice, figures.AFTERBIRTH) + (dice.drawn(_GROUPED) if grouped else 0.0)
    fate = dice.between(0, 1)
    return Pup(
        born=born,
        sex="dog" if is_dog else "bitch",
        grams=round(dice.normal(usual * (1 + heavier), spread, most=_FAR.value)),
        presentation=first,
        state=state,
        in_sac=in_sac,
        sac_opened=opened,
        breathes=breathes + (opened if in_sac else 0.0),
        milk=NEVER if state == "dead" else _drawn(dice, figures.FIRST_MILK),
        afterbirth=afterbirth,
        eaten=fate < figures.EATEN.value + figures.UNSEEN.value,
        unseen=fate < figures.UNSEEN.value,
    )
