"""Several afterbirths are owed at once.

What it watches: the number of pups whose afterbirth has not been answered for. The clock runs
while as many as the protocol says, or more, are owed at the same time.

Why it matters: pups often come one or two at a time with their afterbirths after them. When more
than that are behind, either some came unseen or she is keeping them.

What to do: look in the bedding and count. Write down those you find, those she ate, and those
you have looked for and not seen. Tell the vet the count when you next speak.

Example:
    02:00 pup
    02:20 pup
    02:40 pup
    #= 02:40 watch afterbirths-behind
    02:50 afterbirth
    #= 02:50 cleared afterbirths-behind
"""

from collections.abc import Iterator

from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules.owing import settling
from boxlamp.rules.rule import Rule
from boxlamp.rules.spell import Spell, Stopwatch, Yardstick

ID = "afterbirths-behind"


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """While as many afterbirths are owed as count as behind."""
    many = yardstick.number(ID, "how-many")
    clock = Stopwatch(ID)
    for entry, ledger in settling(story):
        owed = ledger.owed
        if len(owed) >= many:
            clock.open(entry, also=tuple(debt.birth.id for debt in owed if debt.birth is not entry))
        else:
            clock.close(entry)
    return clock.finish()


RULE = Rule(
    id=ID,
    group="afterbirths",
    title="Several afterbirths owed",
    watch=watch,
    says={"": "Several afterbirths are owed at once, {lasting}."},
    do={
        Level.WATCH: (
            "Look in the bedding, count the afterbirths, and write down what you find.",
            "If she seems ill or strains with nothing coming, ring the vet.",
        ),
    },
    page=__doc__,
)
