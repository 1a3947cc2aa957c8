"""A part of a pup shows and the pup does not follow."""

from boxlamp.imagine.course import Course, Effort, Event
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.ours import About, Share, Span
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import (
    Help,
    late_and_limp,
    pushing,
    stopped,
    surgery,
    with_events,
)
from boxlamp.model.happenings import Part

_FEET = Share(0.4, "it is the feet")
_HEAD = Share(0.35, "it is the head")
_RUMP = Share(0.25, "it is the rump")
_MILD = Share(0.4, "it slips out")
_LONGER = Span(6, 18, "min", "slips out after")
_BREATHES = About(60, 0.5, "s", "then breathes after")
_ENDS = About(40, 0.4, "min", "help forced after")
_LOST = Share(0.15, "pups behind it that die")


def befall(course: Course, dice: Dice) -> Course:
    """Head, feet or rump at the vulva; the mild one slips out after some minutes of pushing."""
    stuck = dice.whole(0, len(course.pups) - 1)
    born = course.pups[stuck].born
    shown = Part(part=dice.weighted((("feet", _FEET.of), ("head", _HEAD.of), ("rump", _RUMP.of))))
    if dice.chance(_MILD.of):
        longer = dice.drawn(_LONGER)
        later = late_and_limp(course, stuck, longer, dice.drawn(_BREATHES))
        later = with_events(later, [Event(born, shown, to_the_second=True)])
        return later._replace(troubled=born, ended=born + longer)
    left = stopped(course, born)
    ended = born + dice.drawn(_ENDS)
    left = pushing(left, Effort(born, ended, strong=True))
    left = with_events(left, [Event(born, shown, to_the_second=True)])._replace(troubled=born)
    return surgery(
        left,
        ended,
        dice,
        Help(words="a pup half out and stuck", lost=_LOST.of, first_lost=True),
    )


TROUBLE = Trouble(
    name="part-stuck",
    kind="passage",
    share=0.3,
    says="part of a pup shows and does not come",
    lesson="Once a part of a pup shows, its cord may be squeezed and it cannot breathe yet. "
    "Minutes count here, and nobody pulls against her."
    " Here nobody rang at once, and that was the time for it.",
    befall=befall,
)
