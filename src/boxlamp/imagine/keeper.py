"""The person by the box: what is noticed, when, and what is written down of it.

A keeper misses the first pushes, looks at the clock to the minute and to the second only where
seconds count, guesses a time now and then, and writes down a spell of pushing rather than each
push. Nothing here changes what happens.
"""

from decimal import Decimal
from itertools import pairwise

from boxlamp.imagine import figures
from boxlamp.imagine.course import NEVER, Course, Effort
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.line import Line
from boxlamp.imagine.newborn import pup_lines
from boxlamp.imagine.thermometer import degrees
from boxlamp.model.happenings import (
    Afterbirth,
    Contraction,
    DamState,
    Discharge,
    Finished,
    Note,
    Rest,
    Sac,
    Sign,
    Step,
    Temperature,
    VetContact,
    Waters,
    Weight,
    What,
)
from boxlamp.model.seen import SignName

_HOUR = 60.0
_LOW = Decimal("37.2")
"""So cold that anybody takes it again soon."""
_JUST_BEFORE = 10.0
_TWO_DAYS = -48.0 * _HOUR
_PAUSE = 3.0
_LONG_PAUSE = 35.0
_EARLY_SIGNS: tuple[tuple[SignName, ...], ...] = (
    ("restless",), ("restless", "digging"), ("nesting",), ("restless", "off-food"), ("digging",),
)  # fmt: skip
_LATER_SIGNS: tuple[tuple[SignName, ...], ...] = (
    ("panting",), ("panting", "shivering"), ("nesting", "panting"), ("shivering",),
)  # fmt: skip
_WAITING = (
    "nesting in the corner of the box", "drank a little and came back to the box",
    "ate nothing, took some water", "looks at her flank and turns round and round",
    "dozes, up again every half hour", "out in the garden and straight back",
)  # fmt: skip
_SMALL_TALK = (
    "drank and came back to the box", "went out, came straight back in", "fresh towels under her",
    "breathing quietly, eyes half shut",
)  # fmt: skip
_WITH_PUPS = ("asleep between the pups", "licks the pups and rests")
"""Said only while there are pups, and they live."""


def write_down(course: Course, dice: Dice) -> list[Line]:
    """What the keeper wrote, in the order of the clock."""
    lines = [*_before(course, dice), *_labour(course, dice)]
    named = dice.chance(0.3)
    for number, pup in enumerate(course.pups, start=1):
        if pup.born < course.silent:
            lines += pup_lines(number, pup, dice, named=named)
    lines += _small_talk(course, dice)
    lines += _afterwards(course, dice, named=named)
    lines = [line for line in lines if line.at < course.silent and not _after_death(line, course)]
    lines += (Line(at, what, note, exact=exact) for at, what, note, exact in course.events)
    return sorted((_by_the_clock(line) for line in lines), key=lambda line: line.at)


def _after_death(line: Line, course: Course) -> bool:
    """Nobody weighs a pup that has died, or does anything more to it."""
    match line.what:
        case Weight(pup=int(pup)) | Step(pup=int(pup)):
            # Cut to the minute a line must not fall on the death either: that would read as both.
            return course.pups[pup - 1].alive and line.at >= course.died(pup) // 1
        case _:
            return False


def _by_the_clock(line: Line) -> Line:
    """The time as a clock shows it: cut to the minute, or to the second where seconds count."""
    unit = 60 if line.exact else 1
    return line._replace(at=(line.at * unit // 1) / unit)


def _before(course: Course, dice: Dice) -> list[Line]:
    """Temperatures, and the first signs."""
    noticed = course.signs + dice.lognormal(40, 0.7)
    strain = min(course.strain, course.silent)
    begins = min(course.watched, min(course.signs, -12 * _HOUR) - dice.between(4, 16) * _HOUR)
    lines = _temperatures(course, dice, begins, min(noticed, strain))
    if noticed < strain - _JUST_BEFORE:
        lines.append(Line(noticed, Sign(signs=dice.pick(_EARLY_SIGNS))))
        later = noticed + dice.between(50, 200)
        if later < strain - _JUST_BEFORE:
            lines.append(Line(later, Sign(signs=dice.pick(_LATER_SIGNS))))
        lines += _waiting(noticed, strain, dice)
        if dice.chance(0.5):
            seen = dice.between(noticed, strain)
            lines.append(Line(seen, Discharge(colour="clear", amount="streak")))
    if course.waters < NEVER:
        # Found on the bedding, now and then, and the time is a guess.
        guessed = dice.chance(0.1)
        at = course.waters // 5 * 5 if guessed else course.waters
        lines.append(Line(at, Waters(colour="clear"), estimated=guessed))
    if course.sac < NEVER:
        lines.append(Line(course.sac, Sac()))
    return lines


def _waiting(noticed: float, strain: float, dice: Dice) -> list[Line]:
    """A word every few hours of the first stage."""
    lines, at = [], noticed + dice.between(2, 4) * _HOUR
    while at < strain - _JUST_BEFORE:
        lines.append(Line(at, Note(words=dice.pick(_WAITING))))
        at += dice.between(2.5, 5) * _HOUR
    return lines


def _temperatures(course: Course, dice: Dice, begin: float, end: float) -> list[Line]:
    """Her temperature some times a day, and soon again when it is low."""
    lines, at, again = [], begin, False
    while at < end:
        shown = reading(course, at, dice)
        lines.append(Line(at, Temperature(celsius=shown)))
        low = shown <= _LOW
        again = low and not again and dice.chance(0.7)
        hours = dice.between(10, 13) if at < _TWO_DAYS else dice.between(4.5, 7.5)
        at += dice.between(40, 75) if again else hours * _HOUR
    return lines


def reading(course: Course, at: float, dice: Dice) -> Decimal:
    """Her temperature as a thermometer shows it: a little off, and to the tenth."""
    shown = course.celsius(at) + dice.normal(0.0, figures.READING_OFF.value)
    return degrees(shown)


def _labour(course: Course, dice: Dice) -> list[Line]:
    """Spells of pushing, and the rests between them."""
    lines: list[Line] = []
    births = {pup.born for pup in course.pups}
    for effort, follows in pairwise((*course.efforts, Effort(NEVER, NEVER, strong=False))):
        lines += _pushes(effort, dice)
        pause = follows.begin - effort.end
        if effort.end in births:
            rests = dice.between(7, 18)
            if pause > rests + 4 and dice.chance(0.6):
                lines.append(Line(effort.end + rests, Rest()))
        elif pause > _PAUSE:
            lines.append(Line(effort.end + dice.between(1, 3), Rest()))
    return lines


def _pushes(effort: Effort, dice: Dice) -> list[Line]:
    """The first push that is noticed, and a line again every while."""
    what = Contraction(strength="strong" if effort.strong else "weak")
    lines, at = [], effort.begin + min(dice.lognormal(2, 0.7), 0.6 * (effort.end - effort.begin))
    while at < effort.end:
        lines.append(Line(at, what))
        at += dice.between(7, 17)
    return lines


def _small_talk(course: Course, dice: Dice) -> list[Line]:
    """A word in a long pause between two pups; green after a pup, as it should be."""
    lines: list[Line] = []
    births = [pup.born for pup in course.pups]
    for before, after in pairwise(births):
        if after - before > _LONG_PAUSE and dice.chance(0.7):
            at = before + dice.between(0.45, 0.65) * (after - before)
            among = len(course.living(at)) > 1
            words = dice.pick((*_WITH_PUPS, *_SMALL_TALK) if among else _SMALL_TALK)
            lines.append(Line(at, Note(words=words)))
    if births and dice.chance(0.35):
        at = births[0] + dice.between(4, 30)
        lines.append(Line(at, Discharge(colour="green"), "with the afterbirth"))
    if births and dice.chance(0.4):
        warm = degrees(dice.between(29.5, 31.5))
        lines.append(Line(births[0] + dice.between(5, 20), Temperature(celsius=warm, where="box")))
    return lines


def _afterwards(course: Course, dice: Dice, *, named: bool) -> list[Line]:
    """The calm, what was looked for and not found, and the word that it is over."""
    over, last = course.over, course.pups[-1].born if course.pups else 0.0
    lines = [
        Line(
            over,
            Afterbirth(of=number if named else None, fate="not-seen"),
            "looked through the bedding, she may have eaten it",
        )
        for number, pup in enumerate(course.pups, start=1)
        if pup.unseen
    ]
    calm = last + dice.between(0.4, 0.6) * (over - last)
    does = "nurses" if course.nursing(calm) else "rests"
    lines.append(Line(calm, Note(words=f"lies flat on her side and {does}")))
    taken = last + dice.between(0.65, 0.8) * (over - last)
    lines.append(Line(taken, Temperature(celsius=reading(course, taken, dice))))
    lines.append(Line(over - dice.between(2, 8), _fed(dice)))
    lines.append(Line(over + 1, Finished()))
    called = over + dice.between(30, 240)
    if dice.chance(0.7) and not course.in_trouble(called):
        said = "a check agreed for tomorrow"
        if not course.lost(called):
            said = f"all well, {said}"
        lines.append(Line(called, VetContact(contact="called", said=said)))
    return lines


def _fed(dice: Dice) -> What:
    return DamState(signs=(dice.pick(("ate", "drank")),))
