"""Fresh blood after the birth, more than streaks."""

from boxlamp.imagine.course import Course
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.ours import About, Exactly, Share, Span
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import to_the_vet, told, with_events
from boxlamp.model.happenings import DamState, Discharge

_BEGINS = Span(8, 50, "min", "begins after the last pup")
_MILD = Share(0.4, "stops by itself")
_STOPS = Span(14, 35, "min", "stops by itself after")
_AGAIN = Exactly(9, "min", "looked at again after")
_ENDS = About(75, 0.3, "min", "help forced after")
_WORSE = Span(6, 20, "min", "heavy after")
_PALE = Share(0.8, "part of the time until help at which she is pale")


def befall(course: Course, dice: Dice) -> Course:
    """It stops within half an hour, or grows until her gums are pale."""
    troubled = course.pups[-1].born + dice.drawn(_BEGINS)
    if dice.chance(_MILD.of):
        ended = troubled + dice.drawn(_STOPS)
        events = told(
            troubled,
            (0, Discharge(colour="red"), "fresh"),
            (_AGAIN.amount, Discharge(colour="red"), "still"),
            (ended - troubled, Discharge(colour="red", amount="none"), "stopped"),
        )
        return with_events(course, events)._replace(troubled=troubled, ended=ended)
    ended = troubled + dice.drawn(_ENDS)
    worse = dice.drawn(_WORSE)
    events = told(
        troubled,
        (0, Discharge(colour="red"), "fresh"),
        (worse, Discharge(colour="red", amount=dice.pick(("heavy", "clots"))), ""),
        (_PALE.of * (ended - troubled), DamState(signs=("pale",)), ""),
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
