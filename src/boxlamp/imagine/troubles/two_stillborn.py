"""Two pups dead at birth in one litter."""

from boxlamp.imagine.course import NEVER, Course, Event
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.ours import Share, Span
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import with_events, with_pup
from boxlamp.model.happenings import Death

_THIRD = Share(0.4, "a third one dies later")
_DIES = Span(10, 30, "h", "then after it is over")


def befall(course: Course, dice: Dice) -> Course:
    """Two are dead; what killed them may take a third one after its birth."""
    first = dice.whole(0, len(course.pups) - 2)
    second = dice.whole(first + 1, len(course.pups) - 1)
    for place in (first, second):
        course = with_pup(course, place, course.pups[place]._replace(state="dead", milk=NEVER))
    troubled, ended = course.pups[first].born, course.over
    alive = [number for number, pup in enumerate(course.pups, start=1) if pup.alive]
    if alive and dice.chance(_THIRD.of):
        ended += dice.drawn(_DIES)
        death = Death(pup=dice.pick(alive), why="never strong")
        course = with_events(course, [Event(ended, death)])
    return course._replace(troubled=troubled, ended=ended)


TROUBLE = Trouble(
    name="two-stillborn",
    kind="newborn",
    share=0.05,
    says="two pups dead at birth",
    lesson="One dead pup is a sorrow that two in three litters are spared. Two in one litter are "
    "a question for the vet: what killed them may be in the others, or in the dam."
    " Here nobody asked.",
    befall=befall,
    least=3,
)
