"""The day she is due by every basis, against published lengths and other people's arithmetic."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import given
from hypothesis import strategies as st

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import What
from boxlamp.model.story import Story
from boxlamp.planning.dates import due_dates
from boxlamp.protocol.book import open_book
from support.nights import DEFAULT
from support.weeks import (
    DIOESTRUS,
    LH,
    MATED,
    OVULATED,
    Told,
    born,
    dam,
    dates,
    day,
    progesterone,
    scan,
)

PUBLISHED: dict[str, tuple[What, int, int, int, str]] = {
    # what was found: day of birth, earliest, latest, and who says so (the evidence, 2.1)
    "ovulation, 63 +- 1": (OVULATED, 63, 62, 64, "Hellenic J"),
    "LH peak, 64 to 66": (LH, 65, 64, 66, "Kutzler"),
    "first rise, 65 +- 2 in 9 of 10": (progesterone("2.1", rise=True), 65, 63, 67, "Kutzler"),
    "one value of 6 ng/mL, 63.1 +- 2.1": (progesterone("6"), 63, 61, 65, "Mir"),
    "dioestrus, 57 +- 2": (DIOESTRUS, 57, 55, 59, "Hellenic J"),
    "any mating, 55 to 70": (MATED, 63, 55, 70, "IVIS"),
}
LEVELS = ("earliest", "due", "latest")


@pytest.mark.parametrize("name", PUBLISHED)
def test_the_published_length_of_each_basis(name: str) -> None:
    """Day, window and source as the evidence has them, written once more by hand."""
    what, length, earliest, latest, source = PUBLISHED[name]
    [found] = dates((0, what)).bases

    assert (found.day, found.zero) == (day(0), day(0))
    assert (found.earliest, found.due, found.latest) == (day(earliest), day(length), day(latest))
    assert source in DEFAULT.sources[found.record.source].title
    assert found.drives
    assert found.day_on(day(60)) == 60


@pytest.mark.parametrize(
    ("what", "words"),
    [
        (LH, "the LH peak"), (progesterone("2", rise=True), "the first progesterone rise"),
        (progesterone("6"), "ovulation"), (DIOESTRUS, "the first day of dioestrus"),
        (MATED, "the first mating"),
    ],
)  # fmt: skip
def test_what_day_0_is_called(what: What, words: str) -> None:
    """As a person would say it to the vet."""
    [found] = dates((0, what)).bases

    assert found.counted_from == words


def test_what_is_from_memory_says_so() -> None:
    """The spread after the first rise is remembered; its day of birth is published."""
    [rise] = dates((0, progesterone("2.1", rise=True))).bases
    [lh] = dates((0, LH)).bases

    assert (rise.record.seen, lh.record.seen) == ("M", "A")
    assert not rise.remembered


def test_the_order_is_that_of_trust() -> None:
    """Dioestrus, LH, ovulation, scan, late scan, mating; one drives."""
    found = dates(
        (0, MATED), (0, dam(kilos=20)), (0, LH), (2, OVULATED), (8, DIOESTRUS),
        (38, scan("icc", 30)), (50, scan("bpd", 20)),
    )  # fmt: skip

    clocks = ["dioestrus", "lh", "ovulation", "scan", "late-scan", "mating"]
    sure = [one for one in found.bases if not one.remembered]
    assert [one.clock for one in sure] == clocks
    assert [one.rank for one in sure] == [1, 2, 3, 4, 5, 6]
    assert [one.drives for one in found.bases].count(True) == 1
    assert found.driver == sure[0]
    assert found.clash is None


@pytest.mark.parametrize(
    ("told", "driver", "days"),
    [
        (((0, MATED), (2, OVULATED)), "ovulation", None),
        (((0, MATED), (3, OVULATED)), "mating", 3),
        (((0, MATED), (9, OVULATED)), "mating", 9),
        (((3, MATED), (0, OVULATED)), "ovulation", -3),
        (((2, MATED), (0, OVULATED)), "ovulation", None),
        (((0, OVULATED), (33, scan("icc", 30))), "scan", 3),
        (((0, MATED),), "mating", None),
    ],
)
def test_a_contradiction_is_said(told: tuple[Told, ...], driver: str, days: int | None) -> None:
    """More than two days apart: which is trusted, which drives, and by how much they differ."""
    found = dates(*told)

    assert found.driver is not None
    assert found.driver.clock == driver
    assert (found.clash.days if found.clash else None) == days
    if found.clash:
        assert found.clash.trusted.clock == "ovulation"
        assert found.driver == (found.clash.other if found.clash.days > 0 else found.clash.trusted)


def test_several_matings() -> None:
    """The first counts for the alarms; the window runs from the first to the last."""
    found = dates((0, MATED), (2, MATED), (4, MATED))

    [only] = found.bases
    assert (only.due, only.earliest, only.latest) == (day(63), day(55), day(74))
    assert found.notes[0].startswith("Several matings, 3 days known: the first counts")


def test_a_low_progesterone_is_no_day_to_count_from() -> None:
    """It is told, with the reason."""
    found = dates((0, progesterone("4.9")))

    assert not found.bases
    [unused] = found.unused
    assert (unused.told, unused.why) == ("progesterone 4.9 ng/mL", "too low to be ovulation")


def test_what_is_found_after_the_birth_changes_nothing() -> None:
    """The dates are what was known before it."""
    before = dates((0, MATED), (62, born()))
    after = dates((0, MATED), (62, born()), (70, MATED), (70, OVULATED))

    assert before == after


def test_nothing_known() -> None:
    """No basis, no driver, no contradiction."""
    assert dates((0, dam(kilos=12))) == dates()
    assert dates().driver is None


MOMENTS = st.datetimes(datetime(2000, 1, 1), datetime(2060, 1, 1)).map(  # noqa: DTZ001 - see below
    lambda naive: naive.replace(tzinfo=UTC)
)
ZONES = ["UTC", "Europe/Prague", "America/New_York", "Australia/Lord_Howe", "Asia/Kathmandu",
         "Pacific/Apia"]  # fmt: skip


def due_of(what: What, at: datetime, zone: str) -> date:
    entry = Entry(id=1, litter="x", at=at, recorded=at, zone=zone, what=what)
    story = Story((entry,))
    driver = due_dates(story, open_book(story, DEFAULT, frozenset())).driver
    assert driver is not None
    return driver.due


@given(
    MOMENTS, st.sampled_from(ZONES), st.sampled_from([(OVULATED, 63), (LH, 65), (DIOESTRUS, 57)])
)
def test_days_are_counted_as_others_count_them(
    at: datetime, zone: str, found: tuple[What, int]
) -> None:
    """As dateutil and date ordinals have it, in every zone, over leap days and clock changes."""
    what, length = found
    local = at.astimezone(ZoneInfo(zone)).date()

    due = due_of(what, at, zone)
    assert due == local + relativedelta(days=length)
    assert due == date.fromordinal(local.toordinal() + length)


@pytest.mark.parametrize(
    ("at", "zone", "due"),
    [
        # over 29 February of a leap year, and of a year that is none
        ("2028-01-10T12:00:00Z", "UTC", "2028-03-13"),
        ("2026-01-10T12:00:00Z", "UTC", "2026-03-14"),
        ("2000-01-10T12:00:00Z", "UTC", "2000-03-13"),
        # the night on which the clocks go forward, and the one on which they go back
        ("2026-03-29T00:30:00Z", "Europe/Prague", "2026-05-31"),
        ("2026-03-28T22:59:59Z", "Europe/Prague", "2026-05-30"),
        ("2026-10-25T01:30:00Z", "Europe/Prague", "2026-12-27"),
        # one instant is two days
        ("2026-03-02T04:59:59Z", "America/New_York", "2026-05-03"),
        ("2026-03-02T05:00:00Z", "America/New_York", "2026-05-04"),
        ("2026-03-02T11:30:00Z", "Pacific/Auckland", "2026-05-05"),
    ],
)  # fmt: skip
def test_days_by_hand(at: str, zone: str, due: str) -> None:
    """63 days after ovulation, looked up in a paper calendar."""
    assert due_of(OVULATED, datetime.fromisoformat(at), zone) == date.fromisoformat(due)


def test_every_window_holds_its_day() -> None:
    """Nothing is due outside its own window, and no window is upside down."""
    for what, length, earliest, latest, _ in PUBLISHED.values():
        del what
        assert earliest <= length <= latest
    for record in DEFAULT.formula:
        assert timedelta(days=record.within) > timedelta(0)
