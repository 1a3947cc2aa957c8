"""Labour that fades: some pups come, then the womb is tired and the rest stay inside."""

from boxlamp.imagine.course import Course
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.ours import About, Share, Span
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import (
    Help,
    helped_along,
    off_and_on,
    pushing,
    stopped,
    surgery,
)

_BEGINS = Span(15, 50, "min", "begins after a pup")
_MILD = Share(0.3, "the vet's medicine helps")
_MILD_ENDS = About(200, 0.3, "min", "help forced after, mild")
_ENDS = About(330, 0.3, "min", "help forced after, not mild")
_PAUSES = Span(10, 40, "min", "between two spells of weak pushes")
_MILD_LOST = Share(0.1, "pups inside that die, mild")
_LOST = Share(0.3, "pups inside that die, not mild")


def befall(course: Course, dice: Dice) -> Course:
    """Weak pushing that comes and goes after one of the pups, and no pup by it."""
    born = dice.whole(1, len(course.pups) - 1)
    last = course.pups[born - 1].born
    left = stopped(course, last + 1)
    troubled = last + dice.drawn(_BEGINS)
    mild = dice.chance(_MILD.of)
    ended = troubled + dice.drawn(_MILD_ENDS if mild else _ENDS)
    left = pushing(left, *off_and_on(dice, troubled, ended, _PAUSES))._replace(troubled=troubled)
    told = "some are born, more to come, only weak pushes"
    if mild:
        return helped_along(left, ended, dice, Help(words=told, lost=_MILD_LOST.of))
    return surgery(left, ended, dice, Help(words=told, lost=_LOST.of))


TROUBLE = Trouble(
    name="labour-fades",
    kind="labour",
    share=0.28,
    says="some pups come, then only weak pushes",
    lesson="A womb can tire with pups still inside. What she has done already says nothing of "
    "what she can still do: count what is missing and how long it is since the last one."
    " Here she was left to push weakly for too long before anybody rang.",
    befall=befall,
    hard=True,
    least=3,
)
