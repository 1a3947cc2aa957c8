"""A sore udder: one gland hot, hard and painful."""

from boxlamp.imagine.course import Course
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.thermometer import degrees
from boxlamp.imagine.troubles.first_days import DAY, first_days
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import to_the_vet, told, with_events
from boxlamp.model.happenings import DamState, Temperature


def befall(course: Course, dice: Dice) -> Course:
    """Hot and hard, then fever; in the mild form it softens again within a day."""
    troubled = course.over + dice.between(2.5, 14) * DAY
    length, mild = dice.between(0.7, 1.5) * DAY, dice.chance(0.4)
    events = first_days(course, dice, troubled)
    events += told(
        troubled, (0.3 * length, DamState(signs=("udder-hot", "udder-painful")), "one at the back")
    )
    course = course._replace(troubled=troubled)
    if mild:
        events += told(troubled, (length, DamState(signs=("udder-well",)), "soft again"))
        return with_events(course, events)._replace(ended=troubled + length)
    hot = degrees(dice.between(39.6, 40.4))
    events += told(
        troubled,
        (0.6 * length, Temperature(celsius=hot), ""),
        (0.9 * length, DamState(signs=("udder-purple",)), ""),
    )
    said, found = "one gland purple, and fever", "an infected gland, treated"
    return to_the_vet(with_events(course, events), troubled + length, dice, said, found)


TROUBLE = Trouble(
    name="sore-udder",
    kind="dam",
    share=0.1,
    says="a gland of the udder hot and painful",
    lesson="Feel every gland every day: warm and soft is right. One that is hot, hard or sore is "
    "a call, and one that turns purple is a drive.",
    befall=befall,
)
