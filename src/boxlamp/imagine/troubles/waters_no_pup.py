"""The waters break, and no pup follows."""

from boxlamp.imagine.course import NEVER, Course
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import Help, off_and_on, pushing, stopped, surgery


def befall(course: Course, dice: Dice) -> Course:
    """Dry hours; in the mild form the first pup comes late but by itself."""
    first = course.pups[0].born
    if dice.chance(0.4):
        waters = first - dice.between(80, 160)
        return course._replace(waters=waters, sac=NEVER, troubled=waters, ended=first)
    waters = -dice.between(5, 40)
    ended = waters + dice.lognormal(290, 0.3)
    dry = stopped(course, -1.0)._replace(waters=waters, troubled=waters)
    if dice.chance(0.5):
        dry = pushing(dry, *off_and_on(dice, waters + 60, ended - 30, (40, 90)))
    return surgery(dry, ended, dice, Help("waters gone for hours and no pup", lost=0.25))


TROUBLE = Trouble(
    name="waters-no-pup",
    kind="labour",
    share=0.07,
    says="the waters break, and no pup follows",
    lesson="With the waters gone the way is open and time counts, even if she lies there "
    "quietly. Write down when you saw the wet bedding, and its colour."
    " Here hours were waited through before anybody rang, or nobody rang at all: too late.",
    befall=befall,
)
