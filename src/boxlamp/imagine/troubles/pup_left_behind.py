"""One pup fewer than was counted: she is called finished, and one is still inside."""

from boxlamp.imagine.course import Course
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.ours import Exactly, Share, Span
from boxlamp.imagine.thermometer import degrees
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import stopped, to_the_vet, told, with_events
from boxlamp.model.happenings import DamState, Discharge, Temperature

_BEGINS = Span(60, 120, "min", "begins after the last but one")
_OVER = Span(100, 200, "min", "called over after the last but one")
_MILD = Share(0.4, "found before she is ill")
_MILD_ENDS = Span(15, 24, "h", "help sought after the last but one, mild")
_ENDS = Span(34, 56, "h", "help sought after the last but one, not mild")
_HEAT = Span(39.6, 40.3, "°C", "fever")
_DULL_BEFORE = Exactly(9, "h", "dull before help")
_HOT_BEFORE = Exactly(7, "h", "fever found before help")
_FOUL_BEFORE = Exactly(4, "h", "foul before help")


def befall(course: Course, dice: Dice) -> Course:
    """The last pup does not come and nobody looks for it; the dam falls ill in a day or two."""
    carried, last = len(course.pups), course.pups[-2].born
    troubled = last + dice.drawn(_BEGINS)
    left = stopped(course, last + 1)
    left = left._replace(
        over=last + dice.drawn(_OVER), counted=carried, counted_by="xray", troubled=troubled
    )
    mild = dice.chance(_MILD.of)
    ended = last + dice.drawn(_MILD_ENDS if mild else _ENDS)
    if not mild:
        warm = degrees(dice.drawn(_HEAT))
        ill = told(
            ended,
            (-_DULL_BEFORE.amount, DamState(signs=("dull", "refused-food")), ""),
            (-_HOT_BEFORE.amount, Temperature(celsius=warm), ""),
            (-_FOUL_BEFORE.amount, Discharge(colour="brown", foul=True), ""),
        )
        left = with_events(left, ill)
    found = "one pup left inside, dead, taken out"
    return to_the_vet(left, ended, dice, "one fewer than the x-ray showed", found)


TROUBLE = Trouble(
    name="pup-left-behind",
    kind="labour",
    share=0.07,
    says="called finished with a pup still inside",
    lesson="Lying calm with the pups at her side looks like the end. An x-ray count that is not "
    "reached says otherwise, and only a look inside settles it."
    " Here nobody rang when the count was not reached.",
    befall=befall,
    least=2,
)
