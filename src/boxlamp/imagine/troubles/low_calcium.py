"""Low calcium while she gives milk: stiff, trembling, and soon in fits."""

from boxlamp.imagine.course import Course
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.ours import Exactly, Share, Span
from boxlamp.imagine.troubles.first_days import first_days
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import to_the_vet, told, with_events, with_pup
from boxlamp.model.happenings import DamState

_DRANK = Exactly(60, "min", "first milk of the pup that lives where else none did")
_BEGINS = Span(7, 18, "days", "begins after it is over")
_LENGTH = Span(2.5, 9, "h", "help forced after")
_FIRST = Share(0.2, "part of that time at the first signs")
_TREMBLES = Share(0.6, "part of that time at which she trembles")
_FITS = Share(0.6, "it comes to fits")
_WORST = Share(0.95, "part of that time at which they come")


def befall(course: Course, dice: Dice) -> Course:
    """Restless and stiff first, then trembling, and within hours she cannot stand.

    It comes of giving milk, so that one pup at least lives.
    """
    troubled = course.over + dice.drawn(_BEGINS)
    length = dice.drawn(_LENGTH)
    if not any(pup.alive for pup in course.pups):
        nursed = course.pups[0]._replace(state="alive", milk=_DRANK.amount)
        course = with_pup(course, 0, nursed)
    first = dice.pick((("stiff", "trembling"), ("unsteady", "face-rubbing"), ("staring", "stiff")))
    events = first_days(course, dice, troubled)
    events += told(
        troubled,
        (_FIRST.of * length, DamState.model_validate({"signs": first}), ""),
        (_TREMBLES.of * length, DamState(signs=("trembling", "stiff")), ""),
    )
    if dice.chance(_FITS.of):
        worst = DamState(signs=(dice.pick(("fits", "cannot-stand", "rigid")),))
        events += told(troubled, (_WORST.of * length, worst, ""))
    course = with_events(course, events)._replace(troubled=troubled)
    said, found = "trembling and stiff, full of milk", "low calcium, treated"
    return to_the_vet(course, troubled + length, dice, said, found)


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
