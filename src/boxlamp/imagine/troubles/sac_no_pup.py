"""The sac shows at the vulva, and its pup does not come."""

from boxlamp.imagine.course import Course, Effort
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.ours import About, Share, Span
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import Help, held_up, pushing, stopped, surgery

_SHOWS = Span(1, 4, "min", "the sac shows before its pup would come")
_MILD = Share(0.4, "the pup comes by itself")
_LONGER = Span(20, 50, "min", "then later by")
_ENDS = About(80, 0.3, "min", "help forced after")
_STRONG = Share(0.5, "she pushes strongly; else weakly")
_LOST = Share(0.15, "pups behind it that die")


def befall(course: Course, dice: Dice) -> Course:
    """The first sac stays where it is; the mild one brings its pup after half an hour or so."""
    born = course.pups[0].born
    shown = born - dice.drawn(_SHOWS)
    if dice.chance(_MILD.of):
        longer = dice.drawn(_LONGER)
        late = held_up(course, born, longer)
        return late._replace(sac=shown, troubled=shown, ended=born + longer)
    left = stopped(course, born)
    ended = shown + dice.drawn(_ENDS)
    left = pushing(left, Effort(born, ended, strong=dice.chance(_STRONG.of)))
    left = left._replace(sac=shown, troubled=shown)
    words = "a sac at the vulva and nothing behind it"
    return surgery(left, ended, dice, Help(words, lost=_LOST.of, first_lost=True))


TROUBLE = Trouble(
    name="sac-no-pup",
    kind="passage",
    share=0.15,
    says="a sac shows, and its pup does not come",
    lesson="A sac at the vulva has a pup close behind it, already in the passage. It may slip "
    "back between two pushes, but a pup should soon follow."
    " Here the sac was watched for too long before anybody rang, or nobody rang at all.",
    befall=befall,
)
