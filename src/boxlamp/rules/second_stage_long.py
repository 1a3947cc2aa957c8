"""The whole of the pushing stage has taken long.

What it watches: the time since the first contraction (weak or strong) or birth, until the
whelping is called finished, a caesarean, or some hours of calm after the last pup of an x-ray or
scan count. A push or a birth after such a calm shows that she was not done, and the clock goes
on from where it began. Pauses between pups do not stop it.

Why it matters: the longer the whole birth takes, the more pups are lost, even when each gap by
itself was no longer than allowed. A dam who has laboured for half a day is tired, and so is her
womb.

What to do: tell the vet early. Offer her water between pups. When all are out, write down
`finished`: that ends the clock.

Example:
    20:00 contraction weak
    20:40 pup
    #= 02:00 watch second-stage-long
    02:20 finished
    #= 02:20 cleared second-stage-long
"""

from collections.abc import Iterable

from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules.rule import Rule, spells_of
from boxlamp.rules.second_stage import OWNER, second_stage
from boxlamp.rules.spell import Spell, Yardstick

ID = OWNER


def watch(story: Story, yardstick: Yardstick) -> Iterable[Spell]:
    """The whole second stage, as one clock."""
    return spells_of(second_stage, story, yardstick)


RULE = Rule(
    id=ID,
    group="labour",
    title="Whelping has taken long",
    watch=watch,
    says={"": "She has been whelping {lasting} since her first contraction or pup."},
    do={
        Level.WATCH: (
            "Look at her: still bright? Offer water. Have the vet's number and the car ready.",
            "If all pups are out and she is calm with them, write down: finished.",
        ),
        Level.CALL: ("Ring the vet now. Say when it began, how many are out and how she is.",),
        Level.GO: (
            "Leave for the vet now and ring on the way.",
            "Take any pups already born, warm, in their own box.",
        ),
    },
    page=__doc__,
    running="Whelping so far",
)
