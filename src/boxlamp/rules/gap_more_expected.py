"""A long gap, and more pups are known to come.

What it watches: the time since the last birth while the best count (x-ray, then scan, then
guess) says that more pups are to come. The next birth starts it afresh; a caesarean, or the
whelping called finished, ends it. It does not matter whether she pushes or rests.

Why it matters: most pups follow within an hour. A long quiet gap with pups still inside may be
a rest, or a womb that has tired, or a pup that blocks the way. Those that wait pay for it.

What to do: write down each push, and look at her: calm with her pups, or restless? A short walk
on the lead may help. Never give anything to make her push.

Example:
    expected: 3 xray

    01:00 pup
    #= 02:30 watch gap-more-expected
    #= 03:00 call gap-more-expected
    03:10 pup
    #= 03:10 cleared gap-more-expected
"""

from collections.abc import Iterator

from boxlamp.model.levels import Level
from boxlamp.model.litter import Litter
from boxlamp.model.story import Story
from boxlamp.rules.gap import gaps, to_come
from boxlamp.rules.rule import Rule
from boxlamp.rules.spell import Spell, Yardstick

ID = "gap-more-expected"
_HOW = {"xray": "by the x-ray", "scan": "by the scan", "guess": "by a guess", None: ""}


def watch(story: Story, _yardstick: Yardstick) -> Iterator[Spell]:
    """From each birth until the next, while more are known to come."""
    return gaps(story, ID, _more)


def _more(litter: Litter) -> str:
    more = to_come(litter)
    return f"{more} more to come {_HOW[litter.expected_by]}" if more else ""


RULE = Rule(
    id=ID,
    group="labour",
    title="Long gap, more pups to come",
    watch=watch,
    says={"": "The last pup came {ago}: {detail}."},
    do={
        Level.WATCH: (
            "Look at her: calm with her pups, or restless? Get ready to travel.",
            "Take her out on a lead for a few minutes, with a towel and a light.",
        ),
        Level.CALL: (
            "Ring the vet now. Say when the last pup came and how many are still to come.",
            "Write down every push, weak or strong, while you wait.",
        ),
        Level.GO: (
            "Leave for the vet now and ring on the way.",
            "Take any pups already born, warm, in their own box.",
        ),
    },
    page=__doc__,
    running="Since the last pup",
)
