"""Newborn reflexes that a pup should have: which of them a test found absent."""

from dataclasses import dataclass, field
from datetime import datetime, timedelta
from decimal import Decimal

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Feed, Reflexes, Step, Temperature
from boxlamp.model.levels import pup_subject
from boxlamp.rules.renewed import Renewed
from boxlamp.rules.scale import Scale
from boxlamp.rules.spell import Yardstick, span

KINDS = (Reflexes, Temperature, Step, Feed)
CLOCK = "reflex"
_WORDS = {"suckle": "sucking", "righting": "righting"}


@dataclass(eq=False, repr=False)
class Tested:
    """The reflexes of all pups, and how warm each pup was: a cold pup has none to show."""

    rule: str
    yardstick: Yardstick
    clocks: Renewed
    absent: dict[int, dict[str, int]] = field(default_factory=dict)
    """By pup, the reflexes found absent, each with the number of the test."""
    _warmth: dict[int, tuple[datetime, Decimal]] = field(default_factory=dict)

    def take(self, entry: Entry, scale: Scale) -> None:
        """Let one entry about a pup test its reflexes, or show that it has them."""
        match entry.what:
            case Temperature(celsius=value):
                self._warmth[scale.pup] = entry.at, value
            case Reflexes() as tested:
                self._test(entry, scale, tested)
            case Step(step="milk") | Feed(how="teat" | "bottle"):
                self._show(entry, scale, found={"suckle"}, missed=set())
            case _:
                pass

    def forget(self, pup: int) -> None:
        """Nothing is held against this pup any longer."""
        self.absent.pop(pup, None)

    def _test(self, entry: Entry, scale: Scale, tested: Reflexes) -> None:
        results = {name: getattr(tested, name) for name in _WORDS}
        found = {name for name, points in results.items() if points}
        young = scale.age(entry.at) < span(self.yardstick, self.rule, "reflex-from")
        counts = not young and not self._cold(scale.pup, entry.at)
        missed = {name for name, points in results.items() if points == 0 and counts}
        self._show(entry, scale, found=found, missed=missed)

    def _show(self, entry: Entry, scale: Scale, *, found: set[str], missed: set[str]) -> None:
        subject = pup_subject(scale.pup)
        if self.clocks.standing(entry.at, CLOCK, subject) is None:
            self.forget(scale.pup)  # what was found absent long ago says nothing of now
        absent = self.absent.setdefault(scale.pup, {})
        before = dict(absent)
        for name in found:
            absent.pop(name, None)
        absent.update(dict.fromkeys(missed, entry.id))
        said = " or ".join(words for name, words in _WORDS.items() if name in absent)
        if not absent:
            self.clocks.cut(entry, CLOCK, subject=subject)
        elif absent != before:
            lasts = span(self.yardstick, self.rule, "stands-for")
            self.clocks.renew(entry, CLOCK, lasts=lasts, subject=subject, detail=said)

    def _cold(self, pup: int, at: datetime) -> bool:
        """Whether the pup's last temperature, if it speaks of this moment, is too low."""
        if pup not in self._warmth:
            return False
        when, value = self._warmth[pup]
        fresh = at - when <= self._speaks_for
        return fresh and value < self.yardstick.number("pup-cold", "feed-from")

    @property
    def _speaks_for(self) -> timedelta:
        return span(self.yardstick, "pup-cold", "speaks-for")
