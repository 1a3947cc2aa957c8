"""The dam's temperature is high, before, in or after labour.

What it watches: each rectal temperature of the dam, before labour too. In labour a higher reading
is ordinary, so the limits are higher until the whelping is finished, or until some hours have
gone by since the last birth or the caesarean with no push, waters, sac or part of a pup; after a
caesarean these count no more. After the whelping the limits are lower, and lower still from the
fourth day; these go on while she has pups in the house. After the whelping it is also a call when
the fever stands in two readings some time apart, or while she is also dull, refuses food, has
vomited, or has a foul discharge; only a better discharge ends that, however well she is said to
be. A reading out of band opens the alert and the next one in band ends it: a fever is not over
because the whelping is.

Why it matters: her temperature may rise while she pushes, and a little on the first days. A high
fever in labour tires her and harms the pups. A rise after it is often the first sign that
something was kept inside or that an infection has begun, before she looks ill. In the weeks of
most milk a fever may come from the udder.

What to do: take it again to be sure. Let cooler air and water reach her; do not chill her. Look
at her discharge and her udder, and write down whether she eats.

Example:
    01:00 contraction weak
    01:10 temp 40.1
    #= 01:10 call dam-hot
    01:40 temp 39.0
    #= 01:40 cleared dam-hot
    02:00 pup
    02:30 finished
    12:00 temp 39.5
    #= 12:00 watch dam-hot
    13:00 temp 39.5
    #= 13:00 call dam-hot
    15:00 temp 38.9
    #= 15:00 cleared dam-hot
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import timedelta
from decimal import Decimal

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Birth,
    Caesarean,
    Contraction,
    DamState,
    Death,
    Discharge,
    Finished,
    Milestone,
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
from boxlamp.rules import fever
from boxlamp.rules.after import After
from boxlamp.rules.fever import Fever
from boxlamp.rules.rule import Rule
from boxlamp.rules.scale import Scales
from boxlamp.rules.spell import Band, Spell, Yardstick, span

ID = "dam-hot"
_LABOUR = (Sign, Waters, Contraction, Sac, Part, Birth)
_KINDS = (*_LABOUR, Temperature, Discharge, DamState, Finished, Caesarean, Death, Milestone)


@dataclass(eq=False, repr=False)
class _Watch:
    """The readings of one dam while her entries go by."""

    yardstick: Yardstick
    whelping: After
    band: Band
    fever: Fever
    pups: Scales = field(default_factory=Scales)
    in_labour: bool = False
    no_labour: tuple[type[What], ...] = ()

    def take(self, entry: Entry) -> None:
        """Let one entry be read, or move her into labour or out of it."""
        self.whelping.take(entry)
        self.pups.take(entry)
        age = self.whelping.age(entry.at)
        match entry.what:
            case Temperature(where="dam", celsius=value):
                self._read(entry, value, self._clock(age))
            case Temperature() | Discharge() | DamState() | Death() | Milestone():
                pass
            case Finished():  # panting after the last pup is no new labour
                self.in_labour, self.no_labour = False, self.no_labour or (Sign,)
            case Caesarean():  # nor are the pups it delivers
                self.in_labour, self.no_labour = False, _LABOUR
            case what if not isinstance(what, self.no_labour):
                self.in_labour = True
            case _:
                pass
        if isinstance(entry.what, fever.KINDS):
            self.fever.take(entry, over=age is not None)

    def _read(self, entry: Entry, value: Decimal, clock: str) -> None:
        words = f"{plain(value)} °C"
        if clock:
            self.band.read(entry, clock, value, words)
        if clock in {"", "before", "labour"}:
            self.fever.stop(entry)
        else:
            self.fever.read(entry, value, words)

    def _clock(self, age: timedelta | None) -> str:
        """Whose limits a reading is held against; nobody's once the pups have gone."""
        if age is None:
            begun = self.in_labour or self.whelping.zero is not None
            return "labour" if begun else "before"
        if age < self._span("first-days"):
            return "day 0-3"
        if age < self._span("until"):
            return "day 4-14"
        return "later" if self._nursing or self.band.running else ""

    @property
    def _nursing(self) -> bool:
        """Whether pups are still with her; pups that nobody wrote down may be."""
        return not self.pups.pups or any(self.pups.here)

    def _span(self, name: str) -> timedelta:
        return span(self.yardstick, ID, name)


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """High temperatures of the dam, until her pups have gone."""
    calm = span(yardstick, ID, "calm")
    dam = _Watch(yardstick, After(calm), Band(ID, yardstick), Fever(ID, yardstick))
    for entry in story.of(*_KINDS):
        dam.take(entry)
    for watched in (dam.band, dam.fever.again, dam.fever.ill):
        yield from watched.finish()


RULE = Rule(
    id=ID,
    group="the dam",
    title="Dam's temperature high",
    watch=watch,
    says={
        "": "Her temperature is {detail}.",
        "again": "Her temperature is {detail}, and was high {ago} already.",
        "ill": "Her temperature is high and {detail}.",
    },
    do={
        Level.WATCH: (
            "Take it again in 15 minutes. Let cooler air and water reach her.",
            "After whelping take it once more an hour after the first.",
        ),
        Level.CALL: (
            "Ring the vet now and give the reading and the time.",
            "Say how many pups came, whether she eats, and what her discharge looks like.",
        ),
        Level.GO: ("Leave for the vet now and ring on the way.",),
    },
    page=__doc__,
)
