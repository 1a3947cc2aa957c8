"""Weak labour from the start: the womb pushes weakly, or hardly at all, and no pup comes."""

from boxlamp.imagine.course import Course, Effort
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.ours import About, Share, Span
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import Help, held_up, off_and_on, pushing, stopped, surgery

_MILD = Share(0.3, "pushes gather strength at last")
_LONGER = Span(75, 150, "min", "then later by")
_ENDS = About(270, 0.35, "min", "help forced after")
_PAUSES = Span(3, 12, "min", "between two spells of weak pushes")
_LOST = Share(0.3, "pups that die")


def befall(course: Course, dice: Dice) -> Course:
    """Weak pushes for hours; in the mild form they gather strength at last."""
    first = course.pups[0].born
    strong = course.efforts[-1] if len(course.pups) == 1 else course.efforts[_first_strong(course)]
    if dice.chance(_MILD.of):
        longer = dice.drawn(_LONGER)
        later = held_up(course, strong.begin, longer)
        weak = Effort(0.0, strong.begin + longer, strong=False)
        later = later._replace(efforts=tuple(e for e in later.efforts if e.end != strong.begin))
        return pushing(later, weak)._replace(troubled=0.0, ended=first + longer)
    ended = dice.drawn(_ENDS)
    left = stopped(course, 0.0)
    left = pushing(left, *off_and_on(dice, 0.0, ended, _PAUSES))._replace(troubled=0.0)
    return surgery(left, ended, dice, Help(words="weak pushes for hours and no pup", lost=_LOST.of))


def _first_strong(course: Course) -> int:
    return next(place for place, effort in enumerate(course.efforts) if effort.strong)


TROUBLE = Trouble(
    name="weak-labour",
    kind="labour",
    share=0.26,
    says="weak pushes for hours, and no pup",
    lesson="Weak pushes tire nobody who watches, and so the hours go by. Count from the first "
    "of them: a womb that is weak from the start seldom mends alone."
    " Here she was left to it for too long before anybody rang, or nobody rang at all.",
    befall=befall,
    hard=True,
)
