"""A sac is at the vulva and no pup has come.

What it watches: the time since a sac (water bag) was seen at the vulva, until a birth or a rest
in which the sac has slipped back. A rest with the sac still showing does not stop the clock.

Why it matters: behind a sac that shows there is a pup on its way out. It may show for some
minutes and she may walk about with it; when it stays, something may be holding the pup.

What to do: look at it, do not pull at it. Write down pushes, colour and anything new you see.

Example:
    01:00 sac
    #= 01:15 watch sac-no-pup
    #= 01:30 call sac-no-pup
    01:40 pup
    #= 01:40 cleared sac-no-pup
"""

from collections.abc import Iterator

from boxlamp.model.happenings import Birth, Caesarean, Finished, Rest, Sac
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules.rule import Rule
from boxlamp.rules.spell import Spell, Stopwatch, Yardstick

ID = "sac-no-pup"


def watch(story: Story, _yardstick: Yardstick) -> Iterator[Spell]:
    """From a sac at the vulva until a birth, or until it has slipped back."""
    watch = Stopwatch(ID)
    for entry in story.of(Sac, Birth, Rest, Caesarean, Finished):
        match entry.what:
            case Sac():
                watch.open(entry)
            case Rest(sac_gone=False):
                pass  # she rests, and the sac still shows
            case _:
                watch.close(entry)
    return watch.finish()


RULE = Rule(
    id=ID,
    group="labour",
    title="Sac at the vulva, no pup",
    watch=watch,
    says={"": "A sac was seen at the vulva {ago} and no pup has come."},
    do={
        Level.WATCH: (
            "Look for head or feet in the sac. Do not pull. Get ready to travel.",
            "Write it down if the sac slips back or bursts.",
        ),
        Level.CALL: (
            "Ring the vet now. Say how long the sac has shown, its colour, and how she pushes.",
        ),
        Level.GO: (
            "Leave for the vet now and ring on the way.",
            "Take any pups already born, warm, in their own box.",
        ),
    },
    page=__doc__,
    running="Sac at the vulva",
)
