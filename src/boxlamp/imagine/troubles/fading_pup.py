"""A pup that fades: it loses weight while the others gain."""

from boxlamp.imagine.course import Course, Event
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.troubles.first_days import DAY, first_days
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import told, with_events, with_pup
from boxlamp.model.happenings import Death, Feed, PupState


def befall(course: Course, dice: Dice) -> Course:
    """It loses some weight every day; fed by hand it turns, or it dies on the third or fourth."""
    place = dice.whole(0, len(course.pups) - 1)
    pup, number, mild = course.pups[place], place + 1, dice.chance(0.5)
    pup = pup._replace(state="alive", breathes=min(pup.breathes, 60.0), milk=min(pup.milk, 60.0))
    loses = dice.between(0.035, 0.08)
    ended = pup.born + dice.between(2.1, 3.9) * DAY
    days = (ended - pup.born) / DAY

    def grown(which: int, day: float) -> float | None:
        if which != place:
            return None
        return 1 - loses * day if day < days else (1 - loses * days) * 1.07 ** (day - days)

    begins = pup.born + 0.4 * DAY
    course = with_pup(course, place, pup)._replace(troubled=begins, ended=ended)
    until = ended + 2 * DAY if mild else ended
    events = first_days(course, dice, until, grown)
    events += told(
        pup.born + dice.between(0.8, 1.4) * DAY,
        (0, PupState(pup=number, signs=("crying",)), ""),
        (dice.between(200, 500), PupState(pup=number, signs=("not-suckling", "weak")), ""),
    )
    if mild:
        events += told(ended, (-60, Feed(pup=number, how="bottle"), ""),
                       (0, PupState(pup=number, signs=("well",)), ""))  # fmt: skip
    else:
        events.append(Event(ended, Death(pup=number, why="faded")))
    return with_events(course, events)


TROUBLE = Trouble(
    name="fading-pup",
    kind="newborn",
    share=0.15,
    says="a pup loses weight while the others gain",
    lesson="The scale sees it a day before the eye does. One pup that loses while the others "
    "gain is in trouble, however well it looks.",
    befall=befall,
)
