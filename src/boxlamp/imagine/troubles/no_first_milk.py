"""A pup that does not find the teat in its first hours."""

from boxlamp.imagine.course import NEVER, Course, Event
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import rung, with_events
from boxlamp.model.happenings import Death, PupState


def befall(course: Course, dice: Dice) -> Course:
    """One live pup does not suckle; the mild one does so after some hours, the other dies."""
    place = dice.whole(0, len(course.pups) - 1)
    pups, born = list(course.pups), course.pups[place].born
    number, troubled = place + 1, born + dice.between(25, 50)
    mild = dice.chance(0.5)
    milk = dice.between(150, 360) if mild else NEVER
    pups[place] = pups[place]._replace(state="alive", milk=milk)
    quiet = PupState(pup=number, signs=("not-suckling",))
    events = [Event(born + dice.between(80, 140), quiet, "pushed off by the others")]
    ended = born + (milk if mild else dice.between(540, 1100))
    if not mild:
        weak = PupState(pup=number, signs=("weak",))
        events += [
            Event(born + dice.between(300, 420), weak),
            *rung(ended - 60, "a weak pup that never drank"),
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
    "only. Look at each pup, not at the row: one is easily crowded out.",
    befall=befall,
)
