"""A pup's afterbirth has not come.

What it watches: the time since each pup's birth, one clock per pup, until its afterbirth is
answered for. A stillborn pup owes one too. An afterbirth that names no pup settles the oldest
debt, and "eaten" or "not seen" is an answer. After a caesarean nothing is owed.

Why it matters: each pup has its own afterbirth, usually out within a quarter of an hour, though
one or two more pups may come first. One that stays behind can make her ill later, so the count
is worth keeping while it can still be kept.

What to do: look in the bedding, under her and behind her; she may have eaten it. Write down what
you find. Never pull on a cord that hangs from her.

Example:
    02:00 pup
    02:10 pup
    02:15 afterbirth
    #= 04:10 watch afterbirth-owed pup 2
    04:20 afterbirth of 2 eaten
    #= 04:20 cleared afterbirth-owed pup 2
"""

from collections.abc import Iterator

from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules.owing import settling
from boxlamp.rules.per_pup import PerPup
from boxlamp.rules.rule import Rule
from boxlamp.rules.spell import Spell, Yardstick

ID = "afterbirth-owed"


def watch(story: Story, _yardstick: Yardstick) -> Iterator[Spell]:
    """For each pup, from its birth until its afterbirth is answered for."""
    clocks = PerPup(ID)
    for entry, ledger in settling(story):
        owing = {debt.pup for debt in ledger.owed}
        for pup in owing:
            clocks.of(pup).open(entry)
        for pup, clock in clocks.watches.items():
            if pup not in owing:
                clock.close(entry)
    return clocks.finish()


RULE = Rule(
    id=ID,
    group="afterbirths",
    title="Afterbirth not seen yet",
    watch=watch,
    says={"": "No afterbirth for {subject}, born {ago}."},
    do={
        Level.WATCH: (
            "Look in the bedding and under her, and write down: seen, eaten, or not seen.",
            "Never pull on a cord that hangs from her.",
        ),
    },
    page=__doc__,
    running="Afterbirth to come",
)
