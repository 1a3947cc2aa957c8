"""The days after a whelping, as they are when nothing is wrong: weights, and a look at the dam."""

from collections.abc import Callable
from decimal import Decimal

from boxlamp.imagine import figures
from boxlamp.imagine.course import Course, Event
from boxlamp.imagine.dice import Dice
from boxlamp.model.happenings import DamState, Round, Temperature, VetContact, Weighed

DAY = 1440.0
_WEEK, _NO_GAIN = 7.0, 0.5


def first_days(
    course: Course,
    dice: Dice,
    until: float,
    grown: Callable[[int, float], float | None] = lambda _place, _days: None,
) -> list[Event]:
    """A weighing round and a temperature every day until a minute, and the vet's look.

    ``grown`` may say how many times its birth weight a pup has by some day of its life.
    """
    checked = course.over + dice.between(14, 22) * 60
    events = []
    if checked < until:
        events.append(Event(checked, VetContact(contact="seen", said=_found(course, checked))))
    at = course.pups[-1].born + dice.between(0.7, 1.1) * DAY
    while at < until:
        weights = _weights(course, at, dice, grown)
        if weights:
            events.append(Event(at, Round(weights=weights)))
        warm = Decimal(f"{min(course.celsius(at) + dice.normal(0.0, 0.1), 39.1):.1f}")
        events.append(Event(at + 4, Temperature(celsius=warm)))
        if dice.chance(0.5):
            events.append(Event(at + 9, DamState(signs=("ate",))))
        at += dice.between(0.93, 1.07) * DAY
    return events


def _found(course: Course, at: float) -> str:
    """What the vet finds: all is well only where none has died and none is ill."""
    return "the dam is well" if course.lost(at) or course.in_trouble(at) else "all well"


def _weights(
    course: Course, at: float, dice: Dice, grown: Callable[[int, float], float | None]
) -> tuple[Weighed, ...]:
    weights = []
    for place, pup in enumerate(course.pups):
        if pup.alive and pup.milk < at:
            days = (at - pup.born) / DAY
            times = grown(place, days) or usual_growth(days) * dice.between(0.99, 1.01)
            weights.append(Weighed(pup=place + 1, grams=Decimal(round(pup.grams * times))))
    return tuple(weights)


def usual_growth(days: float) -> float:
    """How many times its birth weight a thriving pup has after so many days."""
    first, later = figures.GAIN_FIRST_WEEK.value, figures.GAIN_LATER.value
    early = max(0.0, min(days, _WEEK) - _NO_GAIN)
    return float((1 + first) ** early * (1 + later) ** max(0.0, days - _WEEK))
