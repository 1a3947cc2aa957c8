"""Where a reference value comes from: its source, and how far that was verified."""

from datetime import date
from typing import NamedTuple

from boxlamp.protocol.records import SEEN_WORDS, Seen

CHECKED = date(2026, 11, 25)
"""When a person last checked that the values of this room still stand."""


class Cited(NamedTuple):
    """A source: its title and place, what it says in our own words, how far it was verified."""

    says: str
    seen: Seen
    title: str = ""
    place: str = ""
    where: str = ""
    checked: date = CHECKED

    @property
    def words(self) -> str:
        """All of it in a line or two."""
        place = f", {self.place}" if self.place else ""
        where = f", {self.where}" if self.where else ""
        source = f" {self.title}{place}{where}." if self.title else ""
        return f"{self.says}{source} [{SEEN_WORDS[self.seen]}]"
