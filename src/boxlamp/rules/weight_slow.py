"""A pup gains too slowly.

What it watches: at each weighing from day 3 to day 28, the mean gain a day since the newest
weighing that is about three days old or older, 60 hours to 8 days, so that a pup weighed every
second day, or once a week, is judged too. The gain is compound: 5 % a day is what doubles a weight
in 14 days. From day 15 on, and for a pup that weighs twice its first weight by then, 3.5 % a day
is enough. The first day does not count, because a slight loss is accepted then: the earlier weight
must be that of a pup one day old or more. The next weighing with enough gain ends it.

Why it matters: a pup that gains, but slowly, looks well for days while it falls behind. Slow
growth is the first thing a scale shows, long before the eye does.

What to do: see it suckle, give it time at a full teat without the strong ones, weigh it daily.

Example:
    02:00 pup 380g
    2026-03-04 08:00 weigh 1 400g
    2026-03-07 08:00 weigh 1 463g
    #= 2026-03-07 08:00 watch weight-slow pup 1
    2026-03-08 08:00 weigh 1 510g
    #= 2026-03-08 08:00 cleared weight-slow pup 1
"""

from collections.abc import Iterator
from decimal import ROUND_FLOOR, Decimal
from functools import partial

from boxlamp.model.levels import Level, pup_subject
from boxlamp.model.quantities import plain
from boxlamp.model.story import Story
from boxlamp.rules.ages import ages
from boxlamp.rules.gains import Gain, pace
from boxlamp.rules.rule import Rule
from boxlamp.rules.scale import KINDS, Scales
from boxlamp.rules.spell import Band, Spell, Yardstick, span

ID = "weight-slow"
_CLOCKS = ("days 3-14", "days 15-28")


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """For each pup, from a weighing with too little gain until the next with enough."""
    scales, bands, by_age = Scales(), dict[int, Band](), ages(yardstick, ID, _CLOCKS)
    for entry in story.of(*KINDS):
        scale = scales.take(entry)
        if scale is not None:
            band = bands.get(scale.pup) or bands.setdefault(
                scale.pup, Band(ID, yardstick, pup_subject(scale.pup))
            )
            gain = pace(scale, yardstick, ID, by_age)
            if scale.age(entry.at) >= span(yardstick, ID, "until"):
                band.close(entry)
            elif gain is not None:
                band.read(entry, gain.clock, gain.percent, partial(_detail, gain))
        for left in scales.left(entry):
            if left.pup in bands:
                bands[left.pup].close(entry)
    for band in bands.values():
        yield from band.finish()


def _detail(gain: Gain) -> str:
    percent = gain.percent.quantize(Decimal("0.1"), rounding=ROUND_FLOOR)
    return f"{plain(percent)} % a day ({gain.words()})"


RULE = Rule(
    id=ID,
    group="each pup",
    title="Pup gains too slowly",
    watch=watch,
    says={"": "Slow gain, {subject}: {detail}."},
    do={
        Level.WATCH: (
            "See it suckle and swallow. Give it a full teat, away from stronger pups.",
            "Weigh it every day. Slower still, or dull or thin: ring the vet.",
        ),
    },
    page=__doc__,
)
