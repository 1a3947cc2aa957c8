"""Labour begins before her time.

What it watches: the day count at the first sign of labour, waters, sac, contraction, part of a
pup or birth. Below the limit of the most trusted evidence it raises the alert, which stands
until she has settled (while there were only first-stage signs), the end, or a caesarean. Another
date that is due earlier drives what is overdue, but it does not make an early labour timely.

Why it matters: pups born some days early may not breathe or keep warm by themselves. And when
the count is wrong it is better to know it now. Without any date to count from this rule is
silent.

What to do: ring before the first pup is there, and have warmth ready for all of them.

Example:
    ovulation: 2026-01-03

    02:00 sign restless panting
    #= 02:00 call labour-early
    05:00 settled
    #= 05:00 cleared labour-early
"""

from collections.abc import Iterator
from decimal import Decimal

from boxlamp.model.entry import Entry
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
from boxlamp.rules.spell import Band, Spell, Yardstick
from boxlamp.rules.term import KINDS, Evidence

ID = "labour-early"
_FURTHER = (Waters, Sac, Contraction, Part, Birth)


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """One reading of the day count, taken when labour first shows itself."""
    band, evidence = Band(ID, yardstick), Evidence(yardstick)
    begun = further = False
    for entry in story.of(*KINDS, Sign, Settled, *_FURTHER, Caesarean, Finished):
        match entry.what:
            case Caesarean() | Finished():
                band.close(entry)
                break
            case Settled():
                if not further:
                    begun = False
                    band.close(entry)
            case Sign() | Waters() | Sac() | Contraction() | Part() | Birth():
                further = further or isinstance(entry.what, _FURTHER)
                begun = begun or _read(band, entry, evidence)
            case _:
                evidence.take(entry)
    return band.finish()


def _read(band: Band, entry: Entry, evidence: Evidence) -> bool:
    """Read the day count off the most trusted evidence; whether there was any.

    Another basis may be due so much earlier that the overdue alarms keep to it. Here the same
    care points the other way: a date that is wrong by a week must not hide an early labour.
    """
    basis = evidence.trusted
    if basis is None:
        return False
    day = basis.day_of(entry)
    band.read(entry, basis.clock, Decimal(day), basis.in_words(day))
    return True


RULE = Rule(
    id=ID,
    group="before labour",
    title="Labour before her time",
    watch=watch,
    says={"": "Labour shows itself early: {detail}."},
    do={
        Level.WATCH: (
            "Tell the vet the day count as soon as you can. Have heat ready for small pups.",
        ),
        Level.CALL: (
            "Ring the vet now. Say the day count, what it is counted from, and what you see.",
            "Have heat ready: early pups are small and cannot keep warm.",
        ),
    },
    page=__doc__,
)
