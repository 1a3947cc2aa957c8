"""Overdue: the day is past, the pups are ready, and she does not begin."""

from boxlamp.imagine.course import NEVER, Course
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.troubles.first_days import DAY
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import Help, stopped, surgery

_LAST_GOOD_DAY = 65
"""More than some two days past the usual 63 an afterbirth may fail its pup (Lopate 2018)."""


def befall(course: Course, dice: Dice) -> Course:
    """Days of waiting; the mild one begins by herself at last, the other is opened too late."""
    days = dice.whole(67, 70)
    troubled = (_LAST_GOOD_DAY - days) * DAY
    late = course._replace(
        dam=course.dam._replace(days=days),
        watched=troubled - dice.between(1.5, 2.5) * DAY,
        troubled=troubled,
    )
    if dice.chance(0.4):
        return late._replace(ended=course.pups[0].born)
    warm = course.warmth[0][1]
    late = stopped(late, -DAY)._replace(signs=NEVER, warmth=((-10 * DAY, warm), (0.0, warm - 0.1)))
    return surgery(late, 0.0, dice, Help("days over, and no sign of labour", lost=0.35))


TROUBLE = Trouble(
    name="overdue",
    kind="labour",
    share=0.08,
    says="days past her time, and no labour",
    lesson="A calm bitch past her day is not a safe one: the afterbirths grow old before the "
    "pups do. How long is too long depends on what the days are counted from."
    " Here days were let go by without asking.",
    befall=befall,
)
