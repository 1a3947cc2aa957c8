"""The days after a whelping, as they are when nothing is wrong: weights, and a look at the dam."""

from collections.abc import Callable
from decimal import Decimal
from math import sqrt

from boxlamp.imagine import figures
from boxlamp.imagine.course import Course, Event
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.ours import Exactly, Share, Span
from boxlamp.imagine.thermometer import taken
from boxlamp.model.happenings import DamState, Round, VetContact, Weighed

_CHECKED = Span(14, 22, "h", "the vet's look after it is over")
_FIRST_ROUND = Span(0.7, 1.1, "days", "first round of weights after the last pup")
_NEXT_ROUND = Span(0.93, 1.07, "days", "from round to round")
_TAKEN = Exactly(4, "min", "the dam's temperature after a round")
_ATE = Share(0.5, "of these days with a line that she ate")
_ATE_AFTER = Exactly(9, "min", "that line after a round")
_SCALE = Span(0.99, 1.01, "times", "the usual weight of that day")
_OF_THE_DAM = Share(0.5, "of the variance of daily temperatures that lies between dams")
_WEEK = Exactly(7, "days", "the first week of weights")
_NO_GAIN = Exactly(0.5, "days", "after the birth without gain")

DAY = 24 * 60.0


def first_days(
    course: Course,
    dice: Dice,
    until: float,
    grown: Callable[[int, float], float | None] = lambda _place, _days: None,
) -> list[Event]:
    """A weighing round and a temperature every day until a minute, and the vet's look.

    ``grown`` may say how many times its birth weight a pup has by some day of its life.
    """
    checked = course.over + dice.drawn(_CHECKED)
    events, own = [], dice.normal(0, 1)
    if checked < until:
        events.append(Event(checked, VetContact(contact="seen", said=_found(course, checked))))
    at = course.pups[-1].born + dice.drawn(_FIRST_ROUND)
    while at < until:
        weights = _weights(course, at, dice, grown)
        if weights:
            events.append(Event(at, Round(weights=weights)))
        warm = _warm(at - course.pups[-1].born, own, dice)
        events.append(Event(at + _TAKEN.amount, taken(warm)))
        if dice.chance(_ATE.of):
            events.append(Event(at + _ATE_AFTER.amount, DamState(signs=("ate",))))
        at += dice.drawn(_NEXT_ROUND)
    return events


def _found(course: Course, at: float) -> str:
    """What the vet finds: all is well only where none has died and none is ill."""
    return "the dam is well" if course.lost(at) or course.in_trouble(at) else "all well"


def _warm(after: float, own: float, dice: Dice) -> float:
    """A healthy dam's temperature on a day: ``own`` is how far she keeps from the mean of it."""
    day = min(int(after // DAY), len(figures.DAILY_WARMTH) - 1)
    mean, spread, _ = figures.DAILY_WARMTH[day]
    between = _OF_THE_DAM.of
    return mean + spread * (sqrt(between) * own + sqrt(1 - between) * dice.normal(0, 1))


def _weights(
    course: Course, at: float, dice: Dice, grown: Callable[[int, float], float | None]
) -> tuple[Weighed, ...]:
    weights = []
    for place, pup in enumerate(course.pups):
        if pup.alive and pup.milk < at:
            days = (at - pup.born) / DAY
            times = grown(place, days) or usual_growth(days) * dice.drawn(_SCALE)
            weights.append(Weighed(pup=place + 1, grams=Decimal(round(pup.grams * times))))
    return tuple(weights)


def usual_growth(days: float) -> float:
    """How many times its birth weight a thriving pup has after so many days."""
    first, later = figures.GAIN_FIRST_WEEK.value, figures.GAIN_LATER.value
    early = max(0.0, min(days, _WEEK.value) - _NO_GAIN.value)
    return float((1 + first) ** early * (1 + later) ** max(0.0, days - _WEEK.value))
