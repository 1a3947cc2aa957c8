"""She vomits again and again, and is dull."""

from boxlamp.imagine.course import Course
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.ours import Exactly, Share, Span
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import to_the_vet, told, with_events
from boxlamp.model.happenings import DamState

_BEGINS = Span(60, 600, "min", "begins after it is over")
_GAP = Span(30, 100, "min", "between two times")
_FIRST = Exactly(5, "min", "the first time after")
_MILD = Share(0.4, "she keeps water down at last")
_DULL = Exactly(2.5, "times", "this gap after the beginning she is dull")
_ENDS = Exactly(4, "times", "this gap after the beginning it ends")


def befall(course: Course, dice: Dice) -> Course:
    """Hours after the birth; the mild one keeps water down in the end."""
    troubled = course.over + dice.drawn(_BEGINS)
    gap = dice.drawn(_GAP)
    sick = DamState(signs=("vomited",))
    events = told(troubled, (_FIRST.amount, sick, ""), (gap, sick, ""), (2 * gap, sick, ""))
    course = course._replace(troubled=troubled)
    if dice.chance(_MILD.of):
        ended = troubled + _ENDS.value * gap
        events += told(ended, (0, DamState(signs=("drank", "bright")), "kept it down"))
        return with_events(course, events)._replace(ended=ended)
    events += told(troubled, (_DULL.value * gap, DamState(signs=("dull", "vomited")), ""))
    course = with_events(course, events)
    return to_the_vet(
        course, troubled + _ENDS.value * gap, dice, "vomiting and dull", "stays on a drip"
    )


TROUBLE = Trouble(
    name="vomiting",
    kind="dam",
    share=0.06,
    says="vomits again and again after the birth",
    lesson="To vomit once in labour is nothing, nor after eating an afterbirth. Again and again, "
    "or with dullness, is an illness and not an upset."
    " Here nobody rang before she was dull as well, or nobody rang at all.",
    befall=befall,
)
