"""A pup that fades: it loses weight while the others gain."""

from boxlamp.imagine.course import Course, Event
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.ours import Exactly, Share, Span
from boxlamp.imagine.troubles.first_days import DAY, first_days
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import told, with_events, with_pup
from boxlamp.model.happenings import Death, Feed, PupState

_MILD = Share(0.5, "fed by hand it turns")
_LOSES = Span(0.035, 0.08, "parts", "loses a day of its birth weight")
_ENDS = Span(2.1, 3.9, "days", "turns or dies after its birth")
_BEGINS = Exactly(0.4, "days", "begins after its birth")
_GAINS = Exactly(1.07, "times", "a day once it has turned")
_AFTER = Exactly(2, "days", "told on after it has turned")
_CRIES = Span(0.8, 1.4, "days", "cries after its birth")
_WEAK = Span(200, 500, "min", "weak after that")
_FED = Exactly(60, "min", "fed before it turns")
_BREATHED = Exactly(60, "s", "it had breathed within")
_DRANK = Exactly(60, "min", "it had drunk within")


def befall(course: Course, dice: Dice) -> Course:
    """It loses some weight every day; fed by hand it turns, or it dies on the third or fourth."""
    place = dice.whole(0, len(course.pups) - 1)
    pup, number, mild = course.pups[place], place + 1, dice.chance(_MILD.of)
    pup = pup._replace(
        state="alive",
        breathes=min(pup.breathes, _BREATHED.value),
        milk=min(pup.milk, _DRANK.amount),
    )
    loses = dice.drawn(_LOSES)
    ended = pup.born + dice.drawn(_ENDS)
    days = (ended - pup.born) / DAY

    def grown(which: int, day: float) -> float | None:
        if which != place:
            return None
        return 1 - loses * day if day < days else (1 - loses * days) * _GAINS.value ** (day - days)

    begins = pup.born + _BEGINS.amount
    course = with_pup(course, place, pup)._replace(troubled=begins, ended=ended)
    until = ended + _AFTER.amount if mild else ended
    events = first_days(course, dice, until, grown)
    events += told(
        pup.born + dice.drawn(_CRIES),
        (0, PupState(pup=number, signs=("crying",)), ""),
        (dice.drawn(_WEAK), PupState(pup=number, signs=("not-suckling", "weak")), ""),
    )
    if mild:
        events += told(ended, (-_FED.amount, Feed(pup=number, how="bottle"), ""),
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
    "gain is in trouble, however well it looks."
    " Here nobody rang about it.",
    befall=befall,
)
