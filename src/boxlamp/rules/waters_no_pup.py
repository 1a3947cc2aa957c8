"""The waters broke and no pup has come.

What it watches: the time since the waters broke, until a birth. Before the first pup, and again
for each new gush later on.

Why it matters: once the waters have gone the pup behind them should follow. The longer it takes
the more likely something holds it back.

What to do: write down the colour. Green or black before the first pup is its own alarm.

Example:
    01:00 waters clear
    #= 02:00 watch waters-no-pup
    #= 03:00 call waters-no-pup
    03:10 pup
    #= 03:10 cleared waters-no-pup
"""

from collections.abc import Iterator

from boxlamp.model.happenings import Birth, Caesarean, Finished, Waters
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules.rule import Rule
from boxlamp.rules.simple import from_until
from boxlamp.rules.spell import Spell, Yardstick

ID = "waters-no-pup"


def watch(story: Story, _yardstick: Yardstick) -> Iterator[Spell]:
    """From the waters breaking until a birth."""
    return from_until(story, ID, opens=(Waters,), closes=(Birth, Caesarean, Finished))


RULE = Rule(
    id=ID,
    group="labour",
    title="Waters broken, no pup",
    watch=watch,
    says={"": "Her waters broke {ago} and no pup has come."},
    do={
        Level.WATCH: ("Write down the colour and any pushing. Get ready to travel.",),
        Level.CALL: ("Ring the vet now. Say when the waters broke and what colour they were.",),
        Level.GO: ("Leave for the vet now and ring on the way.",),
    },
    page=__doc__,
    running="Since the waters broke",
)
