"""Discharge goes on for weeks after whelping.

What it watches: any discharge written down after the last pup or the caesarean, whatever its
colour. The clock counts from the last pup. A report stands until `discharge none`, or for some
days: one forgotten line is no discharge of weeks. Other rules look at what is foul, heavy, or
still green.

Why it matters: a discharge that grows less and browner is the womb cleaning itself. After some
weeks it should be over. When it is not, a place where an afterbirth sat may not be healing. Most
such dams are otherwise well, but she can lose blood slowly for a long time.

What to do: look at the colour, the smell and how much there is, and write it down. Look at her
gums. Write `discharge none` when it has gone.

Example:
    02:00 pup
    2026-03-22 09:00 discharge brown streak
    #= 2026-03-23 02:00 watch lochia-long
    2026-03-24 09:00 discharge none
    #= 2026-03-24 09:00 cleared lochia-long
"""

from collections.abc import Iterator

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Caesarean, Discharge, Finished
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules.foreseen import Foreseen
from boxlamp.rules.rule import Rule
from boxlamp.rules.spell import Spell, Yardstick, span

ID = "lochia-long"


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """From a report of discharge until none is seen or the report is old; from the last pup."""
    clock = Foreseen(ID)
    stands = span(yardstick, ID, "stands")
    zero: Entry | None = None
    for entry in story.of(Birth, Caesarean, Finished, Discharge):
        match entry.what:
            case Birth() | Caesarean():
                zero = entry
                clock.cut(entry)
            case Finished():
                zero = zero or entry
            case Discharge(amount="none"):
                clock.cut(entry)
            case Discharge() if zero is not None:
                end = entry.at + stands
                clock.plan(entry, since=zero.at, end=end, also=(zero.id,))
            case _:
                pass
    return clock.finish()


RULE = Rule(
    id=ID,
    group="the dam",
    title="Discharge for weeks",
    watch=watch,
    says={"": "She still has discharge, {elapsed} after the last pup."},
    do={
        Level.WATCH: (
            "Look at the colour, the smell and how much there is, and write it down.",
            "Look at her gums: pale gums mean leave for the vet now.",
            "Has it gone? Write `discharge none`.",
        ),
        Level.CALL: (
            "Ring the vet now. Say the colour, how much, and how many weeks it has gone on.",
            "Have her temperature and the colour of her gums ready.",
        ),
    },
    page=__doc__,
    on_board=False,
)
