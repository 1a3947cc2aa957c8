"""Ultrasound measurements against the worked examples of the evidence, and which formula fits."""

from datetime import date, timedelta
from decimal import ROUND_HALF_DOWN, Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boxlamp.protocol.records import FormulaRecord
from support.nights import DEFAULT
from support.weeks import dam, dates, day, scan

SHEPHERD = {"breed": "German Shepherd"}
BY_NAME: dict[str, FormulaRecord] = {record.name: record for record in DEFAULT.formula}

WORKED = [
    # name, millimetres, days left as worked out in the evidence, rounded to a tenth
    ("icc-german-shepherd", "30", "31.7"),
    ("bpd-german-shepherd", "20", "12.9"),
    ("bpd-9-to-40-kg", "20", "15.0"),
    ("bpd-under-9-kg", "20", "14.0"),
    ("bpd-over-40-kg", "20", "17.0"),
    ("icc-small", "30", "25.3"),
    ("bpd-small", "20", "8.4"),
    ("icc-medium", "40", "23.4"),
    ("bpd-medium", "22", "10.3"),
]


@pytest.mark.parametrize(("name", "millimetres", "days"), WORKED)
def test_the_worked_examples_of_the_evidence(name: str, millimetres: str, days: str) -> None:
    """Each formula gives what the sheet works out by hand."""
    left = BY_NAME[name].days_left(Decimal(millimetres))

    assert left.quantize(Decimal("0.1")) == Decimal(days)


@pytest.mark.parametrize(
    ("kilos", "days"),
    [(None, 15), (6, 14), (8.999, 14), (9, 15), (20, 15), (40, 15), (40.001, 17), (50, 17)],
)
def test_her_weight_chooses_the_formula(kilos: float | None, days: int) -> None:
    """A head of 20 mm: under 9 kg one day less is left, over 40 kg two more."""
    known = dates((0, dam(kilos=kilos)), (48, scan("bpd", 20)))

    assert known.driver is not None
    assert known.driver.due == day(48 + days)
    assert known.driver.clock == ("scan" if days > 23 else "late-scan")


@pytest.mark.parametrize(
    ("breed", "days"),
    [("German Shepherd", 32), ("  german SHEPHERD dog ", 32), ("Alsatian", 32),
     ("German Shepherd cross", 27), ("Labrador", 27), (None, 27)],
)  # fmt: skip
def test_her_breed_comes_before_her_weight(breed: str | None, days: int) -> None:
    """A German Shepherd has formulas of her own; a cross has not."""
    known = dates((0, dam(breed=breed, kilos=30)), (30, scan("icc", 30)))

    assert known.driver is not None
    assert known.driver.due == day(30 + days)


def test_the_same_formula_in_other_words() -> None:
    """Day of gestation is 6 (or 15) times the length in cm and 20, and 65 days are the whole."""
    for record in DEFAULT.formula:
        if record.source != "imaging_page":
            continue
        factor = 6 if record.measure == "icc" else 15
        added = {"under": 1, "over": -2, "9": 0}[record.name.split("-")[1]]
        for millimetres in range(5, 60):
            gestation = Decimal(factor * millimetres) / 10 + 20 + added
            assert record.days_left(Decimal(millimetres)) == 65 - gestation


@pytest.mark.parametrize(
    ("measure", "millimetres", "used"),
    [("icc", "33.3", True), ("icc", "33.4", False), ("bpd", "13.3", False), ("bpd", "13.4", True),
     ("bpd", "30", True), ("bpd", "30.1", False)],
)  # fmt: skip
def test_a_formula_is_used_only_where_it_is_published(
    measure: str, millimetres: str, *, used: bool
) -> None:
    """The sac until day 40, the head from there; and no day before the scan itself."""
    known = dates((0, dam(kilos=20)), (30, scan(measure, millimetres)))

    assert (known.driver is not None) == used
    assert len(known.unused) == (not used)


def test_why_a_measurement_is_not_used() -> None:
    """Impossible, out of range, or nothing measured at all: each is said."""
    told = dates(
        (0, dam(kilos=20)), (30, scan("bpd", 40)), (31, scan("icc", 40)), (32, scan("bpd", 0)),
    )  # fmt: skip

    assert told.driver is None
    assert [(one.told, one.why) for one in told.unused] == [
        ("scan BPD 40 mm", "the formula gives -15 days left, which cannot be"),
        ("scan ICC 40 mm", "the formula gives 21 days left, and is not published for that"),
        ("ultrasound BPD", "no measurement of a scan"),
    ]


def test_what_is_only_remembered_never_drives() -> None:
    """A small dog's own formula is shown beside the other one, marked; alone it drives nothing."""
    both = dates((0, dam(kilos=6)), (30, scan("icc", 20)))
    alone = dates((0, dam(kilos=6)), (40, scan("icc", 40)))

    assert [(one.remembered, one.drives) for one in both.bases] == [(False, True), (True, False)]
    assert [one.remembered for one in alone.bases] == [True]
    assert alone.driver is None
    assert {one.record.seen for one in (*both.bases, *alone.bases) if one.remembered} == {"M"}


def test_a_remembered_formula_that_is_earlier_does_not_drive_either() -> None:
    """Not even when it is due more than two days before the trusted one."""
    [sure, remembered] = dates((0, dam(kilos=9.5)), (30, scan("bpd", 24))).bases

    assert (sure.due - remembered.due).days > 2
    assert sure.drives


def test_every_remembered_formula_is_marked() -> None:
    """The four whose coefficients could not be confirmed, and no other."""
    assert {record.name for record in DEFAULT.formula if not record.drives} == {
        "icc-small", "icc-medium", "bpd-small", "bpd-medium"
    }  # fmt: skip


def test_pups_measured_alike_on_one_day_count_as_their_mean() -> None:
    """18 and 22 mm are 20 mm; another day and another measure stand for themselves."""
    told = dates(
        (0, dam(kilos=20)), (48, scan("bpd", 18)), (48, scan("bpd", 22)), (49, scan("bpd", 20)),
        (30, scan("icc", 30)),
    )  # fmt: skip

    sure = [one for one in told.bases if not one.remembered]
    assert [(one.told, one.due) for one in sure] == [
        ("scan ICC 30 mm", day(57)), ("scan BPD 20 mm (mean of 2)", day(63)),
        ("scan BPD 20 mm", day(64)),
    ]  # fmt: skip


def test_without_a_weight_it_is_said_so() -> None:
    """The unadjusted formula is taken, and a note says for which dogs it is."""
    told = dates((30, scan("icc", 30)))
    shepherd = dates((0, dam(**SHEPHERD)), (30, scan("icc", 30)))

    [note] = told.notes
    assert note.startswith("Her weight is not written down, so the scan is read as for dogs of 9")
    assert not shepherd.notes
    assert not dates((0, dam(kilos=12)), (30, scan("icc", 30))).notes


@given(st.decimals(Decimal("0.1"), 200, places=1), st.sampled_from(["icc", "bpd"]))
def test_the_due_day_is_the_scan_and_the_days_left_to_the_nearest(
    millimetres: Decimal, measure: str
) -> None:
    """Worked out again with date ordinals; a half goes to the earlier day."""
    told = dates((0, dam(kilos=20)), (40, scan(measure, millimetres)))
    left = Decimal(45) - millimetres * (Decimal("0.6") if measure == "icc" else Decimal("1.5"))
    holds = left >= 25 if measure == "icc" else 0 <= left <= 25
    sure = [one for one in told.bases if not one.remembered]

    if not holds:
        assert not sure
        return
    whole = int(left.quantize(Decimal(1), ROUND_HALF_DOWN))
    [found] = sure
    assert found.due == date.fromordinal(day(40).toordinal() + whole)
    assert found.zero == found.due - timedelta(days=65)
    assert found.clock == ("late-scan" if 65 - whole > 42 else "scan")


def test_half_a_day_goes_to_the_earlier_day() -> None:
    """An inner chorionic cavity of 12.5 mm leaves 37.5 days: 37."""
    driver = dates((0, dam(kilos=20)), (20, scan("icc", "12.5"))).driver

    assert driver is not None
    assert driver.due == day(57)
