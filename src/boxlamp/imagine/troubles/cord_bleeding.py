"""A cord that bleeds."""

from boxlamp.imagine import newborn
from boxlamp.imagine.course import Course, Event
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.ours import Exactly, Share, Span
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import with_events, with_pup
from boxlamp.model.happenings import PupState

_MILD = Share(0.6, "stops soon")
_SHORT = Span(1, 5, "min", "bleeds, mild")
_LONG = Span(6, 18, "min", "bleeds, not mild")
_LATE_MILK = Span(90, 200, "min", "first milk of a pale pup")
_BREATHED = Exactly(60, "s", "it had breathed within")
_DRANK = Exactly(60, "min", "else it has drunk within")
_PALE_BEFORE = Exactly(1.5, "min", "pale before it stops")
_STILL_PALE = Exactly(20, "min", "still pale after it stopped")


def befall(course: Course, dice: Dice) -> Course:
    """Chewed too short, it bleeds for a minute or two, or until the pup is pale."""
    place = dice.whole(0, len(course.pups) - 1)
    pup, mild = course.pups[place], dice.chance(_MILD.of)
    bleeds = dice.drawn(_SHORT) if mild else dice.drawn(_LONG)
    pup = pup._replace(
        state="alive", breathes=min(pup.breathes, _BREATHED.value), bleeds=bleeds,
        milk=min(pup.milk, _DRANK.amount) if mild else dice.drawn(_LATE_MILK),
    )  # fmt: skip
    troubled = pup.born + newborn.CORD_SEEN.amount
    ended = troubled + bleeds
    course = with_pup(course, place, pup)._replace(troubled=troubled, ended=ended)
    if mild:
        return course
    pale = PupState(pup=place + 1, signs=("pale", "weak"))
    return with_events(
        course, [Event(ended - _PALE_BEFORE.amount, pale), Event(ended + _STILL_PALE.amount, pale)]
    )


TROUBLE = Trouble(
    name="cord-bleeding",
    kind="newborn",
    share=0.08,
    says="a cord that bleeds",
    lesson="A newborn has a few spoonfuls of blood in all. Pinch the cord, tie it, and look again "
    "a minute later."
    " Here nobody rang while it bled.",
    befall=befall,
)
