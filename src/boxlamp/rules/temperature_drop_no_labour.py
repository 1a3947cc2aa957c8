"""The temperature has dropped and labour has not begun.

What it watches: the time since the first low reading of a drop that a second one confirmed soon
after, or that was low enough by itself. Low is either below a fixed value or well below the mean
of her own readings of some days. The clock stops at a first-stage sign, waters, sac,
contraction, part of a pup, birth, caesarean or the end; when she settles again after signs that
came to nothing, it goes on.

Why it matters: the drop is the body's signal that labour begins within about a day. When nothing
follows, the womb may not be starting, and the pups are ready. Not every dam shows a drop, and a
missed one silences nothing else.

What to do: take it again within the hour to be sure, then every few hours, and write it down.

Example:
    08:00 temp 37.1
    08:40 temp 37.0
    #= 20:00 watch temperature-drop-no-labour
    21:00 sign restless
    #= 21:00 cleared temperature-drop-no-labour
"""

from collections.abc import Iterator

from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules.rule import Rule
from boxlamp.rules.spell import Spell, Stopwatch, Yardstick
from boxlamp.rules.temperature_drop import OWNER, course

ID = OWNER


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """From the first low reading of a confirmed drop until labour shows itself."""
    watch = Stopwatch(ID)
    for step in course(story, yardstick):
        if step.drop is None:
            watch.close(step.entry)
        else:
            also = () if step.drop is step.entry else (step.drop.id,)
            watch.open(step.entry, since=step.drop.at, also=also)
    return watch.finish()


RULE = Rule(
    id=ID,
    group="before labour",
    title="Temperature dropped, no labour",
    watch=watch,
    says={"": "Her temperature dropped {ago} and labour has not begun."},
    do={
        Level.WATCH: (
            "Take her temperature again and look for signs: restless, panting, nesting, discharge.",
        ),
        Level.CALL: (
            "Ring the vet now. Read out her temperatures with their times, and the day count.",
        ),
        Level.GO: (
            "Leave for the vet now and ring on the way.",
            "Take towels and a warm box: it may begin in the car.",
        ),
    },
    page=__doc__,
    running="Since the temperature drop",
)
