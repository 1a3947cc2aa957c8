"""A reading that speaks of now for some time, and then no longer."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal

from boxlamp.model.entry import Entry
from boxlamp.rules.spell import Band, Spell


@dataclass(eq=False, repr=False)
class Reading:
    """Readings of one kind: out of band until the next one in band, or until they are too old."""

    band: Band
    good_for: timedelta
    _until: datetime | None = None

    def read(self, entry: Entry, clock: str, value: Decimal, detail: str) -> None:
        """Take in one reading, judged by the bands of ``clock``."""
        self._pass_to(entry.at)
        self.band.read(entry, clock, value, detail)
        self._until = entry.at + self.good_for

    def close(self, entry: Entry) -> None:
        """Whatever stands does so no longer."""
        self._pass_to(entry.at)
        self.band.close(entry)

    def finish(self) -> Iterator[Spell]:
        """All spells noted; the last one ends when it will be too old."""
        if self._until is not None:
            self.band.stop(self._until)
        return self.band.finish()

    def _pass_to(self, moment: datetime) -> None:
        if self._until is not None and self._until <= moment:
            self.band.stop(self._until)
            self._until = None
