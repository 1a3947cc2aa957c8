"""The dam grows cold after the birth."""

from boxlamp.imagine.course import Course
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.ours import Exactly, Share, Span
from boxlamp.imagine.thermometer import taken
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import to_the_vet, told, with_events
from boxlamp.model.happenings import DamState, What

_BEGINS = Span(60, 500, "min", "begins after it is over")
_FIRST = Span(36.9, 37.4, "°C", "first low reading")
_TAKEN = Span(30, 90, "min", "first low reading after it began")
_ENDS = Span(150, 300, "min", "ends after")
_MILD = Share(0.4, "she warms up")
_WARM = Exactly(38.1, "°C", "warm again")
_COLDER = Span(0.4, 0.9, "°C", "colder at the second reading by")
_COLD_BEFORE = Exactly(50, "min", "second reading before help")
_WEAK_BEFORE = Exactly(45, "min", "weak before help")


def befall(course: Course, dice: Dice) -> Course:
    """A low temperature that goes on falling; the mild one warms up under a blanket."""
    troubled = course.over + dice.drawn(_BEGINS)
    first = dice.drawn(_FIRST)
    events = told(troubled, (dice.drawn(_TAKEN), taken(first), ""))
    course = course._replace(troubled=troubled)
    ended = troubled + dice.drawn(_ENDS)
    if dice.chance(_MILD.of):
        events += told(ended, (0, taken(_WARM.value), "warm again under a blanket"))
        return with_events(course, events)._replace(ended=ended)
    events += told(
        ended,
        (-_COLD_BEFORE.amount, taken(first - dice.drawn(_COLDER)), ""),
        (-_WEAK_BEFORE.amount, _weak(dice), ""),
    )
    course = with_events(course, events)
    return to_the_vet(course, ended, dice, "cold and weak", "stays with the vet")


def _weak(dice: Dice) -> What:
    return DamState(signs=(dice.pick(("dull", "pale", "unsteady")),))


TROUBLE = Trouble(
    name="cold-dam",
    kind="dam",
    share=0.06,
    says="the dam grows cold after the birth",
    lesson="After a birth she should be warm. A reading that falls below what she had in labour, "
    "and falls again, means blood lost or strength gone."
    " Here nobody rang at the first low reading.",
    befall=befall,
)
