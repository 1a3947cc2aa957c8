"""Drawing the dam, how many pups she carries, and the hours before her first strain."""

from functools import cache

from boxlamp.imagine import figures
from boxlamp.imagine.course import Dam
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.figures import Method
from boxlamp.imagine.imagined import Size
from boxlamp.imagine.kennel import BREEDS, NAMES, Breed

_YOUNG = 3
_LOW_LEAST, _LOW_MOST = figures.LOW_RANGE


def a_dam(dice: Dice, size: Size) -> tuple[Dam, Breed]:
    """A bitch of this size, and her breed."""
    breed = dice.pick([one for one in BREEDS if one.size == size])
    years = dice.whole(2, 6)
    dam = Dam(
        name=dice.pick(NAMES),
        breed=breed.name,
        size=size,
        kilos=round(dice.between(*breed.kilos), 1),
        years=years,
        first_litter=dice.chance(0.7 if years <= _YOUNG else 0.15),
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
        "xray": (figures.XRAY_RIGHT.value, 1.0),
        "scan": (figures.SCAN_RIGHT.value, figures.SCAN_WITHIN_ONE.value),
        "guess": (0.3, 0.7),
    }[by]
    luck, over = dice.between(0, 1), dice.chance(0.5)
    off = 0 if luck < right else 1 if luck < near else 2
    return max(1, carried + (off if over else -off)), by


def warmth(dice: Dice, first_pup: float) -> tuple[tuple[float, float], ...]:
    """Her temperature: the fall before labour, the rise with it, and the warm days after."""
    own = dice.normal(0.0, 0.12, most=2.0)
    falls = dice.chance(figures.DROPS.value)
    low = min(max(dice.normal(*figures.LOW_BEFORE_BIRTH[:2]), _LOW_LEAST), _LOW_MOST)
    after = dice.normal(*figures.WARM_AFTER[:2], most=2.0)
    deep = dice.normal(0.0, 0.1, most=2.0)
    warm, crossing = figures.WARM.value + own, 37.5
    lowest = figures.LOWEST.value + own + deep
    before = figures.JUST_BEFORE.value + own
    if not falls:
        crossing, lowest, before = warm - 0.2, warm - 0.35, warm - 0.2
    hour = 60.0
    return (
        (first_pup - (low + 10) * hour, warm),
        (first_pup - low * hour, crossing),
        (first_pup - low * 0.47 * hour, lowest),
        (first_pup - hour, before),
        (first_pup + 4 * hour, after),
        (first_pup + 72 * hour, after - 0.1),
    )
