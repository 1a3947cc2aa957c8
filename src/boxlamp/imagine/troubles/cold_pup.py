"""A pup grows cold."""

from boxlamp.imagine.course import Course, Event
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.ours import Exactly, Share, Span
from boxlamp.imagine.thermometer import degrees
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import told, with_events, with_pup
from boxlamp.model.happenings import Death, PupState, Temperature

_BEGINS = Span(3, 14, "h", "begins after its birth")
_MILD = Share(0.6, "it is warmed and recovers")
_COLD = Span(32.0, 34.6, "°C", "its temperature")
_ENDS = Span(2, 6, "h", "ends after")
_FOUND = Exactly(40, "min", "found after")
_TAKEN = Exactly(44, "min", "its temperature taken after")
_WARM = Exactly(36.2, "°C", "warm again")
_WELL = Exactly(3, "min", "called well after that")
_BREATHED = Exactly(60, "s", "it had breathed within")
_DRANK = Exactly(60, "min", "it had drunk within")


def befall(course: Course, dice: Dice) -> Course:
    """Away from the others for some hours; warmed slowly it recovers, or it dies."""
    place = dice.whole(0, len(course.pups) - 1)
    pup, number = course.pups[place], place + 1
    pup = pup._replace(
        state="alive",
        breathes=min(pup.breathes, _BREATHED.value),
        milk=min(pup.milk, _DRANK.amount),
    )
    begins, mild = pup.born + dice.drawn(_BEGINS), dice.chance(_MILD.of)
    cold = degrees(dice.drawn(_COLD))
    ended = begins + dice.drawn(_ENDS)
    events = told(
        begins,
        (_FOUND.amount, PupState(pup=number, signs=("cold", "weak")), "found away from the others"),
        (_TAKEN.amount, Temperature(celsius=cold, where="pup", pup=number), ""),
    )
    if mild:
        warm = Temperature(celsius=degrees(_WARM.value), where="pup", pup=number)
        well = PupState(pup=number, signs=("well",))
        events += [Event(ended, warm), Event(ended + _WELL.amount, well)]
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
    "first, slowly, and milk when it is warm."
    " Here nobody rang about it.",
    befall=befall,
)
