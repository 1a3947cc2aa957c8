"""A pup was light at birth.

What it watches: each pup's birth weight, which is its first weight if that was taken within 12
hours of its birth; a later one says nothing here. It is held against the best reference that is
known: ten breeds have limits of their own; else the mean weight at birth of the breed, given with
`set breed-birth-weight` or published; else the weight of the dam; else the mean of the litter. The
alert says which. Crosses and smaller varieties are not taken for the breed. When more becomes
known later, it holds from then on. All low pups of a litter share one watch; each very low pup has
a call of its own. It ends for a pup that has gained or has grown past the limit, and after some
days by itself: then growth tells more than birth weight.

Why it matters: birth weight decides most of the first two days. Low is common, nearly half of all
pups, and asks for the scale, not for the vet. Of the few that are very low about half died.

What to do: warm and dry, first at the best teat, and on the scale twice a day. Very low: ring.

Example:
    breed: Labrador Retriever

    02:00 pup 405g
    #= 02:00 watch birth-weight litter
    03:00 pup 247g
    #= 03:00 call birth-weight pup 2
    2026-03-03 08:00 weigh 1 418g
    #= 2026-03-03 08:00 cleared birth-weight litter
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime
from typing import NamedTuple

from boxlamp.model.entry import Entry
from boxlamp.model.levels import LITTER, Level, pup_subject
from boxlamp.model.quantities import plain
from boxlamp.model.story import Story
from boxlamp.rules.birth_reference import ID, KINDS, BirthWeights, Finding
from boxlamp.rules.foreseen import Foreseen
from boxlamp.rules.rule import Rule
from boxlamp.rules.scale import Scale
from boxlamp.rules.spell import Spell, Yardstick, span

_NAMES = {Level.WATCH: "low", Level.CALL: "very-low"}


class _Low(NamedTuple):
    """What is said of the low pups of a litter, together, and until when."""

    pups: tuple[int, ...]
    finding: Finding
    until: datetime


@dataclass(eq=False, repr=False)
class _Shown:
    """What is shown: each very low pup for itself, and all low ones in one line."""

    births: BirthWeights
    spells: Foreseen = field(default_factory=lambda: Foreseen(ID))
    _very_low: dict[int, Finding] = field(default_factory=dict)
    _each_low: dict[int, Finding] = field(default_factory=dict)
    """What is known of each pup that is low."""
    _gained: set[tuple[int, Level]] = field(default_factory=set)
    """The pups that have gained since the first days, by the level that this ends."""
    _low: _Low | None = None

    def take(self, entry: Entry) -> None:
        """Let one entry change what is shown."""
        for pup in self.births.take(entry):
            young = [level for level in _NAMES if entry.at < self._until(pup, level)]
            if young:
                self._note_gain(pup)
            self._each_low.pop(pup.pup, None)
            if Level.CALL in young:
                self._show_very_low(entry, pup)
            finding = self._found(pup, Level.WATCH) if Level.WATCH in young else None
            if finding is not None:
                self._each_low[pup.pup] = finding
        low = self._found_low(entry)
        if low != self._low:
            self._low = low
            self._show_low(entry)

    def _show_very_low(self, entry: Entry, pup: Scale) -> None:
        finding = self._found(pup, Level.CALL)
        if finding == self._very_low.get(pup.pup) or pup.first is None:
            return
        self.spells.cut(entry, subject=pup_subject(pup.pup))
        self._very_low.pop(pup.pup, None)
        if finding is not None:
            self._very_low[pup.pup] = finding
            grams, who = plain(pup.first.grams), pup_subject(pup.pup)
            self.spells.plan(
                entry,
                finding.clock,
                since=pup.first.at,
                start=entry.at,
                end=self._until(pup, Level.CALL),
                subject=who,
                also=(pup.first.entry.id,),
                detail=f"very low ({grams} g), {who}: {finding.words}",
            )

    def _show_low(self, entry: Entry) -> None:
        self.spells.cut(entry, subject=LITTER)
        if self._low is None:
            return
        pups = [self.births.scales.pups[number] for number in self._low.pups]
        firsts = [pup.first for pup in pups if pup.first is not None]
        self.spells.plan(
            entry,
            self._low.finding.clock,
            since=min(first.at for first in firsts),
            start=entry.at,
            end=self._low.until,
            subject=LITTER,
            also=tuple(dict.fromkeys(first.entry.id for first in firsts)),
            detail=f"low, {_named(self._low.pups)}: {self._low.finding.words}",
        )

    def _found_low(self, entry: Entry) -> _Low | None:
        """The pups that are low, and still young enough for it to matter."""
        found = [
            (number, finding, until)
            for number, finding in sorted(self._each_low.items())
            if entry.at < (until := self._until(self.births.scales.pups[number], Level.WATCH))
        ]
        if not found:
            return None
        # What they are held against is the same for the whole litter.
        pups, findings, untils = zip(*found, strict=True)
        return _Low(pups, findings[0], max(untils))

    def _found(self, pup: Scale, level: Level) -> Finding | None:
        """What is known of a birth weight of this very level, while that still matters."""
        finding = self.births.finding(pup)
        if finding is None or finding.level is not level or self._over(pup, level):
            return None
        return finding

    def _over(self, pup: Scale, level: Level) -> bool:
        """Whether the pup has died, left, gained since its first days, or outgrown the limits."""
        gained = (pup.pup, level) in self._gained
        return pup.gone is not None or gained or self.births.level(pup, pup.heaviest) is None

    def _note_gain(self, pup: Scale) -> None:
        """Note whether the pup's newest weight is a gain since its first days."""
        for level, name in _NAMES.items():
            settled = span(self.births.yardstick, ID, f"{name}-settled")
            if pup.last is None or pup.last is pup.first:
                self._gained.discard((pup.pup, level))  # just born, or a first weight: no gain
            elif pup.age(pup.last.at) >= settled and (pup.growth(pup.last.grams) or 0) > 0:
                self._gained.add((pup.pup, level))

    def _until(self, pup: Scale, level: Level) -> datetime:
        return pup.birth.at + span(self.births.yardstick, ID, f"{_NAMES[level]}-until")


def _named(pups: tuple[int, ...]) -> str:
    """``pup 3``; ``pups 1, 3 and 4``."""
    *most, last = map(str, pups)
    return f"pups {', '.join(most)} and {last}" if most else f"pup {last}"


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """From a low birth weight until the pup has gained, or its first days are over."""
    shown = _Shown(BirthWeights(yardstick))
    for entry in story.of(*KINDS):
        shown.take(entry)
    for spell in shown.spells.finish():
        yield spell._replace(level=Level.WATCH if spell.subject == LITTER else Level.CALL)


def findings(story: Story, yardstick: Yardstick) -> dict[int, Finding]:
    """What is known of every birth weight at the end of a story, the normal ones too."""
    births = BirthWeights(yardstick)
    for entry in story.of(*KINDS):
        births.take(entry)
    found = {pup.pup: births.finding(pup) for pup in births.scales.pups.values()}
    return {number: finding for number, finding in found.items() if finding is not None}


RULE = Rule(
    id=ID,
    group="each pup",
    title="Low birth weight",
    watch=watch,
    says={"": "Birth weight {detail}."},
    do={
        Level.WATCH: (
            "Weigh every 12 hours until three days old. The lightest goes to the teat first.",
        ),
        Level.CALL: (
            "Ring the vet now. Say its weight, its breed, and whether it suckles.",
            "Keep it warm. Once it is warm, hold it to a full teat and see it swallow.",
            "Weigh it every 12 hours and write it down.",
        ),
    },
    page=__doc__,
)
