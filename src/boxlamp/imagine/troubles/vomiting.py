"""She vomits again and again, and is dull."""

from boxlamp.imagine.course import Course
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import to_the_vet, told, with_events
from boxlamp.model.happenings import DamState


def befall(course: Course, dice: Dice) -> Course:
    """Hours after the birth; the mild one keeps water down in the end."""
    troubled = course.over + dice.between(60, 600)
    gap = dice.between(30, 100)
    sick = DamState(signs=("vomited",))
    events = told(troubled, (5, sick, ""), (gap, sick, ""), (2 * gap, sick, ""))
    course = course._replace(troubled=troubled)
    if dice.chance(0.4):
        ended = troubled + 4 * gap
        events += told(ended, (0, DamState(signs=("drank", "bright")), "kept it down"))
        return with_events(course, events)._replace(ended=ended)
    events += told(troubled, (2.5 * gap, DamState(signs=("dull", "vomited")), ""))
    course = with_events(course, events)
    return to_the_vet(course, troubled + 4 * gap, dice, "vomiting and dull", "stays on a drip")


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
