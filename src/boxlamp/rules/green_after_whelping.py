"""Green or black discharge long after the last pup.

What it watches: green or black discharge written down half a day or more after the last birth.
The clock counts from that birth; it runs until the next discharge that is none or of another
colour, or until another birth. Green in the first hours is ordinary and starts nothing.

Why it matters: the green comes from where the afterbirths were. It turns rusty within a day or
two of the last one. When it stays green, something may still be inside.

What to do: wipe her clean, look again in an hour, and write down the colour. Take her
temperature.

Example:
    02:00 pup
    02:20 discharge green
    15:00 discharge green
    #= 15:00 watch green-after-whelping
    #= 2026-03-03 02:00 call green-after-whelping
    2026-03-03 08:00 discharge brown
    #= 2026-03-03 08:00 cleared green-after-whelping
"""

from collections.abc import Iterator

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Discharge
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules.rule import Rule
from boxlamp.rules.spell import Spell, Stopwatch, Yardstick, span

ID = "green-after-whelping"


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """From a late green discharge until another colour; counted from the last birth."""
    clock = Stopwatch(ID)
    ordinary = span(yardstick, ID, "ordinary-for")
    birth: Entry | None = None
    for entry in story.of(Birth, Discharge):
        match entry.what:
            case Birth():
                birth = entry
                clock.close(entry)
            case Discharge(colour="green" | "black" as colour, amount=amount) if amount != "none":
                if birth is not None and entry.at - birth.at >= ordinary:
                    clock.open(entry, since=birth.at, also=(birth.id,), detail=colour)
            case Discharge(colour="unknown", amount=amount) if amount != "none":
                pass  # nobody has said that the colour has changed
            case _:
                clock.close(entry)
    return clock.finish()


RULE = Rule(
    id=ID,
    group="the dam",
    title="Still green or black discharge",
    watch=watch,
    says={"": "Her discharge is still {detail}, {elapsed} after the last pup."},
    do={
        Level.WATCH: (
            "Wipe her clean, look again in an hour, and write down the colour.",
            "Take her temperature and write it down.",
        ),
        Level.CALL: (
            "Ring the vet now. Say the colour, how much, and when the last pup came.",
            "Have her temperature and the count of afterbirths ready.",
        ),
    },
    page=__doc__,
)
