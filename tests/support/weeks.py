"""Litters told in a few words, for tests of the weeks before and after."""

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

from boxlamp.engine import Assessment, assess
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Details, Mating, Ovulation, Scan, What
from boxlamp.model.story import Story
from boxlamp.planning.dates import Dates, due_dates
from boxlamp.planning.outlook import Outlook, outlook
from support.nights import DEFAULT

FIRST = date(2026, 1, 1)
NOON = datetime(2026, 1, 1, 12, tzinfo=UTC)

Told = tuple[int, What]
"""Something found at noon of a day; the first of January is day 0."""


def day(number: int) -> date:
    """The date of a day counted from the first of January."""
    return FIRST + timedelta(days=number)


def story(*told: Told, zone: str = "UTC") -> Story:
    """The story of what was found on these days."""
    return Story(entries(*told, zone=zone))


def entries(*told: Told, zone: str = "UTC") -> tuple[Entry, ...]:
    """The same as entries, numbered in the order in which they are given."""
    return tuple(
        Entry(
            id=number, litter="ash-2026-01-01", at=NOON + timedelta(days=on), zone=zone,
            recorded=NOON + timedelta(days=on), certainty="day", what=what,
        )
        for number, (on, what) in enumerate(told, start=1)
    )  # fmt: skip


def judged(*told: Told, zone: str = "UTC") -> Assessment:
    """What the default protocol makes of it."""
    return assess(story(*told, zone=zone), DEFAULT)


def dates(*told: Told, zone: str = "UTC") -> Dates:
    """The days she may be due."""
    found = judged(*told, zone=zone)
    return due_dates(found.story, found.book)


def seen_on(today: date, *told: Told) -> Outlook:
    """What lies ahead as seen from a day."""
    found = judged(*told)
    return outlook(found.story, found.litter, found.book, today)


MATED = Mating()
OVULATED, LH = Ovulation(basis="ovulation"), Ovulation(basis="lh")
DIOESTRUS = Ovulation(basis="dioestrus")


def progesterone(value: str, *, rise: bool = False) -> Ovulation:
    """A value in ng/mL."""
    basis = "progesterone-rise" if rise else "progesterone"
    return Ovulation.model_validate({"basis": basis, "value": value})


def scan(measure: str, millimetres: float | Decimal | str) -> Scan:
    """One measurement of an ultrasound scan."""
    return Scan.model_validate(
        {"method": "ultrasound", "measure": measure, "millimetres": str(millimetres)}
    )


def dam(**facts: object) -> Details:
    """What is known of her; ``kilos`` is her weight."""
    kilos = facts.pop("kilos", None)
    weight = {} if kilos is None else {"weight": Decimal(str(kilos)) * 1000}
    return Details.model_validate({"dam": "Ash", **facts, **weight})


def born(pup: int = 1) -> Birth:
    """A live birth."""
    return Birth(pup=pup, state="alive")
