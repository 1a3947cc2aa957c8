"""The first stage has lasted long.

What it watches: the time since the first sign of labour (restless, nesting, panting, shivering,
digging, off her food, vomited) until something more happens: waters, sac, contraction, part of a
pup, birth, caesarean or the end. `settled` stops it, and later signs start it afresh. Once
labour has gone further no first stage begins again.

Why it matters: in these hours the womb is opening without visible pushing. Half a day is usual
and a whole day is the limit that the lists give. A womb that does not get going needs the vet
while the pups are still well.

What to do: keep her quiet, warm and undisturbed. Vomiting once or twice belongs to it.

Example:
    10:00 sign restless nesting
    #= 22:00 watch first-stage-long
    22:30 contraction weak
    #= 22:30 cleared first-stage-long
"""

from collections.abc import Iterator

from boxlamp.model.happenings import (
    Birth,
    Caesarean,
    Contraction,
    Finished,
    Part,
    Sac,
    Settled,
    Sign,
    Waters,
)
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules.rule import Rule
from boxlamp.rules.spell import Spell, Stopwatch, Yardstick

ID = "first-stage-long"
_FURTHER = (Waters, Contraction, Birth, Sac, Part, Caesarean, Finished)


def watch(story: Story, _yardstick: Yardstick) -> Iterator[Spell]:
    """From the first sign until labour goes further or she settles."""
    watch = Stopwatch(ID)
    for entry in story.of(Sign, Settled, *_FURTHER):
        if isinstance(entry.what, Sign):
            watch.open(entry)
            continue
        watch.close(entry)
        if not isinstance(entry.what, Settled):
            break
    return watch.finish()


RULE = Rule(
    id=ID,
    group="before labour",
    title="First stage long",
    watch=watch,
    says={"": "The first signs of labour began {ago} and nothing more has come of them."},
    do={
        Level.WATCH: (
            "Take her temperature, look for any discharge, and tell the vet she is in first stage.",
        ),
        Level.CALL: (
            "Ring the vet now. Say when the signs began, her temperature, and how she is.",
        ),
        Level.GO: (
            "Leave for the vet now and ring on the way.",
            "Take towels and a warm box: it may begin in the car.",
        ),
    },
    page=__doc__,
    running="First stage",
)
