"""The weeks in which low calcium is most likely. A reminder, and no alert.

What it watches: the days after the last pup, in the weeks of most milk, for a small dam with
several pups at her, or for any dam with very many. Pups count while they are alive and in the
house. Her weight is the newest one, given for her or read off a scale; while there is none, a dam
said to be of a toy breed counts as small. When any of this becomes known late, the reminder begins
then.

Why it matters: milk takes calcium from her blood, most of all in a small body with many mouths.
From the first stiffness to fits can be an hour or two; who knows the signs wins that time. The
dam outside this list can fall ill in the same way.

What to do: know the signs. When you see one, write it down with `dam`, and leave for the vet.

Example:
    weight: 4kg

    02:00 pup
    02:30 pup
    03:00 pup
    03:30 pup
    #= 2026-03-09 03:30 prompt eclampsia-window
    2026-03-12 09:00 note all well
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from decimal import Decimal

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Birth,
    Caesarean,
    Death,
    Details,
    Finished,
    Milestone,
    Weight,
)
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules.foreseen import Foreseen
from boxlamp.rules.rule import Rule
from boxlamp.rules.scale import Scales
from boxlamp.rules.spell import Spell, Yardstick, span

ID = "eclampsia-window"
_KINDS = (Details, Birth, Caesarean, Finished, Weight, Death, Milestone)


@dataclass(eq=False, repr=False)
class _Dam:
    """How heavy she is, when her last pup came, and how many she nurses."""

    yardstick: Yardstick
    zero: Entry | None = None
    scales: Scales = field(default_factory=Scales)
    grams: Decimal | None = None
    toy: bool = False

    def take(self, entry: Entry) -> None:
        """Let one entry tell of her or of her pups."""
        self.scales.take(entry)
        match entry.what:
            case Birth() | Caesarean():
                self.zero = entry
            case Finished():
                self.zero = self.zero or entry
            case Details(weight=grams, toy=toy):
                self.grams = self.grams if grams is None else grams
                self.toy = self.toy if toy is None else toy
            case Weight(pup=None, grams=grams):
                self.grams = grams
            case _:
                pass

    def why(self, entry: Entry) -> str:
        """What makes these weeks hers; empty when nothing does."""
        pups = sum(1 for _ in self.scales.here)
        if self.yardstick.levels_at(ID, "many-pups", Decimal(pups), entry.at):
            return f"She nurses {pups} pups"
        several = self.yardstick.levels_at(ID, "pups", Decimal(pups), entry.at)
        return f"She is small and nurses {pups} pups" if several and self._small(entry) else ""

    def _small(self, entry: Entry) -> bool:
        if self.grams is None:
            return self.toy
        return bool(self.yardstick.levels_at(ID, "weight", self.grams, entry.at))


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """From the last pup, while what makes her likely to fall ill is so and is known."""
    clock, dam = Foreseen(ID), _Dam(yardstick)
    until = span(yardstick, ID, "until")
    told: tuple[Entry | None, str] = (None, "")
    for entry in story.of(*_KINDS):
        if isinstance(entry.what, Weight) and entry.what.pup is not None:
            continue  # what a pup weighs tells nothing of her
        dam.take(entry)
        now = dam.zero, dam.why(entry)
        if now == told:
            continue
        told = now
        clock.cut(entry)
        if dam.zero is not None and now[1]:
            zero = dam.zero
            clock.plan(entry, since=zero.at, end=zero.at + until, also=(zero.id,), detail=now[1])
    return clock.finish()


RULE = Rule(
    id=ID,
    group="the dam",
    title="Weeks in which to know the signs of low calcium",
    watch=watch,
    says={"": "{detail}: low calcium is most likely in these weeks."},
    do={
        Level.PROMPT: (
            "Stiff, trembling, panting at rest, staring or unsteady: that is an emergency.",
            "Take the pups off her, leave for the vet now and ring on the way.",
        ),
    },
    page=__doc__,
    on_board=False,
)
