"""The temperature dropped, came back up, and labour has not begun.

What it watches: after a confirmed drop, the time since the first reading that is normal again,
with no sign of labour. The next low reading ends it, and so does anything that shows labour.

Why it matters: pushing is due before the temperature has come back. When it has come back and
nothing has happened, the chance to begin may have passed without the womb answering.

What to do: take it once more to be sure of the reading, and ring if it is so.

Example:
    08:00 temp 37.0
    08:40 temp 36.9
    17:00 temp 37.9
    #= 17:00 watch temperature-back-no-labour
    #= 19:00 call temperature-back-no-labour
    19:30 contraction weak
    #= 19:30 cleared temperature-back-no-labour
"""

from collections.abc import Iterator

from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules.rule import Rule
from boxlamp.rules.spell import Spell, Stopwatch, Yardstick
from boxlamp.rules.temperature_drop import BACK, course

ID = BACK


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """From the first normal reading after a confirmed drop until it is low again or labour."""
    watch = Stopwatch(ID)
    for step in course(story, yardstick):
        if step.drop is None or step.low:
            watch.close(step.entry)
        elif step.back:
            watch.open(step.entry, also=(step.drop.id,), detail=step.words)
    return watch.finish()


RULE = Rule(
    id=ID,
    group="before labour",
    title="Temperature back up, no labour",
    watch=watch,
    says={"": "Her temperature dropped, was back at {detail} {ago}, and there is no labour."},
    do={
        Level.WATCH: (
            "Take her temperature once more. Look for signs of labour and for any discharge.",
        ),
        Level.CALL: (
            "Ring the vet now. Read out her temperatures with their times, and the day count.",
        ),
    },
    page=__doc__,
    running="Since it rose again",
)
