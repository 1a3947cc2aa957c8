"""The waters break, and no pup follows."""

from boxlamp.imagine.course import NEVER, Course
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.ours import About, Exactly, Share, Span
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import Help, off_and_on, pushing, stopped, surgery

_MILD = Share(0.4, "the first pup comes by itself")
_BEFORE = Span(80, 160, "min", "then the waters go before it")
_GO = Span(5, 40, "min", "the waters go before the first strain was due")
_ENDS = About(290, 0.3, "min", "help forced after")
_WEAK = Share(0.5, "weak pushes meanwhile")
_FROM = Exactly(60, "min", "from then after the waters")
_UNTIL = Exactly(30, "min", "until then before help")
_PAUSES = Span(40, 90, "min", "between two spells of weak pushes")
_LOST = Share(0.25, "pups that die")


def befall(course: Course, dice: Dice) -> Course:
    """Dry hours; in the mild form the first pup comes late but by itself."""
    first = course.pups[0].born
    if dice.chance(_MILD.of):
        waters = first - dice.drawn(_BEFORE)
        return course._replace(waters=waters, sac=NEVER, troubled=waters, ended=first)
    waters = -dice.drawn(_GO)
    ended = waters + dice.drawn(_ENDS)
    dry = stopped(course, -1.0)._replace(waters=waters, troubled=waters)
    if dice.chance(_WEAK.of):
        dry = pushing(dry, *off_and_on(dice, waters + _FROM.amount, ended - _UNTIL.amount, _PAUSES))
    return surgery(dry, ended, dice, Help("waters gone for hours and no pup", lost=_LOST.of))


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
