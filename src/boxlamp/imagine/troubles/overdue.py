"""Overdue: the day is past, the pups are ready, and she does not begin."""

from boxlamp.imagine import figures
from boxlamp.imagine.course import NEVER, Course
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.ours import Exactly, Share, Span
from boxlamp.imagine.troubles.first_days import DAY
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import Help, stopped, surgery

_DAYS = Span(67, 70, "days", "day of birth from ovulation")
_WATCHED = Span(1.5, 2.5, "days", "her temperature taken before it begins")
_MILD = Share(0.4, "she begins by herself")
_WARM_FROM = Exactly(10, "days", "her temperature told before the end")
_COOLS = Exactly(0.1, "°C", "and falls by")
_LOST = Share(0.35, "pups that die")


def befall(course: Course, dice: Dice) -> Course:
    """Days of waiting; the mild one begins by herself at last, the other is opened too late."""
    days = dice.whole(*_DAYS.whole)
    troubled = (figures.LAST_GOOD_DAY.value - days) * DAY
    late = course._replace(
        dam=course.dam._replace(days=days),
        watched=troubled - dice.drawn(_WATCHED),
        troubled=troubled,
    )
    if dice.chance(_MILD.of):
        return late._replace(ended=course.pups[0].born)
    warm = course.warmth[0][1]
    late = stopped(late, -DAY)._replace(
        signs=NEVER, warmth=((-_WARM_FROM.amount, warm), (0.0, warm - _COOLS.value))
    )
    return surgery(late, 0.0, dice, Help("days over, and no sign of labour", lost=_LOST.of))


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
