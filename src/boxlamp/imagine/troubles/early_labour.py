"""Labour before its time: the pups are small, weak, and not ready."""

from boxlamp.imagine.course import NEVER, Course, Event
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.ours import Exactly, Span
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import with_events
from boxlamp.model.happenings import Death

_DAYS = Span(54, 58, "days", "day of birth")
_FRAIL = Exactly(0.25, "parts", "pups that die, on the last of these days")
_FRAILER = Exactly(0.15, "parts", "and more for each day earlier")
_SMALL = Span(0.6, 0.8, "times", "of the usual weight")
_DIES = Span(3, 16, "h", "such a pup dies after")
_BREATHES = Span(40, 120, "s", "such a pup breathes after")


def befall(course: Course, dice: Dice) -> Course:
    """A whelping a week early; some of the pups die in their first hours."""
    days = dice.whole(*_DAYS.whole)
    frail = _FRAIL.value + _FRAILER.value * (_DAYS.high - days)
    pups, events, ended = [], [], course.pups[-1].born
    for number, pup in enumerate(course.pups, start=1):
        small = pup._replace(grams=round(pup.grams * dice.drawn(_SMALL)))
        if pup.alive and dice.chance(frail):
            died = pup.born + dice.drawn(_DIES)
            small = small._replace(state="limp", breathes=dice.drawn(_BREATHES), milk=NEVER)
            events.append(Event(died, Death(pup=number, why="too early")))
            ended = max(ended, died)
        pups.append(small)
    early = course._replace(
        dam=course.dam._replace(days=days), pups=tuple(pups), troubled=course.signs, ended=ended
    )
    return with_events(early, events)


TROUBLE = Trouble(
    name="early-labour",
    kind="labour",
    share=0.05,
    says="labour about a week before its time",
    lesson="Before her time every sign of labour is a reason to ring. Pups that come a week early "
    "cannot keep warm, and most cannot suck."
    " Here nobody rang at the first sign, and that was the time for it.",
    befall=befall,
)
