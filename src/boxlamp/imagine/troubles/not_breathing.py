"""A pup that does not breathe at birth."""

from boxlamp.imagine.course import NEVER, Course
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.ours import About, Share, Span
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import breathes_or_dies

_MILD = Share(0.6, "it breathes at last")
_BREATHES = About(150, 0.45, "s", "then after")
_DIES = Span(8, 25, "min", "given up after")
_MILK = About(50, 0.3, "min", "first milk of one that breathes")


def befall(course: Course, dice: Dice) -> Course:
    """One pup comes limp: it breathes after some minutes of rubbing, or never."""
    place = dice.whole(0, len(course.pups) - 1)
    pup, mild = course.pups[place], dice.chance(_MILD.of)
    breathes = dice.drawn(_BREATHES) if mild else NEVER
    ended = pup.born + (breathes / 60 if mild else dice.drawn(_DIES))
    milk = dice.drawn(_MILK) if mild else NEVER
    pup = pup._replace(state="limp", in_sac=False, breathes=breathes, milk=milk)
    return breathes_or_dies(course, place, pup, ended, "never breathed")


TROUBLE = Trouble(
    name="not-breathing",
    kind="newborn",
    share=0.25,
    says="a pup that does not breathe at birth",
    lesson="A limp pup is helped before anything is written: head low, mouth and nose clear, "
    "rubbed hard and kept warm. The minutes without a breath are what the vet will ask for."
    " A second person rings meanwhile: here nobody did.",
    befall=befall,
)
