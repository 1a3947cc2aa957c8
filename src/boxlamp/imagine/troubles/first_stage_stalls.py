"""The first stage goes on and on: restless for a day, and never a push."""

from boxlamp.imagine.course import Course
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.ours import Share, Span
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import Help, held_up, stopped, surgery

_MILD = Share(0.4, "she begins late")
_LATE = Span(7, 16, "h", "then late by")
_ENDS = Span(12, 26, "h", "help forced after the first strain was due")
_LOST = Share(0.25, "pups that die")


def befall(course: Course, dice: Dice) -> Course:
    """No push when there should be one; the mild one begins hours later after all."""
    if dice.chance(_MILD.of):
        late = dice.drawn(_LATE)
        begun = held_up(course, -1.0, late)
        return begun._replace(waters=course.waters + late, troubled=0.0, ended=late)
    ended = dice.drawn(_ENDS)
    restless = stopped(course, -1.0)._replace(troubled=0.0)
    return surgery(restless, ended, dice, Help("restless for a day and no push", lost=_LOST.of))


TROUBLE = Trouble(
    name="first-stage-stalls",
    kind="labour",
    share=0.07,
    says="restless for a day, and never a push",
    lesson="Restless hours are how it begins. But they should lead to a push, and a first stage "
    "that goes on for a day needs a vet's look, however normal each hour of it seems."
    " Here hours were waited through before anybody rang, or nobody rang at all: too late.",
    befall=befall,
)
