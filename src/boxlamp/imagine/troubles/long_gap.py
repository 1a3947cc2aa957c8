"""A long gap: she rests, the pups that are out drink, and the next one does not come."""

from boxlamp.imagine.course import Course
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.ours import About, Share, Span
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import Help, held_up, helped_along, stopped, surgery

_BEGINS = Span(30, 60, "min", "begins after a pup")
_MILD = Share(0.4, "she begins again by herself")
_LONGER = Span(110, 210, "min", "then the gap is longer by")
_ENDS = About(340, 0.25, "min", "help forced after the last pup")
_HELPED = Share(0.5, "of the others the vet's medicine helps")
_HELPED_LOST = Share(0.2, "pups inside that die, medicine")
_LOST = Share(0.35, "pups inside that die, surgery")


def befall(course: Course, dice: Dice) -> Course:
    """No push at all after one of the pups; in the mild form she begins again by herself."""
    born = dice.whole(1, len(course.pups) - 1)
    last = course.pups[born - 1].born
    troubled = last + dice.drawn(_BEGINS)
    if dice.chance(_MILD.of):
        longer = dice.drawn(_LONGER)
        later = held_up(course, last + 1, longer)
        return later._replace(troubled=troubled, ended=later.pups[born].born)
    left = stopped(course, last + 1)
    ended = last + dice.drawn(_ENDS)
    left = left._replace(troubled=troubled)
    if dice.chance(_HELPED.of):
        return helped_along(
            left,
            ended,
            dice,
            Help(words="no push for hours, and more to come", lost=_HELPED_LOST.of),
        )
    return surgery(
        left, ended, dice, Help(words="no push for hours, and more to come", lost=_LOST.of)
    )


TROUBLE = Trouble(
    name="long-gap",
    kind="labour",
    share=0.16,
    says="pups are left, and she only rests",
    lesson="A long sleep between two pups looks peaceful and may be. With pups known to be left "
    "the clock runs from the last one, whether she pushes or not."
    " Here the gap was let grow for too long before anybody rang, or nobody rang at all.",
    befall=befall,
    least=3,
)
