"""A pup grows cold."""

from decimal import Decimal

from boxlamp.imagine.course import Course, Event
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.thermometer import degrees
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import told, with_events, with_pup
from boxlamp.model.happenings import Death, PupState, Temperature


def befall(course: Course, dice: Dice) -> Course:
    """Away from the others for some hours; warmed slowly it recovers, or it dies."""
    place = dice.whole(0, len(course.pups) - 1)
    pup, number = course.pups[place], place + 1
    pup = pup._replace(state="alive", breathes=min(pup.breathes, 60.0), milk=min(pup.milk, 60.0))
    begins, mild = pup.born + dice.between(3, 14) * 60, dice.chance(0.6)
    cold = degrees(dice.between(32.0, 34.6))
    ended = begins + dice.between(2, 6) * 60
    events = told(
        begins,
        (40, PupState(pup=number, signs=("cold", "weak")), "found away from the others"),
        (44, Temperature(celsius=cold, where="pup", pup=number), ""),
    )
    if mild:
        warm = Temperature(celsius=Decimal("36.2"), where="pup", pup=number)
        well = PupState(pup=number, signs=("well",))
        events += [Event(ended, warm), Event(ended + 3, well)]
    else:
        events.append(Event(ended, Death(pup=number, why="cold")))
    course = with_events(with_pup(course, place, pup), events)
    return course._replace(troubled=begins, ended=ended)


TROUBLE = Trouble(
    name="cold-pup",
    kind="newborn",
    share=0.1,
    says="a pup grows cold away from the others",
    lesson="A cold pup does not suck, and what is put into it then it cannot digest. Warmth comes "
    "first, slowly, and milk when it is warm.",
    befall=befall,
)
