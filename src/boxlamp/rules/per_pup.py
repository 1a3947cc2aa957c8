"""One stopwatch per pup: whatever happens to one pup stops no other pup's clock."""

from collections.abc import Iterator
from dataclasses import dataclass, field

from boxlamp.model.levels import pup_subject
from boxlamp.rules.spell import Spell, Stopwatch


@dataclass(eq=False, repr=False)
class PerPup:
    """The clocks of one rule, by pup number."""

    rule: str
    watches: dict[int, Stopwatch] = field(default_factory=dict)

    def of(self, pup: int) -> Stopwatch:
        """The clock of one pup."""
        if pup not in self.watches:
            self.watches[pup] = Stopwatch(self.rule, pup_subject(pup))
        return self.watches[pup]

    def finish(self) -> Iterator[Spell]:
        """All spells noted, pup by pup."""
        for watch in self.watches.values():
            yield from watch.finish()
