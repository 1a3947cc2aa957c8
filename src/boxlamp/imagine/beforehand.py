"""Drawing the dam, how many pups she carries, and the hours before her first strain."""

from functools import cache

from boxlamp.imagine import figures
from boxlamp.imagine.course import Dam
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.figures import Method
from boxlamp.imagine.imagined import Size
from boxlamp.imagine.kennel import BREEDS, NAMES, Breed
from boxlamp.imagine.ours import Exactly, Share, Span

_YEARS = Span(2, 6, "", "years of the dam")
_YOUNG = Exactly(3, "", "years of a young dam, at most")
_FIRST_YOUNG = Share(0.7, "first litter, young dam")
_FIRST_OLD = Share(0.15, "first litter, older dam")
_SCAN_MISS = Exactly(2, "", "pups that a count not within one is off by")
_GUESS_RIGHT = Share(0.3, "guesses that are right")
_GUESS_NEAR = Share(0.7, "guesses that are right within one pup")
_XRAY_NEAR = Share(1, "x-ray counts that are right within one pup")
_OVER = Share(0.5, "wrong counts that are too high")
_OWN = Exactly(0.12, "°C", "the dam's own temperature, two in three within")
_OWN_LOW = Exactly(0.1, "°C", "how low she falls, two in three within")
_BEGINS_TO_FALL = Exactly(10, "h", "still warm before the first low reading")
_LOWEST_AT = Share(0.47, "of the time from low to birth that is left when she is lowest")
_DIP = Exactly(0.2, "°C", "a dam without the fall cools by")
_DEEPEST_DIP = Exactly(0.35, "°C", "and at her lowest by")
_RISEN = Exactly(4, "h", "warm again after the first pup")
_DAYS_AFTER = Exactly(72, "h", "her temperature told until after the first pup")
_LESS = Exactly(0.1, "°C", "cooler by then by")


def a_dam(dice: Dice, size: Size) -> tuple[Dam, Breed]:
    """A bitch of this size, and her breed."""
    breed = dice.pick([one for one in BREEDS if one.size == size])
    years = dice.whole(*_YEARS.whole)
    dam = Dam(
        name=dice.pick(NAMES),
        breed=breed.name,
        size=size,
        kilos=round(dice.between(*breed.kilos), 1),
        years=years,
        first_litter=dice.chance((_FIRST_YOUNG if years <= _YOUNG.value else _FIRST_OLD).of),
        days=round(dice.normal(figures.GESTATION.mean, figures.GESTATION.spread)),
        mated_before=max(-1, round(dice.normal(*figures.MATED_BEFORE_OVULATION[:2]))),
    )
    return dam, breed


def litter_size(dice: Dice, size: Size) -> int:
    """How many pups she carries: one, and a number with the published mean and spread."""
    return dice.weighted(_sizes(size))


@cache
def _sizes(size: Size) -> tuple[tuple[int, float], ...]:
    """One pup and a negative binomial number more, up to the largest litter drawn."""
    mean, variance = figures.LITTER[size].mean - 1, figures.LITTER[size].spread ** 2
    stop = mean / variance
    shape = mean * stop / (1 - stop)
    chance, found = stop**shape, [(1, stop**shape)]
    for more in range(1, int(figures.LARGEST.value)):
        chance *= (more - 1 + shape) / more * (1 - stop)
        found.append((more + 1, chance))
    return tuple(found)


def counted(dice: Dice, carried: int) -> tuple[int, Method]:
    """How many pups somebody counted beforehand, right or not, and by what."""
    by = dice.weighted(figures.COUNTED_BY)
    right, near = {
        "xray": (figures.XRAY_RIGHT.value, _XRAY_NEAR.of),
        "scan": (figures.SCAN_RIGHT.value, figures.SCAN_WITHIN_ONE.value),
        "guess": (_GUESS_RIGHT.of, _GUESS_NEAR.of),
    }[by]
    luck, over = dice.between(0, 1), dice.chance(_OVER.of)
    off = 0 if luck < right else 1 if luck < near else round(_SCAN_MISS.value)
    return max(1, carried + (off if over else -off)), by


def warmth(dice: Dice, first_pup: float) -> tuple[tuple[float, float], ...]:
    """Her temperature: the fall before labour, the rise with it, and the warm days after."""
    own = dice.normal(0.0, _OWN.value, most=2.0)
    falls = dice.chance(figures.DROPS.value)
    drawn = dice.normal(*figures.LOW_BEFORE_BIRTH[:2])
    low = min(max(drawn, figures.LOW_LEAST.value), figures.LOW_MOST.value) * 60
    after = dice.normal(*figures.DAILY_WARMTH[0][:2], most=2.0)
    deep = dice.normal(0.0, _OWN_LOW.value, most=2.0)
    warm, crossing = figures.WARM.value + own, figures.LOW.value
    lowest = figures.LOWEST.value + own + deep
    before = figures.JUST_BEFORE.value + own
    if not falls:
        crossing, lowest, before = warm - _DIP.value, warm - _DEEPEST_DIP.value, warm - _DIP.value
    return (
        (first_pup - low - _BEGINS_TO_FALL.amount, warm),
        (first_pup - low, crossing),
        (first_pup - low * _LOWEST_AT.of, lowest),
        (first_pup - 60, before),
        (first_pup + _RISEN.amount, after),
        (first_pup + _DAYS_AFTER.amount, after - _LESS.value),
    )
