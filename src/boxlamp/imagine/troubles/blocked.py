"""Strong pushing and no pup: one lies across, is too large, or two are wedged together."""

from boxlamp.imagine.course import Course, Effort
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.ours import About, Share, Span
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import Help, late_and_limp, pushing, stopped, surgery

_FIRST = Share(0.5, "it is the first pup; else any")
_MILD = Share(0.3, "it passes at last")
_LONGER = Span(25, 60, "min", "passes later by")
_BREATHES = About(70, 0.5, "s", "then breathes after")
_ENDS = About(100, 0.35, "min", "help forced after")
_LOST = Share(0.2, "pups behind it that die")


def befall(course: Course, dice: Dice) -> Course:
    """Hard labour for one pup that does not pass, or passes at last in the mild form."""
    stuck = 0 if dice.chance(_FIRST.of) else dice.whole(0, len(course.pups) - 1)
    born = course.pups[stuck].born
    begins = next(e.begin for e in course.efforts if e.strong and e.end == born)
    if dice.chance(_MILD.of):
        longer = dice.drawn(_LONGER)
        later = late_and_limp(course, stuck, longer, dice.drawn(_BREATHES))
        later = later._replace(
            efforts=tuple(
                e._replace(begin=begins) if e.strong and e.end == born + longer else e
                for e in later.efforts
            ),
        )  # fmt: skip
        return later._replace(troubled=begins, ended=born + longer)
    left = stopped(course, begins)
    ended = begins + dice.drawn(_ENDS)
    left = pushing(left, Effort(begins, ended, strong=True))._replace(troubled=begins)
    return surgery(
        left,
        ended,
        dice,
        Help(words="pushing hard and nothing comes", lost=_LOST.of, first_lost=True),
    )


TROUBLE = Trouble(
    name="blocked",
    kind="passage",
    share=0.35,
    says="strong pushing, and no pup",
    lesson="Strong pushing that brings nothing can wait least of all: the pup in "
    "the passage has little air, and every push costs it some."
    " Here the pushing was watched for too long before anybody rang, or nobody rang at all.",
    befall=befall,
)
