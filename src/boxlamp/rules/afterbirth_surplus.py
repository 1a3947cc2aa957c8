"""There are more afterbirths than pups.

What it watches: afterbirths written down for which no pup is left to owe one. The clock runs
until a birth takes the spare one up, or until the line is struck.

Why it matters: every afterbirth belongs to a pup. One too many usually means a pup that was not
written down, and without its line none of its clocks run.

What to do: count the pups and the afterbirths again. Write down the pup that is missing, or
strike the afterbirth that was counted twice. After a caesarean this count means nothing.

Example:
    02:00 pup
    02:10 afterbirth
    02:20 afterbirth
    #= 02:20 watch afterbirth-surplus
    02:25 pup
    #= 02:25 cleared afterbirth-surplus
"""

from collections.abc import Iterator

from boxlamp.model.happenings import Caesarean
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules.owing import settling
from boxlamp.rules.rule import Rule
from boxlamp.rules.spell import Spell, Stopwatch, Yardstick

ID = "afterbirth-surplus"


def watch(story: Story, _yardstick: Yardstick) -> Iterator[Spell]:
    """While an afterbirth waits for a pup, up to a caesarean."""
    clock = Stopwatch(ID)
    for entry, ledger in settling(story):
        if isinstance(entry.what, Caesarean):
            clock.close(entry)
            break
        if ledger.surplus:
            clock.open(entry)
        else:
            clock.close(entry)
    return clock.finish()


RULE = Rule(
    id=ID,
    group="afterbirths",
    title="More afterbirths than pups",
    watch=watch,
    says={"": "There are more afterbirths than pups. Was a pup not written down?"},
    do={
        Level.WATCH: (
            "Count the pups in the box. Write down any that is missing here.",
            "If an afterbirth was counted twice, strike that line.",
        ),
    },
    page=__doc__,
)
