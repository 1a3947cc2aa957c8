"""The dam grows cold after the birth."""

from boxlamp.imagine.course import Course
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.thermometer import taken
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import to_the_vet, told, with_events
from boxlamp.model.happenings import DamState, What


def befall(course: Course, dice: Dice) -> Course:
    """A low temperature that goes on falling; the mild one warms up under a blanket."""
    troubled = course.over + dice.between(60, 500)
    first = dice.between(36.9, 37.4)
    events = told(troubled, (dice.between(30, 90), taken(first), ""))
    course = course._replace(troubled=troubled)
    ended = troubled + dice.between(150, 300)
    if dice.chance(0.4):
        events += told(ended, (0, taken(38.1), "warm again under a blanket"))
        return with_events(course, events)._replace(ended=ended)
    events += told(ended, (-50, taken(first - dice.between(0.4, 0.9)), ""), (-45, _weak(dice), ""))
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
    "and falls again, means blood lost or strength gone.",
    befall=befall,
)
