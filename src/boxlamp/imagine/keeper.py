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
from boxlamp.imagine.ours import About, Exactly, Share, Span
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

_NAMED = Share(0.3, "keepers who say whose afterbirth it is")
_NOTICED = About(40, 0.7, "min", "first signs noticed after")
_FROM = Exactly(12, "h", "temperatures begin before the first strain, at least")
_AND = Span(4, 16, "h", "and earlier by")
_LATER_SIGN = Span(50, 200, "min", "later signs noticed after the first")
_JUST_BEFORE = Exactly(10, "min", "before the first strain without a line")
_STREAK = Share(0.5, "clear streaks seen before the first strain")
_GUESSED = Share(0.1, "waters whose time is guessed")
_GUESS = Exactly(5, "min", "such a guess cut to")
_FIRST_WORD = Span(2, 4, "h", "first word of the first stage after the first signs")
_NEXT_WORD = Span(2.5, 5, "h", "from word to word")
_LOW = Exactly(37.2, "°C", "so low that it may be taken again soon")
_TAKES_AGAIN = Share(0.7, "low readings taken again soon")
_AGAIN = Span(40, 75, "min", "taken again after")
_EARLY_READING = Span(10, 13, "h", "from reading to reading, days before")
_LATE_READING = Span(4.5, 7.5, "h", "from reading to reading, nearer")
_DAYS_BEFORE = Exactly(48, "h", "days before: earlier than this before the first strain")
_REST = Span(7, 18, "min", "rest written down after a pup")
_REST_SEEN = Share(0.6, "rests after a pup written down")
_REST_LEFT = Exactly(4, "min", "such a rest goes on for, at least")
_PAUSE = Exactly(3, "min", "shortest pause written down between two spells of pushing")
_PAUSE_SEEN = Span(1, 3, "min", "that pause written down after")
_PUSH_SEEN = About(2, 0.7, "min", "first push of a spell seen after")
_PUSH_MISSED = Share(0.6, "of a spell that is missed, at most")
_NEXT_PUSH = Span(7, 17, "min", "from push to push written down")
_LONG_PAUSE = Exactly(35, "min", "a gap with a word in it, at least")
_WORD = Share(0.7, "such gaps with a word in them")
_WORD_FROM = Share(0.45, "of the gap at the word, at least")
_WORD_TO = Share(0.65, "of the gap at the word, at most")
_GREEN = Share(0.35, "green with the first afterbirth written down")
_GREEN_AT = Span(4, 30, "min", "green seen after the first pup")
_BOX = Share(0.4, "warmth of the box taken")
_BOX_AT = Span(5, 20, "min", "taken after the first pup")
_BOX_WARM = Span(29.5, 31.5, "°C", "warmth of the box")
_CALM_FROM = Share(0.4, "calm word, of the time from the last pup until it is over, at least")
_CALM_TO = Share(0.6, "calm word, of that time, at most")
_TAKEN_FROM = Share(0.65, "her temperature, of that time, at least")
_TAKEN_TO = Share(0.8, "her temperature, of that time, at most")
_FED = Span(2, 8, "min", "she ate or drank before it is over")
_RINGS = Share(0.7, "vets rung afterwards, when all is quiet")
_RINGS_AT = Span(30, 240, "min", "rung after it is over")

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
    named = dice.chance(_NAMED.of)
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
    noticed = course.signs + dice.drawn(_NOTICED)
    strain = min(course.strain, course.silent)
    begins = min(course.watched, min(course.signs, -_FROM.amount) - dice.drawn(_AND))
    lines = _temperatures(course, dice, begins, min(noticed, strain))
    if noticed < strain - _JUST_BEFORE.amount:
        lines.append(Line(noticed, Sign(signs=dice.pick(_EARLY_SIGNS))))
        later = noticed + dice.drawn(_LATER_SIGN)
        if later < strain - _JUST_BEFORE.amount:
            lines.append(Line(later, Sign(signs=dice.pick(_LATER_SIGNS))))
        lines += _waiting(noticed, strain, dice)
        if dice.chance(_STREAK.of):
            seen = dice.between(noticed, strain)
            lines.append(Line(seen, Discharge(colour="clear", amount="streak")))
    if course.waters < NEVER:
        # Found on the bedding, now and then, and the time is a guess.
        guessed = dice.chance(_GUESSED.of)
        at = course.waters // _GUESS.amount * _GUESS.amount if guessed else course.waters
        lines.append(Line(at, Waters(colour="clear"), estimated=guessed))
    if course.sac < NEVER:
        lines.append(Line(course.sac, Sac()))
    return lines


def _waiting(noticed: float, strain: float, dice: Dice) -> list[Line]:
    """A word every few hours of the first stage."""
    lines, at = [], noticed + dice.drawn(_FIRST_WORD)
    while at < strain - _JUST_BEFORE.amount:
        lines.append(Line(at, Note(words=dice.pick(_WAITING))))
        at += dice.drawn(_NEXT_WORD)
    return lines


def _temperatures(course: Course, dice: Dice, begin: float, end: float) -> list[Line]:
    """Her temperature some times a day, and soon again when it is low."""
    lines, at, again = [], begin, False
    while at < end:
        shown = reading(course, at, dice)
        lines.append(Line(at, Temperature(celsius=shown)))
        low = shown <= degrees(_LOW.value)
        again = low and not again and dice.chance(_TAKES_AGAIN.of)
        usual = dice.drawn(_EARLY_READING if at < -_DAYS_BEFORE.amount else _LATE_READING)
        at += dice.drawn(_AGAIN) if again else usual
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
            rests = dice.drawn(_REST)
            if pause > rests + _REST_LEFT.amount and dice.chance(_REST_SEEN.of):
                lines.append(Line(effort.end + rests, Rest()))
        elif pause > _PAUSE.amount:
            lines.append(Line(effort.end + dice.drawn(_PAUSE_SEEN), Rest()))
    return lines


def _pushes(effort: Effort, dice: Dice) -> list[Line]:
    """The first push that is noticed, and a line again every while."""
    what = Contraction(strength="strong" if effort.strong else "weak")
    missed = min(dice.drawn(_PUSH_SEEN), _PUSH_MISSED.of * (effort.end - effort.begin))
    lines, at = [], effort.begin + missed
    while at < effort.end:
        lines.append(Line(at, what))
        at += dice.drawn(_NEXT_PUSH)
    return lines


def _small_talk(course: Course, dice: Dice) -> list[Line]:
    """A word in a long pause between two pups; green after a pup, as it should be."""
    lines: list[Line] = []
    births = [pup.born for pup in course.pups]
    for before, after in pairwise(births):
        if after - before > _LONG_PAUSE.amount and dice.chance(_WORD.of):
            at = before + dice.between(_WORD_FROM.of, _WORD_TO.of) * (after - before)
            among = len(course.living(at)) > 1
            words = dice.pick((*_WITH_PUPS, *_SMALL_TALK) if among else _SMALL_TALK)
            lines.append(Line(at, Note(words=words)))
    if births and dice.chance(_GREEN.of):
        at = births[0] + dice.drawn(_GREEN_AT)
        lines.append(Line(at, Discharge(colour="green"), "with the afterbirth"))
    if births and dice.chance(_BOX.of):
        warm = degrees(dice.drawn(_BOX_WARM))
        lines.append(Line(births[0] + dice.drawn(_BOX_AT), Temperature(celsius=warm, where="box")))
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
    calm = last + dice.between(_CALM_FROM.of, _CALM_TO.of) * (over - last)
    does = "nurses" if course.nursing(calm) else "rests"
    lines.append(Line(calm, Note(words=f"lies flat on her side and {does}")))
    taken = last + dice.between(_TAKEN_FROM.of, _TAKEN_TO.of) * (over - last)
    lines.append(Line(taken, Temperature(celsius=reading(course, taken, dice))))
    lines.append(Line(over - dice.drawn(_FED), _meal(dice)))
    lines.append(Line(over + 1, Finished()))
    called = over + dice.drawn(_RINGS_AT)
    if dice.chance(_RINGS.of) and not course.in_trouble(called):
        said = "a check agreed for tomorrow"
        if not course.lost(called):
            said = f"all well, {said}"
        lines.append(Line(called, VetContact(contact="called", said=said)))
    return lines


def _meal(dice: Dice) -> What:
    return DamState(signs=(dice.pick(("ate", "drank")),))
