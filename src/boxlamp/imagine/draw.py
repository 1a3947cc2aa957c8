"""Drawing a whole night from a seed: what happens first, and then what is written of it."""

from boxlamp.imagine import figures
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.heading import NONE
from boxlamp.imagine.imagined import SIZES, Imagined, Size
from boxlamp.imagine.keeper import write_down
from boxlamp.imagine.troubles import BY_NAME, WEIGHTS
from boxlamp.imagine.whelping import whelping
from boxlamp.imagine.written import a_wall, entries_of


def imagine(seed: int, *, size: Size | None = None, trouble: str | None = None) -> Imagined:
    """The night of this seed: the same on every machine.

    ``size`` is drawn when it is not given. ``trouble`` is a name, or ``"none"`` for a normal
    night; when it is not given, the published share of whelpings is troubled.
    """
    _check(seed, size, trouble)
    dice = Dice(seed)
    # Always drawn, so that asking for what would have been drawn anyway changes nothing.
    drawn = dice.weighted(figures.SIZES_SHARE)
    is_troubled, by_chance = dice.chance(figures.TROUBLED.value), dice.weighted(WEIGHTS)
    size = size or drawn
    name = trouble or (by_chance if is_troubled else NONE)
    befalls = BY_NAME.get(name)
    wall = a_wall(dice)
    if befalls is None:
        course = whelping(dice, size)
    else:
        course = whelping(dice, size, hard=befalls.hard, least=befalls.least)
        course = befalls.befall(course, dice)
    lines = write_down(course, dice)
    entries = entries_of(course, lines, wall, dice)
    ended = lines[-1].at if course.ended is None else course.ended
    # A line cut to the minute must not lie before the trouble that it tells of.
    troubled = None if course.troubled is None else wall.instant(wall.local(course.troubled // 1))
    return Imagined(
        seed=seed,
        size=size,
        trouble=None if befalls is None else name,
        entries=entries,
        troubled=troubled,
        ended=wall.instant(wall.local(ended)),
    )


def _check(seed: int, size: str | None, trouble: str | None) -> None:
    if seed < 0:
        raise ValueError(f"A seed is 0 or more, not {seed}.")
    if size is not None and size not in SIZES:
        raise ValueError(f"There is no size {size!r}; sizes are {', '.join(SIZES)}.")
    if trouble is not None and trouble != NONE and trouble not in BY_NAME:
        raise ValueError(f"There is no trouble {trouble!r}; there are {', '.join(BY_NAME)}.")
