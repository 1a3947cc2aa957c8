"""What one line says stands for a while, and another line about the same lets it stand longer."""

from datetime import datetime, timedelta

from boxlamp.model.entry import Entry
from boxlamp.model.levels import DAM
from boxlamp.rules.foreseen import Foreseen
from boxlamp.rules.spell import Spell


class Renewed(Foreseen):
    """Spells that run out by themselves, unless they are renewed in time."""

    def standing(self, at: datetime, clock: str, subject: str) -> Spell | None:
        """The spell that stands at a moment, if it has not run out by then."""
        spell = self.ahead.get((subject, clock))
        if spell is None or spell.start > at or (spell.end is not None and spell.end <= at):
            return None
        return spell

    def renew(  # noqa: PLR0913 - a spell has that many sides
        self,
        entry: Entry,
        clock: str,
        *,
        lasts: timedelta,
        since: datetime | None = None,
        subject: str = DAM,
        also: tuple[int, ...] = (),
        detail: str = "",
    ) -> None:
        """Let it stand from this entry on; what stands already goes on from its first zero."""
        old = self.standing(entry.at, clock, subject)
        before = old.opened if old else ()
        more = tuple(number for number in dict.fromkeys(also) if number not in before)
        self.plan(
            entry,
            clock,
            since=old.since if old else since or entry.at,
            end=entry.at + lasts,
            subject=subject,
            also=(*before, *more),
            detail=detail,
        )
