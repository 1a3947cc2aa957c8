"""A foul discharge some days after the birth: the womb is infected."""

from boxlamp.imagine.course import Course
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.thermometer import degrees
from boxlamp.imagine.troubles.first_days import DAY, first_days
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import to_the_vet, told, with_events
from boxlamp.model.happenings import DamState, Discharge, Temperature


def befall(course: Course, dice: Dice) -> Course:
    """It smells; a day later she is hot and off her food, or still well in the mild form."""
    troubled = course.over + dice.between(1.2, 4.5) * DAY
    mild = dice.chance(0.3)
    ended = troubled + dice.between(0.7, 1.6) * DAY
    events = first_days(course, dice, troubled)
    colour = dice.pick(("brown", "red", "pus"))
    events += told(
        troubled,
        (dice.between(60, 300), Discharge(colour=colour, foul=True), "smells bad"),
    )
    if not mild:
        hot = degrees(dice.between(39.7, 40.4))
        events += told(
            troubled,
            (0.6 * (ended - troubled), Temperature(celsius=hot), ""),
            (0.8 * (ended - troubled), DamState(signs=("dull", "refused-food")), ""),
        )
    course = with_events(course, events)._replace(troubled=troubled)
    return to_the_vet(course, ended, dice, "a foul discharge", "an infected womb, treated")


TROUBLE = Trouble(
    name="foul-discharge",
    kind="dam",
    share=0.14,
    says="a foul discharge some days after the birth",
    lesson="What comes away after a birth may be green, brown or red for weeks; it never smells "
    "foul. The nose is the first to know of an infected womb.",
    befall=befall,
)
