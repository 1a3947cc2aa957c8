"""Green before the first pup: an afterbirth has come loose, and its pup is losing its air."""

from boxlamp.imagine.course import Course, Event
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.ours import About, Share, Span
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import Help, held_up, stopped, surgery, with_events
from boxlamp.model.happenings import Discharge

_BEFORE = Share(0.5, "before the first strain; else after it")
_EARLY = Span(5, 60, "min", "begins before the first strain")
_SOON = Span(0, 20, "min", "or after it")
_MILD = Share(0.35, "the pup comes by itself")
_COMES = Span(15, 50, "min", "it comes after at the soonest")
_ENDS = About(130, 0.3, "min", "help forced after")
_LOST = Share(0.25, "pups behind it that die")


def befall(course: Course, dice: Dice) -> Course:
    """Green discharge and no pup for long; the mild one has its pup within the hour."""
    troubled = -dice.drawn(_EARLY) if dice.chance(_BEFORE.of) else dice.drawn(_SOON)
    green = Event(troubled, Discharge(colour="green", amount=dice.pick(("some", "heavy"))))
    born = course.pups[0].born
    if dice.chance(_MILD.of):
        longer = max(0.0, troubled + dice.drawn(_COMES) - born)
        later = with_events(held_up(course, born, longer), [green])
        return later._replace(troubled=troubled, ended=born + longer)
    ended = troubled + dice.drawn(_ENDS)
    left = stopped(course, min(born, ended))
    left = with_events(left, [green])._replace(troubled=troubled)
    return surgery(
        left, ended, dice, Help(words="green and no pup", lost=_LOST.of, first_lost=True)
    )


TROUBLE = Trouble(
    name="green-first",
    kind="passage",
    share=0.2,
    says="green discharge before any pup",
    lesson="Green after a pup is the colour of its afterbirth. Green before the first one says "
    "that an afterbirth has come loose with its pup still inside."
    " Here nobody rang at the first green.",
    befall=befall,
)
