"""A sore udder: one gland hot, hard and painful."""

from boxlamp.imagine.course import Course
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.ours import Share, Span
from boxlamp.imagine.thermometer import degrees
from boxlamp.imagine.troubles.first_days import first_days
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import to_the_vet, told, with_events
from boxlamp.model.happenings import DamState, Temperature

_BEGINS = Span(2.5, 14, "days", "begins after it is over")
_LENGTH = Span(0.7, 1.5, "days", "ends after")
_MILD = Share(0.4, "softens again")
_HEAT = Span(39.6, 40.4, "°C", "fever")
_SORE = Share(0.3, "part of its time at which it is found")
_HOT = Share(0.6, "part of its time at which the fever is found")
_PURPLE = Share(0.9, "part of its time at which it is purple")


def befall(course: Course, dice: Dice) -> Course:
    """Hot and hard, then fever; in the mild form it softens again within a day."""
    troubled = course.over + dice.drawn(_BEGINS)
    length, mild = dice.drawn(_LENGTH), dice.chance(_MILD.of)
    events = first_days(course, dice, troubled)
    events += told(
        troubled,
        (_SORE.of * length, DamState(signs=("udder-hot", "udder-painful")), "one at the back"),
    )
    course = course._replace(troubled=troubled)
    if mild:
        events += told(troubled, (length, DamState(signs=("udder-well",)), "soft again"))
        return with_events(course, events)._replace(ended=troubled + length)
    hot = degrees(dice.drawn(_HEAT))
    events += told(
        troubled,
        (_HOT.of * length, Temperature(celsius=hot), ""),
        (_PURPLE.of * length, DamState(signs=("udder-purple",)), ""),
    )
    said, found = "one gland purple, and fever", "an infected gland, treated"
    return to_the_vet(with_events(course, events), troubled + length, dice, said, found)


TROUBLE = Trouble(
    name="sore-udder",
    kind="dam",
    share=0.1,
    says="a gland of the udder hot and painful",
    lesson="Feel every gland every day: warm and soft is right. One that is hot, hard or sore is "
    "a call, and one that turns purple is a drive."
    " Here nobody rang while the gland was only hot and sore.",
    befall=befall,
)
