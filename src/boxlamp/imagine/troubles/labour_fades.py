"""Labour that fades: some pups come, then the womb is tired and the rest stay inside."""

from boxlamp.imagine.course import Course
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import (
    Help,
    helped_along,
    off_and_on,
    pushing,
    stopped,
    surgery,
)


def befall(course: Course, dice: Dice) -> Course:
    """Weak pushing that comes and goes after one of the pups, and no pup by it."""
    born = dice.whole(1, len(course.pups) - 1)
    last = course.pups[born - 1].born
    left = stopped(course, last + 1)
    troubled = last + dice.between(15, 50)
    mild = dice.chance(0.3)
    ended = troubled + dice.lognormal(200 if mild else 330, 0.3)
    left = pushing(left, *off_and_on(dice, troubled, ended, (10, 40)))._replace(troubled=troubled)
    told = "some are born, more to come, only weak pushes"
    if mild:
        return helped_along(left, ended, dice, Help(words=told, lost=0.1))
    return surgery(left, ended, dice, Help(words=told, lost=0.3))


TROUBLE = Trouble(
    name="labour-fades",
    kind="labour",
    share=0.28,
    says="some pups come, then only weak pushes",
    lesson="A womb can tire with pups still inside. What she has done already says nothing of "
    "what she can still do: count what is missing and how long it is since the last one.",
    befall=befall,
    hard=True,
    least=3,
)
