"""The box is too cold for the pups.

What it watches: the temperature of the box where the pups lie, held against the age of the
youngest living pup. The limits are for a litter with its dam, who is the warmest place in the
box: they are three degrees under those for pups alone. Before the first birth and once the last
pup has left it is silent. A reading stands until the next one, or for a day.

Why it matters: a pup that lies in the cold cools down and stops drinking, and a cold box chills
the whole litter at once.

What to do: warm one end of the box and leave the other cooler, so that the pups can choose.
Pups in a heap are cold; pups that lie apart are warm enough. Look for a draught and wet bedding.

Pups without a dam need it warmer: 29.5 to 32 °C in the first week, 26.5 to 29.5 °C in the second.

Example:
    02:00 pup
    08:00 temp box 24.5
    #= 08:00 watch box-cold
    09:00 temp box 27
    #= 09:00 cleared box-cold
"""

from collections.abc import Iterator

from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules.box import box_readings
from boxlamp.rules.rule import Rule
from boxlamp.rules.spell import Spell, Yardstick

ID = "box-cold"


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """The box too cold for the youngest pup in it."""
    return box_readings(story, yardstick, ID)


RULE = Rule(
    id=ID,
    group="each pup",
    title="Box too cold",
    watch=watch,
    says={"": "Warm one end of the box: {detail} where the pups lie."},
    do={
        Level.WATCH: (
            "Warm one end of the box, and leave the other cooler.",
            "Pups in a heap are cold. Feel them: a cold pup is warmed before it is fed.",
            "Look for a draught and for wet bedding. Measure again in an hour.",
        ),
    },
    page=__doc__,
    on_board=False,
)
