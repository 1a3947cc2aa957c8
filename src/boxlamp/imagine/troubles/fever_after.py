"""Fever after the whelping."""

from boxlamp.imagine.course import Course
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.ours import Exactly, Share, Span
from boxlamp.imagine.thermometer import taken
from boxlamp.imagine.troubles.first_days import first_days
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import to_the_vet, told, with_events
from boxlamp.model.happenings import DamState

_BEGINS = Span(0.8, 4.0, "days", "begins after it is over")
_MILD = Share(0.3, "falls again by itself")
_LENGTH = Span(0.6, 1.4, "days", "lasts")
_MILD_HEAT = Span(39.5, 39.7, "°C", "highest, mild")
_HEAT = Span(39.9, 40.6, "°C", "highest, not mild")
_RISING = Exactly(0.25, "°C", "first reading under the highest by")
_FIRST = Share(0.2, "part of its time at the first reading")
_HIGHEST = Share(0.5, "part of its time at the highest reading")
_DULL = Share(0.6, "part of its time at which she is dull")
_FALLEN = Exactly(38.9, "°C", "fallen again to")


def befall(course: Course, dice: Dice) -> Course:
    """It rises over a day with dullness; the mild one stays under 40 and falls again."""
    troubled = course.over + dice.drawn(_BEGINS)
    mild, length = dice.chance(_MILD.of), dice.drawn(_LENGTH)
    events = first_days(course, dice, troubled)
    height = dice.drawn(_MILD_HEAT) if mild else dice.drawn(_HEAT)
    events += told(
        troubled,
        (_FIRST.of * length, taken(height - _RISING.value), ""),
        (_HIGHEST.of * length, taken(height), ""),
    )
    course = course._replace(troubled=troubled)
    if mild:
        events += told(troubled, (length, taken(_FALLEN.value), ""))
        return with_events(course, events)._replace(ended=troubled + length)
    events += told(troubled, (_DULL.of * length, DamState(signs=("dull", "refused-food")), ""))
    course = with_events(course, events)
    return to_the_vet(course, troubled + length, dice, "hot and dull", "fever, treated")


TROUBLE = Trouble(
    name="fever-after",
    kind="dam",
    share=0.14,
    says="fever in the days after the birth",
    lesson="She may run warm on the first day. Later a rise is often the first sign of an "
    "infected womb or udder, and the thermometer has it before she looks ill."
    " Here nobody rang at the first high reading.",
    befall=befall,
)
