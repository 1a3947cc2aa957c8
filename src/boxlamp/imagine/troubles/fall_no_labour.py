"""Her temperature falls, and labour does not follow."""

from boxlamp.imagine.course import NEVER, Course
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.ours import Exactly, Share, Span
from boxlamp.imagine.troubles.trouble import Trouble
from boxlamp.imagine.troubles.turns import Help, held_up, stopped, surgery

_LOWEST = Span(36.6, 37.0, "°C", "lowest")
_WARM_UNTIL = Exactly(30, "h", "warm until before labour is due")
_LOW_FROM = Exactly(21, "h", "low from then before labour is due")
_LOW = Exactly(37.2, "°C", "by then at")
_LOWEST_FROM = Exactly(12, "h", "lowest from then before labour is due")
_LOWEST_UNTIL = Exactly(2, "h", "lowest until then after labour is due")
_CREEPS = Exactly(0.2, "°C", "by then warmer than the lowest by")
_MILD = Share(0.4, "she begins late")
_LATE = Span(6, 14, "h", "then late by")
_RISEN = Exactly(37.6, "°C", "then at the first strain")
_SIGNS = Span(3, 7, "h", "then signs before the first strain")
_ENDS = Span(9, 26, "h", "help forced after labour was due")
_BACK = Exactly(7, "h", "warm again after labour was due")
_LOST = Share(0.3, "pups that die")


def befall(course: Course, dice: Dice) -> Course:
    """The fall comes as it should and then nothing; labour begins half a day late, or never."""
    warm, lowest = course.warmth[0][1], dice.drawn(_LOWEST)
    fall = (
        (-_WARM_UNTIL.amount, warm),
        (-_LOW_FROM.amount, _LOW.value),
        (-_LOWEST_FROM.amount, lowest),
        (_LOWEST_UNTIL.amount, lowest + _CREEPS.value),
    )
    if dice.chance(_MILD.of):
        late = dice.drawn(_LATE)
        begun = held_up(course, -NEVER, late)
        back = ((late, _RISEN.value), *course.warmth[-2:])
        return begun._replace(
            signs=late - dice.drawn(_SIGNS),
            waters=course.waters + late,
            warmth=(*fall, *back),
            troubled=0.0,
            ended=late,
        )
    ended = dice.drawn(_ENDS)
    quiet = stopped(course, -NEVER)._replace(
        signs=NEVER,
        waters=NEVER,
        warmth=(*fall, (_BACK.amount, warm), (ended, warm)),
        troubled=0.0,
    )
    told = Help("her temperature fell a day and more ago, no labour", lost=_LOST.of)
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
