"""A pup has stopped gaining.

What it watches: every weighing from two days of age to the end of the eighth week. The weight is
held against the one of about a day before: no gain asks for a look, a loss of 2 % or more for the
telephone. From three days of age it is also held against the newest one that is about two days
old or older: no gain in all that time asks for the telephone, however rarely it was weighed. The
next gain ends it.

Why it matters: after the first two days a pup gains every day, and steady gain is the best sign
that all is well. A pup can be lost within a day or two of standing still.

What to do: weigh again in 12 hours on the same scale, before a meal. See it suckle and swallow.

Example:
    02:00 pup 290g
    2026-03-06 08:00 weigh 1 300g
    2026-03-07 08:00 weigh 1 300g
    #= 2026-03-07 08:00 watch weight-stalled pup 1
    2026-03-08 08:00 weigh 1 300g
    #= 2026-03-08 08:00 call weight-stalled pup 1
    2026-03-09 08:00 weigh 1 312g
    #= 2026-03-09 08:00 cleared weight-stalled pup 1
"""

from collections.abc import Iterator
from dataclasses import dataclass, field

from boxlamp.model.entry import Entry
from boxlamp.model.levels import Level, pup_subject
from boxlamp.model.story import Story
from boxlamp.rules.gains import Apart, apart, gain_between
from boxlamp.rules.rule import Rule
from boxlamp.rules.scale import KINDS, Scale, Scales
from boxlamp.rules.spell import Band, Spell, Yardstick, span

ID = "weight-stalled"
_CLOCKS = ("day", "two days")


@dataclass(eq=False, repr=False)
class _Pup:
    """One pup's gain over about a day, and over about two days or more."""

    yardstick: Yardstick
    subject: str
    bands: dict[str, Band] = field(init=False)
    within: dict[str, Apart] = field(init=False)

    def __post_init__(self) -> None:
        """Each clock has its own readings."""
        self.bands = {clock: Band(ID, self.yardstick, self.subject) for clock in _CLOCKS}
        self.within = {clock: apart(self.yardstick, ID, clock) for clock in _CLOCKS}

    def weigh(self, entry: Entry, scale: Scale) -> None:
        """Take in one weighing."""
        age, until = scale.age(entry.at), span(self.yardstick, ID, "until")
        for clock, band in self.bands.items():
            old_enough = age >= span(self.yardstick, ID, f"from {clock}")
            gain = gain_between(scale, clock, self.within[clock]) if old_enough else None
            if age >= until:
                band.close(entry)
            elif gain is not None:
                band.read(entry, clock, gain.percent, gain.words)
            elif _heavier(scale):
                band.close(entry)

    def close(self, entry: Entry) -> None:
        """Nothing more is weighed."""
        for band in self.bands.values():
            band.close(entry)


def _heavier(scale: Scale) -> bool:
    """Whether the newest weight is a gain over the one before it."""
    newest = scale.weighings[-2:]
    return newest[-1].grams > newest[0].grams


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """For each pup, from a weighing without gain until the next gain."""
    scales, pups = Scales(), dict[int, _Pup]()
    for entry in story.of(*KINDS):
        scale = scales.take(entry)
        if scale is not None:
            if scale.pup not in pups:
                pups[scale.pup] = _Pup(yardstick, pup_subject(scale.pup))
            pups[scale.pup].weigh(entry, scale)
        for left in scales.left(entry):
            if left.pup in pups:
                pups[left.pup].close(entry)
    for pup in pups.values():
        for band in pup.bands.values():
            yield from band.finish()


RULE = Rule(
    id=ID,
    group="each pup",
    title="Pup has stopped gaining",
    watch=watch,
    says={
        "day": "No gain since the day before, {subject}: {detail}.",
        "two days": "No gain in two days or more, {subject}: {detail}.",
    },
    do={
        Level.WATCH: (
            "Weigh it again in 12 hours, on the same scale and before a meal.",
            "See it suckle and swallow. Give it a full teat, away from stronger pups.",
        ),
        Level.CALL: (
            "Ring the vet now. Say its age, its weights, and whether it suckles.",
            "Keep it warm. Look at her udder and her discharge, and take her temperature.",
        ),
    },
    page=__doc__,
)
