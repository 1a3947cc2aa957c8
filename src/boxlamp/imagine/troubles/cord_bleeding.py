"""A cord that bleeds."""

from boxlamp.imagine.course import Course, Event
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import with_events, with_pup
from boxlamp.model.happenings import PupState


def befall(course: Course, dice: Dice) -> Course:
    """Chewed too short, it bleeds for a minute or two, or until the pup is pale."""
    place = dice.whole(0, len(course.pups) - 1)
    pup, mild = course.pups[place], dice.chance(0.6)
    bleeds = dice.between(1.0, 5.0) if mild else dice.between(6.0, 18.0)
    pup = pup._replace(
        state="alive", breathes=min(pup.breathes, 60.0), bleeds=bleeds,
        milk=min(pup.milk, 60.0) if mild else dice.between(90, 200),
    )  # fmt: skip
    ended = pup.born + 1.5 + bleeds
    course = with_pup(course, place, pup)._replace(troubled=pup.born + 1.5, ended=ended)
    if mild:
        return course
    pale = PupState(pup=place + 1, signs=("pale", "weak"))
    return with_events(course, [Event(ended - 1.5, pale), Event(ended + 20, pale)])


TROUBLE = Trouble(
    name="cord-bleeding",
    kind="newborn",
    share=0.08,
    says="a cord that bleeds",
    lesson="A newborn has a few spoonfuls of blood in all. Pinch the cord, tie it, and look again "
    "a minute later."
    " Here nobody rang while it bled.",
    befall=befall,
)
