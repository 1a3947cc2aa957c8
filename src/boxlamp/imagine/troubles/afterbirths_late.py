"""Pups come one after the other, and no afterbirth with them."""

from boxlamp.imagine.course import NEVER, Course, Event
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.ours import Span
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import with_events
from boxlamp.model.happenings import Afterbirth

_LATE = Span(3, 5, "", "pups whose afterbirth is late")
_COMES = Span(40, 150, "min", "all come after the last of these pups")
_CALM = Span(15, 40, "min", "called over after that at the soonest")


def befall(course: Course, dice: Dice) -> Course:
    """All afterbirths of the first pups come together, hours later."""
    late = dice.whole(_LATE.whole[0], min(_LATE.whole[1], len(course.pups)))
    pups = tuple(
        pup._replace(afterbirth=NEVER, unseen=False) if place < late else pup
        for place, pup in enumerate(course.pups)
    )
    came = course.pups[late - 1].born + dice.drawn(_COMES)
    events = [Event(came, Afterbirth(count=late), "all in a heap")]
    course = with_events(course._replace(pups=pups), events)
    over = max(course.over, came + dice.drawn(_CALM))
    return course._replace(over=over, troubled=course.pups[2].born, ended=came)


TROUBLE = Trouble(
    name="afterbirths-late",
    kind="dam",
    share=0.08,
    says="three pups and more without an afterbirth",
    lesson="An afterbirth may come with the next pup, or the one after. When three are owed, "
    "count again, look through the bedding, and keep the number in view.",
    befall=befall,
    least=4,
)
