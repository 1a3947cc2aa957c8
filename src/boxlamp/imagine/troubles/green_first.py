"""Green before the first pup: an afterbirth has come loose, and its pup is losing its air."""

from boxlamp.imagine.course import Course, Event
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import Help, held_up, stopped, surgery, with_events
from boxlamp.model.happenings import Discharge


def befall(course: Course, dice: Dice) -> Course:
    """Green discharge and no pup for long; the mild one has its pup within the hour."""
    troubled = -dice.between(5, 60) if dice.chance(0.5) else dice.between(0, 20)
    green = Event(troubled, Discharge(colour="green", amount=dice.pick(("some", "heavy"))))
    born = course.pups[0].born
    if dice.chance(0.35):
        longer = max(0.0, troubled + dice.between(15, 50) - born)
        later = with_events(held_up(course, born, longer), [green])
        return later._replace(troubled=troubled, ended=born + longer)
    ended = troubled + dice.lognormal(130, 0.3)
    left = stopped(course, min(born, ended))
    left = with_events(left, [green])._replace(troubled=troubled)
    return surgery(left, ended, dice, Help(words="green and no pup", lost=0.25, first_lost=True))


TROUBLE = Trouble(
    name="green-first",
    kind="passage",
    share=0.2,
    says="green discharge before any pup",
    lesson="Green after a pup is the colour of its afterbirth. Green before the first one says "
    "that an afterbirth has come loose with its pup still inside.",
    befall=befall,
)
