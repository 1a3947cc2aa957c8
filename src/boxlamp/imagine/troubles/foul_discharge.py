"""A foul discharge some days after the birth: the womb is infected."""

from boxlamp.imagine.course import Course
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.ours import Share, Span
from boxlamp.imagine.thermometer import degrees
from boxlamp.imagine.troubles.first_days import first_days
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import to_the_vet, told, with_events
from boxlamp.model.happenings import DamState, Discharge, Temperature

_BEGINS = Span(1.2, 4.5, "days", "begins after it is over")
_MILD = Share(0.3, "no fever with it")
_ENDS = Span(0.7, 1.6, "days", "help forced after")
_SEEN = Span(60, 300, "min", "seen after")
_HEAT = Span(39.7, 40.4, "°C", "fever")
_HOT = Share(0.6, "part of its time at which the fever is found")
_DULL = Share(0.8, "part of its time at which she is dull")


def befall(course: Course, dice: Dice) -> Course:
    """It smells; a day later she is hot and off her food, or still well in the mild form."""
    troubled = course.over + dice.drawn(_BEGINS)
    mild = dice.chance(_MILD.of)
    ended = troubled + dice.drawn(_ENDS)
    events = first_days(course, dice, troubled)
    colour = dice.pick(("brown", "red", "pus"))
    events += told(
        troubled,
        (dice.drawn(_SEEN), Discharge(colour=colour, foul=True), "smells bad"),
    )
    if not mild:
        hot = degrees(dice.drawn(_HEAT))
        events += told(
            troubled,
            (_HOT.of * (ended - troubled), Temperature(celsius=hot), ""),
            (_DULL.of * (ended - troubled), DamState(signs=("dull", "refused-food")), ""),
        )
    course = with_events(course, events)._replace(troubled=troubled)
    return to_the_vet(course, ended, dice, "a foul discharge", "an infected womb, treated")


TROUBLE = Trouble(
    name="foul-discharge",
    kind="dam",
    share=0.14,
    says="a foul discharge some days after the birth",
    lesson="What comes away after a birth may be green, brown or red for weeks; it never smells "
    "foul. The nose is the first to know of an infected womb."
    " Here nobody rang when it first smelled.",
    befall=befall,
)
