"""Labour before its time: the pups are small, weak, and not ready."""

from boxlamp.imagine.course import NEVER, Course, Event
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import with_events
from boxlamp.model.happenings import Death


def befall(course: Course, dice: Dice) -> Course:
    """A whelping a week early; some of the pups die in their first hours."""
    days = dice.whole(54, 58)
    frail = 0.25 + 0.15 * (58 - days)
    pups, events, ended = [], [], course.pups[-1].born
    for number, pup in enumerate(course.pups, start=1):
        small = pup._replace(grams=round(pup.grams * dice.between(0.6, 0.8)))
        if pup.alive and dice.chance(frail):
            died = pup.born + dice.between(3, 16) * 60
            small = small._replace(state="limp", breathes=dice.between(40, 120), milk=NEVER)
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
