"""A pup that does not breathe at birth."""

from boxlamp.imagine.course import NEVER, Course, Event
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import with_events
from boxlamp.model.happenings import Death


def befall(course: Course, dice: Dice) -> Course:
    """One pup comes limp: it breathes after some minutes of rubbing, or never."""
    place = dice.whole(0, len(course.pups) - 1)
    pups, born = list(course.pups), course.pups[place].born
    mild = dice.chance(0.6)
    breathes = dice.lognormal(150, 0.45) if mild else NEVER
    ended = born + (breathes / 60 if mild else dice.between(8, 25))
    pups[place] = pups[place]._replace(
        state="limp", in_sac=False, breathes=breathes, milk=pups[place].milk if mild else NEVER
    )
    if mild:
        pups[place] = pups[place]._replace(milk=dice.lognormal(50, 0.3))
    left = course._replace(pups=tuple(pups), troubled=born, ended=ended)
    if mild:
        return left
    death = Death(pup=place + 1, why="never breathed")
    return with_events(left, [Event(ended, death)])


TROUBLE = Trouble(
    name="not-breathing",
    kind="newborn",
    share=0.25,
    says="a pup that does not breathe at birth",
    lesson="A limp pup is helped before anything is written: head low, mouth and nose clear, "
    "rubbed hard and kept warm. The minutes without a breath are what the vet will ask for."
    " A second person rings meanwhile: here nobody did.",
    befall=befall,
)
