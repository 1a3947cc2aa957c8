"""Low calcium while she gives milk: stiff, trembling, and soon in fits."""

from boxlamp.imagine.course import Course
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.troubles.first_days import DAY, first_days
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import to_the_vet, told, with_events
from boxlamp.model.happenings import DamState


def befall(course: Course, dice: Dice) -> Course:
    """Restless and stiff first, then trembling, and within hours she cannot stand."""
    troubled = course.over + dice.between(7, 18) * DAY
    hours = dice.between(2.5, 9) * 60
    first = dice.pick((("stiff", "trembling"), ("unsteady", "face-rubbing"), ("staring", "stiff")))
    events = first_days(course, dice, troubled)
    events += told(
        troubled,
        (0.2 * hours, DamState.model_validate({"signs": first}), ""),
        (0.6 * hours, DamState(signs=("trembling", "stiff")), ""),
    )
    if dice.chance(0.6):
        worst = DamState(signs=(dice.pick(("fits", "cannot-stand", "rigid")),))
        events += told(troubled, (0.95 * hours, worst, ""))
    course = with_events(course, events)._replace(troubled=troubled)
    said, found = "trembling and stiff, full of milk", "low calcium, treated"
    return to_the_vet(course, troubled + hours, dice, said, found)


TROUBLE = Trouble(
    name="low-calcium",
    kind="dam",
    share=0.12,
    says="stiff and trembling while she gives milk",
    lesson="Trembling in labour is normal. Trembling with stiffness weeks later, in a dam with "
    "hungry pups, gets worse within hours and is never waited out."
    " Here nobody rang at the first sign.",
    befall=befall,
)
