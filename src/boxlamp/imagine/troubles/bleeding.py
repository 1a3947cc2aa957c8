"""Fresh blood after the birth, more than streaks."""

from boxlamp.imagine.course import Course
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import to_the_vet, told, with_events
from boxlamp.model.happenings import DamState, Discharge


def befall(course: Course, dice: Dice) -> Course:
    """It stops within half an hour, or grows until her gums are pale."""
    troubled = course.pups[-1].born + dice.between(8, 50)
    if dice.chance(0.4):
        ended = troubled + dice.between(14, 35)
        events = told(
            troubled,
            (0, Discharge(colour="red"), "fresh"),
            (9, Discharge(colour="red"), "still"),
            (ended - troubled, Discharge(colour="red", amount="none"), "stopped"),
        )
        return with_events(course, events)._replace(troubled=troubled, ended=ended)
    ended = troubled + dice.lognormal(75, 0.3)
    worse = dice.between(6, 20)
    events = told(
        troubled,
        (0, Discharge(colour="red"), "fresh"),
        (worse, Discharge(colour="red", amount=dice.pick(("heavy", "clots"))), ""),
        (0.8 * (ended - troubled), DamState(signs=("pale",)), ""),
    )
    course = with_events(course, events)._replace(troubled=troubled)
    return to_the_vet(course, ended, dice, "bleeding, and her gums are pale", "stays with the vet")


TROUBLE = Trouble(
    name="bleeding",
    kind="dam",
    share=0.12,
    says="fresh blood, more than streaks",
    lesson="Some blood belongs to a birth, a flow does not. Put a white towel under her, look at "
    "the clock, and look at her gums."
    " Here nobody rang when the flow began.",
    befall=befall,
)
