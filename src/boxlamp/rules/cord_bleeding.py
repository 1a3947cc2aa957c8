"""A pup's cord is bleeding.

What it watches: the time since a bleeding cord was written down for a pup, until `cord tied` or
`cord stopped`. One clock per pup.

Why it matters: a pup of a few hundred grams has very little blood. What looks like a few drops
is a lot to it.

What to do: pinch the cord between finger and thumb, about 2 cm from the belly, and hold. Tie it
there with thread. Do not cut it shorter: the length is there for a second tie. Never pull on it.

Example:
    02:00 pup
    02:01 cord 1 bleeding
    #= 02:01 watch cord-bleeding pup 1
    #= 02:03 call cord-bleeding pup 1
    02:04 cord 1 tied
    #= 02:04 cleared cord-bleeding pup 1
"""

from collections.abc import Iterator

from boxlamp.model.happenings import Death, Step
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules.per_pup import PerPup
from boxlamp.rules.rule import Rule
from boxlamp.rules.spell import Spell, Yardstick

ID = "cord-bleeding"


def watch(story: Story, _yardstick: Yardstick) -> Iterator[Spell]:
    """For each pup, while its cord bleeds."""
    clocks = PerPup(ID)
    for entry in story.of(Step, Death):
        match entry.what:
            case Step(pup=pup, step="cord", finding="bleeding"):
                clocks.of(pup).open(entry)
            case Step(pup=pup, step="cord", finding="tied" | "stopped") | Death(pup=pup):
                clocks.of(pup).close(entry)
            case _:
                pass
    return clocks.finish()


_BY_HAND = "Pinch the cord about 2 cm from the belly and hold. Tie it there. Never pull on it."

RULE = Rule(
    id=ID,
    group="each pup",
    title="Cord bleeding",
    watch=watch,
    says={"": "The cord of {subject} bleeds, {lasting}."},
    do={
        Level.WATCH: (_BY_HAND, "Keep the pup warm. Write down `tied` or `stopped` when it is."),
        Level.CALL: (
            "Pinch the cord about 2 cm from the belly and do not let go.",
            "Ring the vet now, on loudspeaker.",
            "Keep the pup warm.",
        ),
    },
    page=__doc__,
    urgency="seconds",
)
