"""A long gap, and nobody knows whether more pups are to come.

What it watches: the time since the last birth while there is no count of the litter, or only a
guess or an ultrasound count, and that has been reached. The next birth starts it afresh; a
caesarean, or the whelping called finished, ends it. A count by x-ray that has been reached
stops it.

Why it matters: a dam who rests with her pups may have finished, or may have one left that does
not come. Without a count only time and the vet can tell. An ultrasound count was right in about
two litters of three (Lenard 2007); more pups than counted are common.

What to do: watch whether she lies relaxed with her pups. When you believe she has finished, say
so with `finished`, and have the vet make sure that she is empty.

Example:
    01:00 pup
    #= 03:00 watch gap-count-unknown
    #= 05:00 call gap-count-unknown
    05:20 finished
    #= 05:20 cleared gap-count-unknown
"""

from collections.abc import Iterator

from boxlamp.model.levels import Level
from boxlamp.model.litter import CountedBy, Litter
from boxlamp.model.story import Story
from boxlamp.rules.gap import gaps, unsure
from boxlamp.rules.rule import Rule
from boxlamp.rules.spell import Spell, Yardstick

ID = "gap-count-unknown"


_WHY: dict[CountedBy | None, str] = {
    None: "nobody has counted the litter",
    "guess": "the count was a guess",
    "scan": "the scan may have missed a pup",
}


def watch(story: Story, _yardstick: Yardstick) -> Iterator[Spell]:
    """From each birth until the next, while nobody knows how many are to come."""
    return gaps(story, ID, _unknown)


def _unknown(litter: Litter) -> str:
    if not unsure(litter):
        return ""
    return _WHY[litter.expected_by]


RULE = Rule(
    id=ID,
    group="labour",
    title="Long gap, number of pups not known",
    watch=watch,
    says={"": "The last pup came {ago} and {detail}: there may be more."},
    do={
        Level.WATCH: (
            "Look at her: calm with her pups, or restless? Write down any push.",
            "If you are sure she has finished, write down: finished.",
        ),
        Level.CALL: ("Ring the vet now. Ask how to make sure that no pup is left inside.",),
    },
    page=__doc__,
    running="Since the last pup",
)
