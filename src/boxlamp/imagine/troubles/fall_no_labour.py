"""Her temperature falls, and labour does not follow."""

from boxlamp.imagine.course import NEVER, Course
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import Help, held_up, stopped, surgery

_HOUR = 60.0


def befall(course: Course, dice: Dice) -> Course:
    """The fall comes as it should and then nothing; labour begins half a day late, or never."""
    warm, lowest = course.warmth[0][1], dice.between(36.6, 37.0)
    fall = (
        (-30 * _HOUR, warm),
        (-21 * _HOUR, 37.2),
        (-12 * _HOUR, lowest),
        (2 * _HOUR, lowest + 0.2),
    )
    if dice.chance(0.4):
        late = dice.between(6, 14) * _HOUR
        begun = held_up(course, -NEVER, late)
        back = ((late, 37.6), *course.warmth[-2:])
        return begun._replace(
            signs=late - dice.between(3, 7) * _HOUR,
            waters=course.waters + late,
            warmth=(*fall, *back),
            troubled=0.0,
            ended=late,
        )
    ended = dice.between(9, 26) * _HOUR
    quiet = stopped(course, -NEVER)._replace(
        signs=NEVER,
        waters=NEVER,
        warmth=(*fall, (7 * _HOUR, warm), (ended, warm)),
        troubled=0.0,
    )
    told = Help("her temperature fell a day and more ago, no labour", lost=0.3)
    return surgery(quiet, ended, dice, told)


TROUBLE = Trouble(
    name="fall-no-labour",
    kind="labour",
    share=0.08,
    says="the temperature falls, and labour does not follow",
    lesson="The fall says that labour is a day away at most. When it is back where it was and "
    "nothing has begun, something that should have begun has not."
    " Here hours were waited through before anybody rang, or nobody rang at all: too late.",
    befall=befall,
)
