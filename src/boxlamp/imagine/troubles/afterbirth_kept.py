"""An afterbirth stays inside."""

from boxlamp.imagine.course import NEVER, Course, Event
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.thermometer import degrees
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import to_the_vet, told, with_events, with_pup
from boxlamp.model.happenings import Afterbirth, DamState, Discharge, Temperature

_HOUR = 60.0


def befall(course: Course, dice: Dice) -> Course:
    """It comes by itself within a day, as most do; or she is ill of it on the second day."""
    place = len(course.pups) - 1
    kept = course.pups[place]._replace(afterbirth=NEVER, unseen=False)
    last, mild = course.pups[-1].born, dice.chance(0.5)
    troubled = last + dice.between(1, 2) * _HOUR
    course = with_pup(course, place, kept)._replace(troubled=troubled)
    if mild:
        ended = last + dice.between(6, 24) * _HOUR
        came = Event(ended, Afterbirth(), "dark, whole")
        return with_events(course, [came])._replace(ended=ended)
    ended = last + dice.between(36, 54) * _HOUR
    hot = degrees(dice.between(39.6, 40.3))
    events = told(
        last,
        (dice.between(25, 30) * _HOUR, Discharge(colour="green"), "still green"),
        (ended - last - 4 * _HOUR, Temperature(celsius=hot), ""),
        (ended - last - 2 * _HOUR, DamState(signs=("dull",)), ""),
    )
    course = with_events(course, events)
    return to_the_vet(course, ended, dice, "one afterbirth short, and hot", "one taken out")


TROUBLE = Trouble(
    name="afterbirth-kept",
    kind="dam",
    share=0.12,
    says="an afterbirth stays inside",
    lesson="Most missing afterbirths were eaten or come by themselves. The count is a reason to "
    "ring; fever, dullness or green a day later is a reason to drive.",
    befall=befall,
)
