"""The sac shows at the vulva, and its pup does not come."""

from boxlamp.imagine.course import Course, Effort
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import Help, held_up, pushing, stopped, surgery


def befall(course: Course, dice: Dice) -> Course:
    """The first sac stays where it is; the mild one brings its pup after half an hour or so."""
    born = course.pups[0].born
    shown = born - dice.between(1, 4)
    if dice.chance(0.4):
        longer = dice.between(20, 50)
        late = held_up(course, born, longer)
        return late._replace(sac=shown, troubled=shown, ended=born + longer)
    left = stopped(course, born)
    ended = shown + dice.lognormal(80, 0.3)
    left = pushing(left, Effort(born, ended, strong=dice.chance(0.5)))
    left = left._replace(sac=shown, troubled=shown)
    words = "a sac at the vulva and nothing behind it"
    return surgery(left, ended, dice, Help(words, lost=0.15, first_lost=True))


TROUBLE = Trouble(
    name="sac-no-pup",
    kind="passage",
    share=0.15,
    says="a sac shows, and its pup does not come",
    lesson="A sac at the vulva has a pup close behind it, already in the passage. It may slip "
    "back between two pushes, but a pup should soon follow.",
    befall=befall,
)
