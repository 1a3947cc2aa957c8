"""A pup is born in its sac, and nobody opens it in time."""

from boxlamp.imagine.course import NEVER, Course
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.ours import About, Share, Span
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import breathes_or_dies

_MILD = Share(0.6, "opened in time")
_SOON = Span(50, 120, "s", "opened after, in time")
_LATE = Span(200, 420, "s", "opened after, too late")
_BREATHES = Span(20, 90, "s", "breathes after that")
_DIES = Span(12, 25, "min", "given up after its birth")
_MILK = About(40, 0.3, "min", "first milk of one that breathes")


def befall(course: Course, dice: Dice) -> Course:
    """The sac is opened after a minute or two, or after five: the pup breathes, or never does."""
    place = dice.whole(0, len(course.pups) - 1)
    pup, mild = course.pups[place], dice.chance(_MILD.of)
    opened = dice.drawn(_SOON) if mild else dice.drawn(_LATE)
    breathes = opened + dice.drawn(_BREATHES) if mild else NEVER
    milk = dice.drawn(_MILK) if mild else NEVER
    pup = pup._replace(
        state="alive", in_sac=True, sac_opened=opened, breathes=breathes, milk=milk
    )  # fmt: skip
    ended = pup.born + (breathes / 60 if mild else dice.drawn(_DIES))
    return breathes_or_dies(course, place, pup, ended, "in its sac for too long")


TROUBLE = Trouble(
    name="stuck-in-sac",
    kind="newborn",
    share=0.12,
    says="a pup stays in its sac for too long",
    lesson="A pup in its sac drowns in the time it takes to look for a pen. The hand opens the "
    "sac, the writing comes after."
    " Here the sac was opened late.",
    befall=befall,
)
