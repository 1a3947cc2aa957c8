"""Healthy dams by the hundred, drawn from published means, to see what they would raise.

After whelping: Schulze et al. 2018 (doi:10.1111/rda.13330) give mean and standard deviation of
the rectal temperature of healthy dams for each of the days 0 to 7, and no single series. How much
of the spread lies between dams and how much from one reading to the next is not published, so it
is a parameter here: at 0 every reading is drawn for itself, at 1 each dam keeps her distance from
the mean all week. The truth lies between. The readings are taken as normally distributed.

Before whelping: 45 bitches with 38.0 °C two to three days before the birth, 37.4 at 20 h, 37.0 at
10 h and 37.4 at 1 h before it, and 13 to 33 h (21.5 on average, standard error 0.8) from the
first reading of 37.5 °C or less until the birth. Each bitch is given her own such length, by
which the course is stretched, and every reading a spread of its own (0.2 °C, our choice).
"""

from collections import Counter
from collections.abc import Iterable, Iterator
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from itertools import pairwise
from random import Random
from typing import NamedTuple

from boxlamp.engine import assess
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Finished, Temperature, What
from boxlamp.model.levels import Level
from boxlamp.model.quantities import rounded
from boxlamp.model.story import Story
from boxlamp.protocol.records import Protocol
from boxlamp.rules.registry import BY_ID
from support.nights import DEFAULT

SCHULZE = (
    (38.8, 0.40), (38.9, 0.47), (38.9, 0.35), (38.7, 0.31),
    (38.8, 0.30), (38.6, 0.35), (38.5, 0.27), (38.4, 0.34),
)  # fmt: skip
"""Mean and standard deviation in °C on the days 0 to 7."""
FALL = ((60.0, 38.0), (20.0, 37.4), (10.0, 37.0), (1.0, 37.4), (0.0, 37.4))
"""Hours before the birth, and the mean in °C."""
SPREADS = (0.0, 0.5, 1.0)
"""Shares of the variance that lie between dams."""
AIMS = {Level.WATCH: 0.10, Level.CALL: 0.02, Level.GO: 0.001}
"""The most we would wish for, per healthy dam and day."""

_BIRTH = datetime(2026, 3, 2, 2, 0, tzinfo=UTC)
_BORN: tuple[timedelta, What] = (timedelta(0), Birth(pup=1))
_MORNING, _EVENING = 6, 18
"""Hours after the birth at which she is taken, each day anew."""
_TO_LIMIT, _SD, _SHORTEST, _LONGEST = 21.5, 0.8 * 45**0.5, 13.0, 33.0
_READING_SD = 0.2

Reading = tuple[timedelta, Decimal]
"""How long after the birth (or before it, when negative), and the temperature."""


def first_week(dice: Random, between: float, times: int) -> list[Reading]:
    """One dam's readings on the days 0 to 7, once or twice a day, to the tenth."""
    own = dice.gauss(0, 1)
    found = []
    for day, (mean, deviation) in enumerate(SCHULZE):
        for hour in (_MORNING, _EVENING)[:times]:
            drawn = between**0.5 * own + (1 - between) ** 0.5 * dice.gauss(0, 1)
            at = timedelta(days=day, hours=hour)
            found.append((at, rounded(Decimal(str(mean + deviation * drawn)))))
    return found


def first_week_at_the_means(times: int) -> list[Reading]:
    """The readings of a dam who is at the mean of every day."""
    return [
        (timedelta(days=day, hours=hour), Decimal(str(mean)))
        for day, (mean, _) in enumerate(SCHULZE)
        for hour in (_MORNING, _EVENING)[:times]
    ]


def last_days(dice: Random, every: int) -> list[Reading]:
    """One bitch's readings from four days before the birth on, every so many hours.

    A low one is taken again after an hour, as the program asks.
    """
    length = min(max(dice.gauss(_TO_LIMIT, _SD), _SHORTEST), _LONGEST)
    found: list[Reading] = []
    before = float(96 - dice.randrange(every))
    while before > 0:
        found.append((timedelta(hours=-before), _drawn(dice, before, length)))
        if found[-1][1] <= Decimal("37.2") and before > 1:
            found.append((timedelta(hours=1 - before), _drawn(dice, before - 1, length)))
        before -= every
    return found


def _drawn(dice: Random, before: float, length: float) -> Decimal:
    mean = _fall(before * _TO_LIMIT / length)
    return rounded(Decimal(str(mean + dice.gauss(0, _READING_SD))))


def _fall(before: float) -> float:
    """The published course, straight from one point to the next."""
    for (early, high), (late, low) in pairwise(FALL):
        if late <= before <= early:
            return low + (high - low) * (before - late) / (early - late)
    return FALL[0][1]


class Share(NamedTuple):
    """How many of so many dam-days reached a level or one above it."""

    days: int
    reached: int

    @property
    def part(self) -> float:
        """As a part of one."""
        return self.reached / self.days


def after_whelping(
    dams: int, between: float, times: int, *, protocol: Protocol = DEFAULT
) -> dict[tuple[int | None, Level], Share]:
    """The shares by day (None: all days together) and level; a level above counts as well."""
    dice = Random(f"{between} {times}")  # noqa: S311 - chance, not secrecy
    reached: Counter[tuple[int | None, Level]] = Counter()
    for _ in range(dams):
        readings = first_week(dice, between, times)
        worst: dict[int, Level] = {}
        for at, level in _levels(readings, protocol):
            worst[at.days] = max(level, worst.get(at.days, level))
        for day, highest in worst.items():
            for level in AIMS:
                reached.update([(day, level), (None, level)] if level <= highest else [])
    sizes = dict.fromkeys(range(len(SCHULZE)), dams) | {None: dams * len(SCHULZE)}
    return {
        (day, level): Share(size, reached[day, level])
        for day, size in sizes.items()
        for level in AIMS
    }


def touching(dams: int, between: float, times: int, celsius: str) -> float:
    """The part of the dams that have at least one reading so high in the first week."""
    dice = Random(f"{between} {times}")  # noqa: S311 - chance, not secrecy
    weeks = (first_week(dice, between, times) for _ in range(dams))
    return sum(max(value for _, value in week) >= Decimal(celsius) for week in weeks) / dams


def before_whelping(bitches: int, every: int) -> dict[str, dict[Level, Share]]:
    """How many bitches each level of the two rules about the fall was raised for, in vain."""
    dice = Random(every)  # noqa: S311 - chance, not secrecy
    rules = ("temperature-drop-no-labour", "temperature-back-no-labour")
    reached = {rule: dict.fromkeys(AIMS, 0) for rule in rules}
    for _ in range(bitches):
        readings = last_days(dice, every)
        entries = entries_of(readings, finished=False)
        for rule in rules:
            history = assess(Story(entries), DEFAULT, (BY_ID[rule],)).history(_BIRTH)
            for level in {step.level for step in history if step.change != "cleared"}:
                reached[rule][level] += 1
    return {
        rule: {level: Share(bitches, count) for level, count in levels.items()}
        for rule, levels in reached.items()
    }


def entries_of(readings: Iterable[Reading], *, finished: bool = True) -> list[Entry]:
    """A litter of one pup, and the dam's readings."""
    told: list[tuple[timedelta, What]] = [_BORN]
    told += [(timedelta(hours=1), Finished())] if finished else []
    told += [(at, Temperature(celsius=value)) for at, value in readings]
    return [
        Entry(id=number, litter="x", at=_BIRTH + at, recorded=_BIRTH + at, what=what)
        for number, (at, what) in enumerate(told, start=1)
    ]


def _levels(readings: list[Reading], protocol: Protocol) -> Iterator[tuple[timedelta, Level]]:
    """The level of ``dam-hot`` that stands after each reading, where one does."""
    lives = assess(Story(entries_of(readings)), protocol, (BY_ID["dam-hot"],)).lives
    for at, _ in readings:
        for life in lives:
            level = life.level_at(_BIRTH + at)
            if level is not None and level >= Level.WATCH:
                yield at, level
