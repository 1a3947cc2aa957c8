"""What lies ahead of one litter on one day: the dates, the plan, and what follows the birth."""

from datetime import date
from typing import NamedTuple

from boxlamp.model.litter import Litter
from boxlamp.model.story import Story
from boxlamp.planning.dates import Dates, due_dates
from boxlamp.planning.follow import birthday, follow
from boxlamp.planning.items import PlanItem
from boxlamp.planning.plan import plan
from boxlamp.protocol.book import Book
from boxlamp.rules.term import local_day


class Outlook(NamedTuple):
    """Everything that has a day, as known at the end of a story."""

    today: date
    litter: Litter
    book: Book
    dates: Dates
    plan: tuple[PlanItem, ...]
    born: date | None
    """The day of the first birth; without one that of the caesarean or the end."""
    follow: tuple[PlanItem, ...]

    @property
    def ahead(self) -> tuple[PlanItem, ...]:
        """What still matters: the plan before the birth, and after it what follows."""
        return self.plan if self.born is None else self.follow


def outlook(story: Story, litter: Litter, book: Book, today: date) -> Outlook:
    """What lies ahead as seen from ``today``."""
    dates, first = due_dates(story, book), birthday(story)
    born = None if first is None else local_day(first)
    driver, trusted = dates.driver, dates.trusted
    return Outlook(
        today=today,
        litter=litter,
        book=book,
        dates=dates,
        plan=()
        if driver is None or trusted is None
        else tuple(plan(driver, trusted, litter, book, born)),
        born=born,
        follow=tuple(follow(story, litter, book)),
    )
