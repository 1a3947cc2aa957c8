"""Fever after the whelping."""

from boxlamp.imagine.course import Course
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.thermometer import taken
from boxlamp.imagine.troubles.first_days import DAY, first_days
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import to_the_vet, told, with_events
from boxlamp.model.happenings import DamState


def befall(course: Course, dice: Dice) -> Course:
    """It rises over a day with dullness; the mild one stays under 40 and falls again."""
    troubled = course.over + dice.between(0.8, 4.0) * DAY
    mild, length = dice.chance(0.3), dice.between(0.6, 1.4) * DAY
    events = first_days(course, dice, troubled)
    height = dice.between(39.5, 39.7) if mild else dice.between(39.9, 40.6)
    events += told(
        troubled,
        (0.2 * length, taken(height - 0.25), ""),
        (0.5 * length, taken(height), ""),
    )
    course = course._replace(troubled=troubled)
    if mild:
        events += told(troubled, (length, taken(38.9), ""))
        return with_events(course, events)._replace(ended=troubled + length)
    events += told(troubled, (0.6 * length, DamState(signs=("dull", "refused-food")), ""))
    course = with_events(course, events)
    return to_the_vet(course, troubled + length, dice, "hot and dull", "fever, treated")


TROUBLE = Trouble(
    name="fever-after",
    kind="dam",
    share=0.14,
    says="fever in the days after the birth",
    lesson="She may run warm on the first day. Later a rise is often the first sign of an "
    "infected womb or udder, and the thermometer has it before she looks ill.",
    befall=befall,
)
