"""A pup that does not find the teat in its first hours."""

from boxlamp.imagine.course import NEVER, Course, Event
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.ours import Exactly, Share, Span
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import rung, with_events
from boxlamp.model.happenings import Death, PupState

_BEGINS = Span(25, 50, "min", "begins after its birth")
_MILD = Share(0.5, "it drinks at last")
_DRINKS = Span(150, 360, "min", "then after its birth")
_NOTICED = Span(80, 140, "min", "noticed after its birth")
_DIES = Span(540, 1100, "min", "dies after its birth")
_WEAK = Span(300, 420, "min", "weak after its birth")
_RUNG = Exactly(60, "min", "the vet rung before it dies")


def befall(course: Course, dice: Dice) -> Course:
    """One live pup does not suckle; the mild one does so after some hours, the other dies."""
    place = dice.whole(0, len(course.pups) - 1)
    pups, born = list(course.pups), course.pups[place].born
    number, troubled = place + 1, born + dice.drawn(_BEGINS)
    mild = dice.chance(_MILD.of)
    milk = dice.drawn(_DRINKS) if mild else NEVER
    pups[place] = pups[place]._replace(state="alive", milk=milk)
    quiet = PupState(pup=number, signs=("not-suckling",))
    events = [Event(born + dice.drawn(_NOTICED), quiet, "pushed off by the others")]
    ended = born + (milk if mild else dice.drawn(_DIES))
    if not mild:
        weak = PupState(pup=number, signs=("weak",))
        events += [
            Event(born + dice.drawn(_WEAK), weak),
            *rung(ended - _RUNG.amount, "a weak pup that never drank"),
            Event(ended, Death(pup=number, why="never drank")),
        ]
    course = with_events(course._replace(pups=tuple(pups)), events)
    return course._replace(troubled=troubled, ended=ended)


TROUBLE = Trouble(
    name="no-first-milk",
    kind="newborn",
    share=0.25,
    says="a pup that does not drink in its first hours",
    lesson="What protects a pup is in the first milk, and its gut takes it up for some hours "
    "only. Look at each pup, not at the row: one is easily crowded out."
    " Here nobody rang when it was first seen not to drink.",
    befall=befall,
)
