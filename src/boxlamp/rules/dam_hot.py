"""The dam's temperature is high during labour.

What it watches: each rectal temperature of the dam from the first sign of labour until the
whelping is finished or a caesarean is done. A reading out of band opens the alert and the next
one in band ends it: a fever is not over because the whelping is.

Why it matters: her temperature may rise while she pushes, but a high fever in labour tires her,
harms the pups, and can mean infection.

What to do: take it again to be sure. Let cooler air and water reach her; do not chill her.

Example:
    01:00 contraction weak
    01:10 temp 40.1
    #= 01:10 call dam-hot
    01:40 temp 39.0
    #= 01:40 cleared dam-hot
"""

from collections.abc import Iterator

from boxlamp.model.happenings import (
    Birth,
    Caesarean,
    Contraction,
    Finished,
    Part,
    Sac,
    Sign,
    Temperature,
    Waters,
    What,
)
from boxlamp.model.levels import Level
from boxlamp.model.quantities import plain
from boxlamp.model.story import Story
from boxlamp.rules.rule import Rule
from boxlamp.rules.spell import Band, Spell, Yardstick

ID = "dam-hot"
_LABOUR = (Sign, Waters, Contraction, Sac, Part, Birth)


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """High temperatures of the dam between the first sign of labour and its end."""
    band = Band(ID, yardstick)
    in_labour = False
    no_labour: tuple[type[What], ...] = ()
    for entry in story.of(*_LABOUR, Temperature, Finished, Caesarean):
        match entry.what:
            case Temperature(where="dam", celsius=value) if in_labour or band.running:
                band.read(entry, "labour", value, f"{plain(value)} °C")
            case Temperature():
                pass
            case Finished():  # panting after the last pup is no new labour
                in_labour, no_labour = False, no_labour or (Sign,)
            case Caesarean():  # nor are the pups it delivers
                in_labour, no_labour = False, _LABOUR
            case what if not isinstance(what, no_labour):
                in_labour = True
            case _:
                pass
    return band.finish()


RULE = Rule(
    id=ID,
    group="the dam",
    title="Dam's temperature high",
    watch=watch,
    says={"": "Her temperature is {detail}."},
    do={
        Level.WATCH: ("Take it again in 15 minutes. Let cooler air and water reach her.",),
        Level.CALL: ("Ring the vet now and give the reading and the time.",),
        Level.GO: ("Leave for the vet now and ring on the way.",),
    },
    page=__doc__,
)
