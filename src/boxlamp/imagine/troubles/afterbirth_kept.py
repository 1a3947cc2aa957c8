"""An afterbirth stays inside."""

from boxlamp.imagine.course import NEVER, Course, Event
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.ours import Exactly, Share, Span
from boxlamp.imagine.thermometer import degrees
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import to_the_vet, told, with_events, with_pup
from boxlamp.model.happenings import Afterbirth, DamState, Discharge, Temperature

_MILD = Share(0.5, "comes by itself")
_BEGINS = Span(1, 2, "h", "begins after the last pup")
_COMES = Span(6, 24, "h", "comes by itself after the last pup")
_ILL = Span(36, 54, "h", "help forced after the last pup")
_GREEN = Span(25, 30, "h", "still green after the last pup")
_HEAT = Span(39.6, 40.3, "°C", "fever")
_HOT_BEFORE = Exactly(4, "h", "fever found before help")
_DULL_BEFORE = Exactly(2, "h", "dull before help")


def befall(course: Course, dice: Dice) -> Course:
    """It comes by itself within a day, as most do; or she is ill of it on the second day."""
    place = len(course.pups) - 1
    kept = course.pups[place]._replace(afterbirth=NEVER, unseen=False)
    last, mild = course.pups[-1].born, dice.chance(_MILD.of)
    troubled = last + dice.drawn(_BEGINS)
    course = with_pup(course, place, kept)._replace(troubled=troubled)
    if mild:
        ended = last + dice.drawn(_COMES)
        came = Event(ended, Afterbirth(), "dark, whole")
        return with_events(course, [came])._replace(ended=ended)
    ended = last + dice.drawn(_ILL)
    hot = degrees(dice.drawn(_HEAT))
    events = told(
        last,
        (dice.drawn(_GREEN), Discharge(colour="green"), "still green"),
        (ended - last - _HOT_BEFORE.amount, Temperature(celsius=hot), ""),
        (ended - last - _DULL_BEFORE.amount, DamState(signs=("dull",)), ""),
    )
    course = with_events(course, events)
    return to_the_vet(course, ended, dice, "one afterbirth short, and hot", "one taken out")


TROUBLE = Trouble(
    name="afterbirth-kept",
    kind="dam",
    share=0.12,
    says="an afterbirth stays inside",
    lesson="Most missing afterbirths were eaten or come by themselves. The count is a reason to "
    "ring; fever, dullness or green a day later is a reason to drive."
    " Here nobody rang about the missing one while she was well.",
    befall=befall,
)
