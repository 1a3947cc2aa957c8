"""A pup weighs less than it did at first.

What it watches: at each weighing, the growth since the birth weight, by the pup's age. In the
first 36 hours 4 % less asks for a closer look and 10 % less for the telephone; until 72 hours any
loss asks for a look and 4 % less for the telephone; after that it should not be under its birth
weight at all. The first reading that is in order ends it. A first weight that came later than 12
hours after the birth is no birth weight: it is taken as one, but as one of a pup 12 hours old.

Why it matters: a slight loss on the first day is accepted. Pups that had lost 4 % or more by the
second day died more often in the weeks after, and a pup that has not regained its birth weight on
the third day is not getting enough.

What to do: see it suckle and swallow, warm it, and weigh it again in some hours.

Example:
    02:00 pup 400g
    22:00 weigh 1 385g
    2026-03-04 02:00 weigh 1 384g
    #= 2026-03-04 02:00 call weight-loss pup 1
    2026-03-04 14:00 weigh 1 392g
    #= 2026-03-04 14:00 cleared weight-loss pup 1
    #= 2026-03-04 14:00 watch weight-loss
    2026-03-05 08:00 weigh 1 405g
    #= 2026-03-05 08:00 cleared weight-loss pup 1
"""

from collections.abc import Iterator
from datetime import datetime, timedelta
from decimal import ROUND_DOWN, Decimal
from functools import partial

from boxlamp.model.levels import Level, pup_subject
from boxlamp.model.quantities import plain
from boxlamp.model.story import Story
from boxlamp.rules.ages import ages
from boxlamp.rules.rule import Rule
from boxlamp.rules.scale import KINDS, Scale, Scales, birth_within
from boxlamp.rules.spell import Band, Spell, Yardstick

ID = "weight-loss"
_CLOCKS = ("0-36 h", "36-72 h", "72 h on")


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """For each pup, from a weight under its first one until the next that is in order."""
    scales, bands = Scales(), dict[int, Band]()
    within, by_age = birth_within(yardstick), ages(yardstick, ID, _CLOCKS)
    for entry in story.of(*KINDS):
        scale = scales.take(entry)
        growth = None if scale is None or scale.last is None else scale.growth(scale.last.grams)
        if scale is not None and growth is not None:
            band = bands.get(scale.pup) or bands.setdefault(
                scale.pup, Band(ID, yardstick, pup_subject(scale.pup))
            )
            clock = by_age.clock_at(_age(scale, entry.at, within))
            band.read(entry, clock, growth, partial(_detail, scale, growth, within))
        for left in scales.left(entry):
            if left.pup in bands:
                bands[left.pup].close(entry)
    for band in bands.values():
        yield from band.finish()


def _age(scale: Scale, at: datetime, within: timedelta) -> timedelta:
    """The pup's age; after a late first weight, as if that had been the last possible in time."""
    if scale.first is None:  # pragma: no cover - only a growing pup comes here
        return scale.age(at)
    return min(scale.age(at), at - scale.first.at + within)


def _detail(scale: Scale, growth: Decimal, within: timedelta) -> str:
    if scale.first is None or scale.last is None:  # pragma: no cover - as above
        return ""
    what = "first weight" if scale.late(within) else "birth weight"
    lost = plain((-growth).quantize(Decimal("0.1"), rounding=ROUND_DOWN))
    return f"{plain(scale.last.grams)} g, {lost} % under its {what} of {plain(scale.first.grams)} g"


RULE = Rule(
    id=ID,
    group="each pup",
    title="Pup has lost weight",
    watch=watch,
    says={"": "Weight of {subject}: {detail}."},
    do={
        Level.WATCH: (
            "See it suckle and swallow, and weigh it again in 6 to 12 hours.",
            "Warm it first if it is cool. A cold pup cannot digest.",
        ),
        Level.CALL: (
            "Ring the vet now. Say its age, its weights, and whether it suckles.",
            "Keep it warm, and hold it to a full teat. Do not feed a cold pup: warm it first.",
        ),
    },
    page=__doc__,
)
