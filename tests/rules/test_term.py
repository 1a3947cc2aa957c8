"""Counting days: which evidence drives the alarms, and when its day 0 began."""

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

import pytest

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Mating, Ovulation, Scan, What
from boxlamp.model.story import Story
from boxlamp.model.zones import zone_named
from boxlamp.protocol.book import open_book
from boxlamp.rules.term import Evidence
from support.nights import DEFAULT

NOON = datetime(2026, 1, 1, 12, tzinfo=UTC)
BOOK = open_book(Story(), DEFAULT, frozenset())


def on(day: int, what: What, zone: str = "UTC") -> Entry:
    """Something found at noon of a day counted from the first of January."""
    at = NOON + timedelta(days=day)
    return Entry(id=day + 1, litter="x", at=at, recorded=at, zone=zone, certainty="day", what=what)


def driver(*entries: Entry) -> str | None:
    """The clock of the evidence that drives, and its day, as ``lh 3``."""
    evidence = Evidence(BOOK)
    for entry in entries:
        evidence.take(entry)
    best = evidence.best
    return None if best is None else f"{best.clock} {best.entry.id - 1}"


LH, RISE = Ovulation(basis="lh"), Ovulation(basis="progesterone-rise", value=Decimal(2))
ICC, BPD = (
    Scan.model_validate({"method": "ultrasound", "measure": measure, "millimetres": size})
    for measure, size in (("icc", 30), ("bpd", 20))
)
"""27 days left, and 15."""
OVULATION, DIOESTRUS = Ovulation(basis="ovulation"), Ovulation(basis="dioestrus")


@pytest.mark.parametrize(
    ("entries", "expected"),
    [
        ((), None),
        ((on(0, Scan(method="ultrasound", count=6)),), None),
        ((on(0, Scan(method="xray", measure="icc", millimetres=Decimal(30))),), None),
        ((on(40, ICC),), "scan 40"),
        ((on(50, BPD),), "late-scan 50"),
        ((on(50, BPD), on(40, ICC)), "scan 40"),
        ((on(0, Mating()), on(50, BPD)), "late-scan 50"),
        ((on(0, Mating()), on(54, BPD)), "mating 0"),
        ((on(2, OVULATION), on(40, ICC)), "ovulation 2"),
        ((on(2, OVULATION), on(36, ICC)), "ovulation 2"),
        ((on(2, OVULATION), on(35, ICC)), "scan 35"),
        ((on(0, Mating()), on(2, Mating())), "mating 0"),
        ((on(0, Mating()), on(2, OVULATION)), "ovulation 2"),
        ((on(0, Mating()), on(3, OVULATION)), "mating 0"),
        ((on(5, Mating()), on(2, OVULATION)), "ovulation 2"),
        ((on(0, LH), on(2, OVULATION)), "lh 0"),
        ((on(0, RISE), on(1, LH)), "lh 0"),
        ((on(3, LH), on(2, OVULATION)), "ovulation 2"),
        ((on(0, LH), on(2, OVULATION), on(8, DIOESTRUS)), "dioestrus 8"),
        ((on(0, LH), on(2, OVULATION), on(10, DIOESTRUS)), "dioestrus 10"),
        ((on(0, LH), on(2, OVULATION), on(11, DIOESTRUS)), "lh 0"),
        ((on(2, Ovulation(basis="progesterone")),), "ovulation 2"),
        ((on(2, Ovulation(basis="progesterone", value=Decimal(5))),), "ovulation 2"),
        ((on(2, Ovulation(basis="progesterone", value=Decimal("4.99"))),), None),
    ],
)
def test_the_best_evidence_drives(entries: tuple[Entry, ...], expected: str | None) -> None:
    """The most trusted, or one that is due more than two days before it."""
    assert expected == driver(*entries)


@pytest.mark.parametrize(
    ("zone", "hour"),
    [("UTC", 0), ("Europe/Berlin", -1), ("America/New_York", 5), ("Asia/Kathmandu", -5.75)],
)
def test_day_0_begins_at_midnight_on_the_wall(zone: str, hour: float) -> None:
    """The limits count from there, whatever the hour at which it was found."""
    evidence = Evidence(BOOK)
    evidence.take(on(0, OVULATION, zone))

    assert evidence.best is not None
    assert evidence.best.midnight == NOON.replace(hour=0) + timedelta(hours=hour)
    assert evidence.best.due == date(2026, 3, 5)


def test_the_day_is_the_one_on_the_wall() -> None:
    """Two minutes before and after midnight are two days, in her own zone."""
    evidence = Evidence(BOOK)
    evidence.take(on(0, OVULATION, "America/New_York"))
    best = evidence.best
    at = datetime(2026, 3, 3, 5, 0, tzinfo=UTC)
    found = [
        on(0, Mating(), "America/New_York").model_copy(update={"at": at + timedelta(minutes=off)})
        for off in (-1, 0)
    ]

    assert best is not None
    assert [best.day_of(entry) for entry in found] == [60, 61]
    assert best.in_words(60) == "day 60 from ovulation"


@pytest.mark.parametrize("name", ["Nowhere/Here", "", "../../etc/passwd", "Europe", "\0", "a" * 99])
def test_a_zone_that_nobody_knows_is_utc(name: str) -> None:
    """A misspelt zone moves a day limit by hours and breaks nothing."""
    assert zone_named(name) is UTC
