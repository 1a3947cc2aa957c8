"""The dam has collapsed, or shows another sign that cannot wait.

What it watches: what is written down of the dam's state: collapsed, fits, rigid, cannot stand,
pale or blue gums, unresponsive. It ends when she is `recovered` or `bright`, and with nothing
else: that she ate or drank afterwards does not make it safe to stay at home.

Why it matters: loss of blood, a torn womb, or a sudden lack of calcium in the blood can look
like this, and all of them can kill her within hours. None can be treated at home.

What to do: drive. Carry her on a blanket. Keep your fingers out of her mouth if she has a fit.
Keep the pups away from her and warm, and take them along.

Example:
    03:00 dam collapsed
    #= 03:00 go dam-collapse
    03:40 dam recovered
    #= 03:40 cleared dam-collapse
"""

from collections.abc import Iterator

from boxlamp.model.happenings import DamState
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules.rule import Rule
from boxlamp.rules.spell import Spell, Stopwatch, Yardstick

ID = "dam-collapse"

_DANGER = {
    "unresponsive": "does not respond",
    "collapsed": "has collapsed",
    "fits": "has fits",
    "rigid": "is rigid",
    "cannot-stand": "cannot stand",
    "blue": "has blue gums",
    "pale": "has pale gums",
}
_OVER = {"recovered", "bright"}


def watch(story: Story, _yardstick: Yardstick) -> Iterator[Spell]:
    """From a sign of danger until she has recovered."""
    clock = Stopwatch(ID)
    for entry in story.of(DamState):
        match entry.what:
            case DamState(signs=signs) if _DANGER.keys() & set(signs):
                danger = (words for sign, words in _DANGER.items() if sign in signs)
                clock.retell(entry, " and ".join(danger))
            case DamState(signs=signs) if _OVER & set(signs):
                clock.close(entry)
            case _:
                pass
    return clock.finish()


RULE = Rule(
    id=ID,
    group="the dam",
    title="Dam in danger",
    watch=watch,
    says={"": "She {detail}."},
    do={
        Level.GO: (
            "Leave for the vet now and ring on the way.",
            "Carry her on a blanket. Keep your fingers out of her mouth if she has a fit.",
            "Take the pups off her; bring them, warm, in their own box.",
        ),
    },
    page=__doc__,
    urgency="minutes",
    never_relaxed=True,
)
