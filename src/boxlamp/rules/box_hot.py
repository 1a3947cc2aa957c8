"""The box is too hot for the pups.

What it watches: the temperature of the box where the pups lie, held against the age of the
youngest living pup. Before the first birth and once the last pup has left it is silent. A reading
stands until the next one, or for a day.

Why it matters: pups cannot leave a box that is hot all over. They dry out, cry and drink less,
and the dam stays away from them.

What to do: raise the lamp or turn the pad down, and leave one end of the box cool. Pups that lie
far apart are too warm.

Example:
    02:00 pup
    08:00 temp box 33.5
    #= 08:00 watch box-hot
    09:00 temp box 31
    #= 09:00 cleared box-hot
"""

from collections.abc import Iterator

from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules.box import box_readings
from boxlamp.rules.rule import Rule
from boxlamp.rules.spell import Spell, Yardstick

ID = "box-hot"


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """The box too hot for the youngest pup in it."""
    return box_readings(story, yardstick, ID)


RULE = Rule(
    id=ID,
    group="each pup",
    title="Box too hot",
    watch=watch,
    says={"": "Cool the box: {detail} where the pups lie."},
    do={
        Level.WATCH: (
            "Raise the lamp or turn the pad down, and leave one end of the box cool.",
            "Pups that lie far apart are too warm. Put water where the dam can reach it.",
            "Measure again in an hour.",
        ),
    },
    page=__doc__,
    on_board=False,
)
