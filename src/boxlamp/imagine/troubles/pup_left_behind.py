"""One pup fewer than was counted: she is called finished, and one is still inside."""

from boxlamp.imagine.course import Course
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.thermometer import degrees
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import stopped, to_the_vet, told, with_events
from boxlamp.model.happenings import DamState, Discharge, Temperature

_HOUR = 60.0


def befall(course: Course, dice: Dice) -> Course:
    """The last pup does not come and nobody looks for it; the dam falls ill in a day or two."""
    carried, last = len(course.pups), course.pups[-2].born
    troubled = last + dice.between(60, 120)
    left = stopped(course, last + 1)
    left = left._replace(
        over=last + dice.between(100, 200), counted=carried, counted_by="xray", troubled=troubled
    )
    mild = dice.chance(0.4)
    ended = last + (dice.between(15, 24) if mild else dice.between(34, 56)) * _HOUR
    if not mild:
        warm = degrees(dice.between(39.6, 40.3))
        ill = told(
            ended - 9 * _HOUR,
            (0, DamState(signs=("dull", "refused-food")), ""),
            (2 * _HOUR, Temperature(celsius=warm), ""),
            (5 * _HOUR, Discharge(colour="brown", foul=True), ""),
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
    "reached says otherwise, and only a look inside settles it.",
    befall=befall,
    least=2,
)
