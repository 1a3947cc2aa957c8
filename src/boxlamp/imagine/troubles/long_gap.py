"""A long gap: she rests, the pups that are out drink, and the next one does not come."""

from boxlamp.imagine.course import Course
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import Help, held_up, helped_along, stopped, surgery


def befall(course: Course, dice: Dice) -> Course:
    """No push at all after one of the pups; in the mild form she begins again by herself."""
    born = dice.whole(1, len(course.pups) - 1)
    last = course.pups[born - 1].born
    troubled = last + dice.between(30, 60)
    if dice.chance(0.4):
        longer = dice.between(110, 210)
        later = held_up(course, last + 1, longer)
        return later._replace(troubled=troubled, ended=later.pups[born].born)
    left = stopped(course, last + 1)
    ended = last + dice.lognormal(340, 0.25)
    left = left._replace(troubled=troubled)
    if dice.chance(0.5):
        return helped_along(
            left, ended, dice, Help(words="no push for hours, and more to come", lost=0.2)
        )
    return surgery(left, ended, dice, Help(words="no push for hours, and more to come", lost=0.35))


TROUBLE = Trouble(
    name="long-gap",
    kind="labour",
    share=0.16,
    says="pups are left, and she only rests",
    lesson="A long sleep between two pups looks peaceful and may be. With pups known to be left "
    "the clock runs from the last one, whether she pushes or not.",
    befall=befall,
    least=3,
)
