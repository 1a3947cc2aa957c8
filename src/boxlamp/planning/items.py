"""One thing to do or to know on a day, or from one day to another; and where its number is."""

from datetime import date, timedelta
from typing import Literal, NamedTuple

from boxlamp.model.levels import Level
from boxlamp.protocol.book import Book
from boxlamp.protocol.records import LimitRecord, Record, SettingRecord


class PlanItem(NamedTuple):
    """A line of the plan: what, when, and on whose word.

    ``id`` never changes, so that a calendar knows the same thing again. ``state`` is ``done`` when
    the record says so, and ``off`` when the birth, or what came after it, made it needless.
    """

    id: str
    title: str
    first: date
    last: date
    note: str
    record: Record
    state: Literal["", "done", "off"] = ""

    def over(self, today: date) -> bool:
        """Whether its days have passed."""
        return self.last < today


def setting(book: Book, rule: str, name: str) -> SettingRecord:
    """One setting of the protocol with its source."""
    wanted = rule, name
    return next(one for one in book.protocol.setting if (one.rule, one.name) == wanted)


def limit(book: Book, rule: str, clock: str, level: Level = Level.PROMPT) -> LimitRecord:
    """One limit of the protocol with its source."""
    wanted = rule, clock, level.word
    found = (one for one in book.protocol.limit if (one.rule, one.clock, one.level) == wanted)
    return next(found)


def length_of(record: SettingRecord) -> timedelta:
    """A setting that is a length of time."""
    return timedelta(seconds=float(record.number))
