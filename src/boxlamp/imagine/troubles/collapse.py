"""The dam collapses."""

from boxlamp.imagine.course import Course
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.ours import Exactly, Share, Span
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import (
    Help,
    stopped,
    surgery,
    to_the_vet,
    told,
    with_events,
)
from boxlamp.model.happenings import DamState

_DOWN = Span(10, 60, "min", "down after")
_BEGINS = Span(5, 30, "min", "begins after a pup")
_CALM = Exactly(120, "min", "called over after she is down at the soonest")
_DULL = Share(0.4, "part of the time until she is down at which she is dull")
_ENDS = Span(10, 45, "min", "help forced after she is down")
_LOST = Share(0.4, "pups inside that die")


def befall(course: Course, dice: Dice) -> Course:
    """In labour or soon after it; dull first, then down."""
    place = dice.whole(0, len(course.pups) - 1)
    after, dull = course.pups[place].born, dice.drawn(_DOWN)
    troubled = after + dice.drawn(_BEGINS)
    down = dice.pick((("collapsed",), ("cannot-stand", "pale"), ("unresponsive",)))
    left = stopped(course, after + 1)
    if not left.inside:
        left = left._replace(over=max(course.over, troubled + dull + _CALM.amount))
    events = told(
        troubled,
        (_DULL.of * dull, DamState(signs=("dull",)), ""),
        (dull, DamState.model_validate({"signs": down}), ""),
    )
    left = with_events(left, events)._replace(troubled=troubled)
    ended = troubled + dull + dice.drawn(_ENDS)
    if left.inside:
        return surgery(left, ended, dice, Help("she is down, pups inside", lost=_LOST.of))
    return to_the_vet(left, ended, dice, "she is down", "stays with the vet")


TROUBLE = Trouble(
    name="collapse",
    kind="dam",
    share=0.06,
    says="the dam cannot stand",
    lesson="A tired dam lifts her head when she is spoken to. One that cannot stand, or whose "
    "gums are pale, goes to the vet as she is, at once."
    " Here nobody rang while she was only dull.",
    befall=befall,
)
