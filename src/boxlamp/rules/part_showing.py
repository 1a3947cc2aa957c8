"""A part of a pup is showing at the vulva.

What it watches: the time since a part of a pup (head, feet, tail, rump) was seen, until its
birth. A rest does not stop the clock: the pup is still there.

Why it matters: a pup half way out may have its cord squeezed, and then it gets no oxygen until
it is out. Minutes count. This rule is never relaxed.

What to do: ring at the first sight of it; if it comes with the next push, so much the better.
Do not pull on your own: a leg, a tail or a cord tears easily.

Example:
    03:00 part feet
    #= 03:00 call part-showing
    03:04 pup
    #= 03:04 cleared part-showing
"""

from collections.abc import Iterator

from boxlamp.model.happenings import Birth, Caesarean, Finished, Part
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules.rule import Rule
from boxlamp.rules.simple import from_until, only_said
from boxlamp.rules.spell import Spell, Yardstick

ID = "part-showing"


def watch(story: Story, _yardstick: Yardstick) -> Iterator[Spell]:
    """From a part of a pup at the vulva until a birth."""
    closes = (Birth, Caesarean, Finished)
    return from_until(story, ID, opens=(Part,), closes=closes, unless=only_said)


RULE = Rule(
    id=ID,
    group="labour",
    title="Part of a pup showing",
    watch=watch,
    says={"": "Part of a pup was seen at the vulva {ago} and it is not out."},
    do={
        Level.CALL: (
            "Ring the vet now. Say which part shows, and do as told while you wait.",
            "Stay with her. Do not pull unless the vet tells you how.",
        ),
        Level.GO: (
            "Leave for the vet now and ring on the way.",
            "Take any pups already born, warm, in their own box.",
        ),
    },
    page=__doc__,
    urgency="minutes",
    never_relaxed=True,
)
