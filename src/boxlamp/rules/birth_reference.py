"""What a birth weight is held against: the best reference that is known, and how to say it.

Best first: the breed's own limits, its mean weight at birth (given by a person, else published),
the size of the dam, the mean of the litter. One reference holds for the whole litter; when more
becomes known, another one may hold from then on.
"""

from dataclasses import dataclass, field
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from typing import NamedTuple

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Details, Weight
from boxlamp.model.levels import Level
from boxlamp.model.litter import merged
from boxlamp.model.quantities import plain, rounded
from boxlamp.rules.breeds import breed_named
from boxlamp.rules.scale import KINDS as WEIGHED
from boxlamp.rules.scale import Scale, Scales, birth_within
from boxlamp.rules.spell import Yardstick

ID = "birth-weight"
KINDS = (Details, *WEIGHED)
MEAN, LITTER = "breed mean", "litter"
SIZES = ("small", "medium", "large")
_ROWS_FROM = "Mugnier 2020"
_GRAMS_IN_KILO = 1000


class Reference(NamedTuple):
    """The bands to read by, and what a weight is divided by to be read: 1, or a mean.

    The mean is kept as a total among so many pups, so that nothing is lost by dividing too early.
    ``words`` has room for the limit and for the band's own figure.
    """

    clock: str
    words: str
    total: Decimal = Decimal(1)
    among: int = 1

    def reading(self, grams: Decimal) -> Decimal:
        """What the bands are about: grams, or the share of a mean."""
        return grams * self.among / self.total

    def limit(self, edge: Decimal) -> Decimal:
        """A band's edge in grams; in whole grams where it comes of a mean."""
        if self.total == self.among:
            return edge
        rounding = ROUND_FLOOR if self.clock == LITTER else ROUND_CEILING
        return (edge * self.total / self.among).quantize(Decimal(1), rounding=rounding)


class Finding(NamedTuple):
    """What is known of one birth weight: low (watch), very low (call) or neither, and by what."""

    level: Level | None
    clock: str
    words: str


@dataclass(eq=False, repr=False)
class BirthWeights:
    """The birth weights of a litter. Feed it entries of :data:`KINDS` in canonical order."""

    yardstick: Yardstick
    scales: Scales = field(default_factory=Scales)
    reference: Reference | None = None
    """What birth weights are held against now; None while nothing fitting is known."""
    _details: Details = field(default_factory=Details)
    _dam_on_scale: Decimal | None = None
    _of_dam: Reference | None = None
    """What her breed or her size says; it goes before what the litter itself says."""

    def take(self, entry: Entry) -> list[Scale]:
        """Let one entry be known; give back the pups for whom something may have changed."""
        weighed = self.scales.take(entry)
        known = weighed is not None and len(weighed.weighings) == 1
        match entry.what:
            case Details():
                self._details, known = merged(self._details, entry.what), True
                self._of_dam = self._of_breed() or self._of_size()
            case Weight(pup=None, grams=grams) if self.scales.pups:  # not heavy with pups
                self._dam_on_scale, known = grams, True
                self._of_dam = self._of_breed() or self._of_size()
            case Birth():
                known = True
            case _:
                pass
        if known:
            before, self.reference = self.reference, self._of_dam or self._of_litter()
            if self.reference != before:
                return list(self.scales.pups.values())
        if isinstance(entry.what, Birth):
            return [self.scales.pups[entry.what.pup]]
        return [weighed] if weighed is not None else self.scales.left(entry)

    def finding(self, pup: Scale) -> Finding | None:
        """How a pup's birth weight looks by what is known now; None when nobody can tell."""
        if pup.first is None or pup.late(birth_within(self.yardstick)) or self.reference is None:
            return None
        level = self.level(pup, pup.first.grams)
        words = self._words(self.reference, level or Level.WATCH)
        return Finding(level, self.reference.clock, words)

    def is_low(self, pup: Scale) -> bool:
        """Whether a pup's birth weight was low or very low."""
        first = pup.first
        in_time = first is not None and not pup.late(birth_within(self.yardstick))
        return first is not None and in_time and self.level(pup, first.grams) is not None

    def level(self, pup: Scale, grams: Decimal) -> Level | None:
        """Low, very low or neither: one weight, judged as if it were the birth weight."""
        if self.reference is None:
            return None
        clock, reading = self.reference.clock, self.reference.reading(grams)
        return max(self.yardstick.levels_at(ID, clock, reading, pup.birth.at), default=None)

    def _words(self, reference: Reference, level: Level) -> str:
        edge = self.yardstick.edge(ID, reference.clock, level)
        return reference.words.format(limit=plain(reference.limit(edge)), share=plain(edge))

    def _of_breed(self) -> Reference | None:
        breed = breed_named(self._details.breed)
        proper, published = breed.title(), f"mean {breed}"
        if breed not in {MEAN, LITTER, *SIZES} and self.yardstick.has(ID, breed):
            return Reference(breed, f"{proper} pups under {{limit}} g ({_ROWS_FROM})")
        if self._details.breed_birth_weight is not None:
            mean = self._details.breed_birth_weight
            whose = "given as usual for her breed"
        elif self.yardstick.has(ID, published):
            mean = self.yardstick.number(ID, published)
            whose = f"published as the mean of {proper} pups"
        else:
            return None
        return Reference(MEAN, f"under {{limit}} g, {{share}} of the {plain(mean)} g {whose}", mean)

    def _of_size(self) -> Reference | None:
        grams = self._details.weight or self._dam_on_scale
        if grams is None:
            return None
        small, large = (self.yardstick.number(ID, name) for name in ("small-under", "large-over"))
        kilos = grams / _GRAMS_IN_KILO
        sizes = (
            ("small", f"under {plain(small)} kg"),
            ("medium", f"{plain(small)} to {plain(large)} kg"),
            ("large", f"over {plain(large)} kg"),
        )
        clock, span = sizes[(kilos >= small) + (kilos > large)]
        return Reference(clock, f"pups under {{limit}} g of a {clock} dam ({span})")

    def _of_litter(self) -> Reference | None:
        within = birth_within(self.yardstick)
        every = [pup.first.grams for pup in self.scales.pups.values()
                 if pup.first is not None and not pup.late(within)]  # fmt: skip
        if len(every) < self.yardstick.number(ID, "litter-least"):
            return None
        total = sum(every, Decimal(0))
        mean = plain(rounded(total / len(every), "1"))
        words = f"{{limit}} g or less, {{share}} of the litter's mean of {mean} g"
        return Reference(LITTER, words, total, len(every))
