"""A verdict, and how it is told: in whose clock and units, aloud, each thing with its age."""

from datetime import datetime, timedelta
from typing import Literal, NamedTuple

from boxlamp.engine import Verdict
from boxlamp.model.entry import Entry
from boxlamp.model.levels import Level
from boxlamp.model.litter import Pup
from boxlamp.paper.call_sheet.words import FEW_WORDS, MARK, OWN_WORDS, one_line, own, span_words
from boxlamp.paper.reader import Reader
from boxlamp.view.pup_lines import grown
from boxlamp.view.telephones import at_night
from boxlamp.view.text import day_text

Stage = Literal["before", "labour", "after"]

_MINUTE = timedelta(minutes=1)
# Rules of labour whose clocks run in the weeks after it as well.
_OF_ANY_TIME = frozenset({"bleeding", "foul-discharge", "log-quiet"})
_HALF_DAY = timedelta(hours=12)
_DAY = timedelta(days=1)
# Our choice: what is older than this is told in whole days.
_IN_DAYS = timedelta(days=2)


class Teller(NamedTuple):
    """A verdict, and in whose clock and units it is told."""

    verdict: Verdict
    reader: Reader
    brief: bool = False
    """Whether people's own words are cut to so many cells; else they are told whole."""
    bare: bool = False
    """Whether notes are cut to a few words, and of when something was seen only how long ago."""

    @property
    def night(self) -> bool:
        """Whether it is so late or early that whoever rings wants the number of the night."""
        return at_night(self.verdict.at, self.reader.zone)

    def own(self, text: str | None, cells: int) -> str:
        """Somebody's own words, harmless, and in so many cells at most when there is no room."""
        return own(text, cells) if self.brief else one_line(text)

    def note(self, entry: Entry) -> str:
        """What somebody wrote behind an entry, in brackets; nothing when there is no note."""
        note = self.own(entry.note, FEW_WORDS if self.bare else OWN_WORDS).rstrip(".")
        return f" ({note})" if note else ""

    def noted(self, entry: Entry) -> str:
        """When an entry happened, its age, and what was written behind it."""
        return f"{self.when(entry)}{self.note(entry)}"

    def pup(self, pup: Pup) -> str:
        """``pup 3``, ``pup 3 (marked red)``."""
        marked = f" (marked {self.own(pup.mark, MARK)})" if pup.mark else ""
        return f"pup {pup.number}{marked}"

    @property
    def stage(self) -> Stage:
        """Which questions come first: those before labour, in it, or in the weeks after."""
        litter, now = self.verdict.litter, self.verdict.at
        over = grown(litter, now) or (
            litter.caesarean is not None and now - litter.caesarean >= _DAY
        )
        if litter.phase == "after whelping" or (over and not self._still_whelping):
            return "after"
        return "labour" if litter.phase == "labour" or litter.born else "before"

    @property
    def _still_whelping(self) -> bool:
        """Whether a loud alert says that the labour is not over, however long it has taken."""
        return any(
            alert.rule.group == "labour" and alert.level >= Level.CALL
            for alert in self.verdict.alerts
            if alert.rule.id not in _OF_ANY_TIME
        )

    def age(self, at: datetime) -> str:
        """How long ago, to the minute: ``24 min``; nothing for less than one; later in days."""
        span = (self.verdict.at - at) // _MINUTE * _MINUTE
        if span >= _IN_DAYS:
            return f"{span.days} days"
        return span_words(span) if span >= _MINUTE else ""

    def ago(self, at: datetime) -> str:
        """``24 min ago``, ``just now``."""
        age = self.age(at)
        return f"{age} ago" if age else "just now"

    def moment(self, at: datetime) -> str:
        """A time of day, with its day when it could be mistaken: ``02:14``, ``yesterday 11:50``."""
        if self._plain(at):
            return self.reader.time(at)
        yesterday = self._day(at) == 1
        return f"yesterday {self.reader.time(at)}" if yesterday else self.reader.moment(at)

    def _day(self, at: datetime) -> int:
        """How many days of the calendar ago."""
        zone = self.reader.zone
        return (self.verdict.at.astimezone(zone).date() - at.astimezone(zone).date()).days

    def at(self, entry: Entry) -> str:
        """When an entry happened, as well as that is known: ``about 02:14``, ``Mon 2 Mar 2026``."""
        if entry.certainty == "day":
            return self.reader.day(entry.at)
        return f"{'about ' if entry.certainty == 'estimated' else ''}{self.moment(entry.at)}"

    def when(self, entry: Entry) -> str:
        """The same with its age: ``at 02:14, 24 min ago``; bare, the age alone."""
        if entry.certainty == "day":
            return self.on(entry)
        if self.bare:
            about = "about " if entry.certainty == "estimated" and self.age(entry.at) else ""
            return f"{about}{self.ago(entry.at)}"
        return f"{self.on(entry)}, {self.ago(entry.at)}"

    def on(self, entry: Entry) -> str:
        """The same inside a sentence: ``at 02:14``, ``yesterday at 11:50``."""
        if entry.certainty == "day":
            return f"on {self.at(entry)}"
        return self.point(entry.at, "about " if entry.certainty == "estimated" else "")

    def point(self, at: datetime, about: str = "") -> str:
        """A moment inside a sentence: ``at about 02:14``, ``on 2 Mar at 11:50``."""
        time = f"at {about}{self.reader.time(at)}"
        if self._plain(at):
            return time
        day = "yesterday" if self._day(at) == 1 else f"on {day_text(at, self.reader.zone)}"
        return f"{day} {time}"

    def _plain(self, at: datetime) -> bool:
        """Whether the time of day alone says which moment is meant."""
        return self._day(at) == 0 or timedelta(0) <= self.verdict.at - at < _HALF_DAY

    def estimated(self, at: datetime) -> bool:
        """Whether what happened at this instant was only put there by an estimate."""
        return any(
            entry.certainty == "estimated" for entry in self.verdict.story.entries if entry.at == at
        )

    def recent(self, entry: Entry, days: int = 1) -> bool:
        """Whether an entry is at most so many days old."""
        return self.verdict.at - entry.at <= days * _DAY
