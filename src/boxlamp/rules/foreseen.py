"""Spells that begin or end by themselves, unless an entry comes first.

A week before she is due, three days after a report: no entry marks such moments. A rule plans
what will be so if nothing else is written down; an entry that changes it cuts it off. What has
not begun by then is forgotten, so that no spell ever depends on what was written down later.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime

from boxlamp.model.entry import Entry
from boxlamp.model.levels import DAM
from boxlamp.rules.spell import Spell


@dataclass(eq=False, repr=False)
class Foreseen:
    """What one rule foresees, at most one spell for each subject and clock."""

    rule: str
    ahead: dict[tuple[str, str], Spell] = field(default_factory=dict)
    noted: list[Spell] = field(default_factory=list)
    _clocks: dict[str, list[str]] = field(default_factory=dict)
    """Which clocks are foreseen of each subject, in the order in which they were planned."""

    def plan(  # noqa: PLR0913 - a spell has that many sides
        self,
        entry: Entry,
        clock: str = "main",
        *,
        since: datetime,
        start: datetime | None = None,
        end: datetime | None = None,
        subject: str = DAM,
        also: tuple[int, ...] = (),
        detail: str = "",
    ) -> None:
        """Foresee a spell, from this entry on; what was foreseen there before is cut off.

        It begins at ``start``, or at ``since`` when that is missing, and never before the entry.
        """
        if (subject, clock) in self.ahead:
            self.cut(entry, clock, subject=subject)
        begins = max(start or since, entry.at)
        if end is None or begins < end:
            if entry.id in also:
                also = tuple(number for number in also if number != entry.id)
            opened = (*also, entry.id)
            self.ahead[subject, clock] = Spell(
                self.rule, subject, clock, since, begins, end, opened, detail=detail
            )
            self._clocks.setdefault(subject, []).append(clock)

    def cut(self, entry: Entry, *clocks: str, subject: str = DAM) -> None:
        """Let this entry end what is foreseen of a subject, or of some of its clocks."""
        mine = self._clocks.get(subject)
        if not mine:
            return
        over = [clock for clock in mine if clock in clocks] if clocks else list(mine)
        for clock in over:
            mine.remove(clock)
            spell = self.ahead.pop((subject, clock))
            if spell.end is not None and spell.end <= entry.at:
                self.noted.append(spell)
            elif spell.start < entry.at:
                self.noted.append(spell._replace(end=entry.at, closed=(entry.id,)))

    def finish(self) -> Iterator[Spell]:
        """All spells: those that are over, and those foreseen at the end of the story."""
        yield from self.noted
        yield from self.ahead.values()
