"""Green or black discharge before the first pup.

What it watches: the time since green or black discharge, or waters of that colour, was first
written down while no pup was born. Only the first birth or a caesarean stops the clock: another
colour later does not take back what has been seen.

Why it matters: the green comes from where an afterbirth holds on to the womb. Before the first
pup it says that one has begun to come loose, and the pup it feeds may be short of oxygen. After
the first pup the same colour is ordinary. This rule is never relaxed.

What to do: ring at once, whatever else she does. If a pup comes while you are on the telephone,
all the better.

Example:
    02:00 discharge green some
    #= 02:00 call green-before-first-pup
    #= 02:30 go green-before-first-pup
    02:36 pup
    #= 02:36 cleared green-before-first-pup
"""

from collections.abc import Iterator

from boxlamp.model.happenings import Birth, Caesarean, Discharge, Finished, Waters
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules.rule import Rule
from boxlamp.rules.spell import Spell, Stopwatch, Yardstick

ID = "green-before-first-pup"


def watch(story: Story, _yardstick: Yardstick) -> Iterator[Spell]:
    """From the first green or black seen until the first birth; nothing after that."""
    watch = Stopwatch(ID)
    for entry in story.of(Discharge, Waters, Birth, Caesarean, Finished):
        match entry.what:
            case Birth() | Caesarean():
                watch.close(entry)
                break
            case Finished(by="vet" | "scan"):
                watch.close(entry)  # somebody has looked: the breeder's own word is not enough
            case Discharge(colour="green" | "black") | Waters(colour="green" | "black"):
                watch.open(entry, detail=entry.what.colour.capitalize())
            case _:
                pass
    return watch.finish()


RULE = Rule(
    id=ID,
    group="labour",
    title="Green or black before the first pup",
    watch=watch,
    says={"": "{detail} discharge was seen {ago} and no pup has come."},
    do={
        Level.CALL: (
            "Ring the vet now. Say green or black before the first pup, how much, and since when.",
            "Write down any push while you wait, and get the car ready.",
        ),
        Level.GO: (
            "Leave for the vet now and ring on the way.",
            "Take towels and the warm box: a pup may come in the car.",
        ),
    },
    page=__doc__,
    urgency="minutes",
    never_relaxed=True,
)
