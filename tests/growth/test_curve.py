"""The curve and the steady gains against the values printed in the evidence."""

from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boxlamp.growth.curve import LAST_DAY, OutsideCurve, days_until, most, per_day

# Day, weight as a multiple of the first, and grams for 150, 250, 400 and 500 g (table 4.2).
PRINTED = """
0 1.0000 150 250 400 500
1 1.1379 171 284 455 569
2 1.2907 194 323 516 645
3 1.4593 219 365 584 730
4 1.6446 247 411 658 822
5 1.8474 277 462 739 924
6 2.0686 310 517 827 1034
7 2.3087 346 577 923 1154
8 2.5684 385 642 1027 1284
9 2.8481 427 712 1139 1424
10 3.1481 472 787 1259 1574
11 3.4684 520 867 1387 1734
12 3.8090 571 952 1524 1905
13 4.1696 625 1042 1668 2085
14 4.5495 682 1137 1820 2275
15 4.9481 742 1237 1979 2474
16 5.3642 805 1341 2146 2682
17 5.7965 869 1449 2319 2898
18 6.2435 937 1561 2497 3122
19 6.7032 1005 1676 2681 3352
20 7.1735 1076 1793 2869 3587
21 7.6521 1148 1913 3061 3826
"""
STEPS = {
    1: 13.79, 2: 13.43, 3: 13.06, 4: 12.70, 5: 12.33, 6: 11.97, 7: 11.61, 8: 11.25, 9: 10.89,
    10: 10.53, 11: 10.18, 12: 9.82, 13: 9.47, 14: 9.11, 15: 8.76, 16: 8.41, 17: 8.06, 18: 7.71,
    19: 7.36, 20: 7.02, 21: 6.67,
}  # fmt: skip
ROWS = [tuple(map(float, row.split())) for row in PRINTED.strip().splitlines()]


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"day {row[0]:.0f}")
def test_the_curve_as_printed(row: tuple[float, ...]) -> None:
    """Every cell of the published formula's table comes out to the last printed digit."""
    day, ratio, *grams = row

    assert f"{most(day):.4f}" == f"{ratio:.4f}"
    for first, printed in zip((150, 250, 400, 500), grams, strict=True):
        assert round(first * most(day)) == printed


@pytest.mark.parametrize("day", STEPS)
def test_the_steps_of_the_curve(day: int) -> None:
    """From one day to the next it climbs by the printed per cent, less every day."""
    assert round(100 * (most(day) / most(day - 1) - 1), 2) == STEPS[day]


def test_a_week_of_a_heavy_pup() -> None:
    """400 g at birth is 923.5 g at most on day 7, and 7.652 times the birth weight on day 21."""
    assert round(400 * most(7), 1) == 923.5
    assert round(most(21), 3) == 7.652


@pytest.mark.parametrize(("times", "day"), [(2, 5.70), (3, 9.51), (4, 12.54)])
def test_when_the_curve_has_doubled(times: int, day: float) -> None:
    """The printed days of doubling, tripling and fourfold are where the curve has that height."""
    assert most(day - 0.005) < times < most(day + 0.005)


@pytest.mark.parametrize("day", [-0.01, 21.01, 22, 40.5, 400])
def test_no_curve_outside_its_days(day: float) -> None:
    """Beyond day 21, or before birth, it refuses rather than guess."""
    with pytest.raises(OutsideCurve):
        most(day)


@given(st.floats(0, LAST_DAY), st.floats(0, LAST_DAY))
def test_the_curve_only_climbs(one: float, other: float) -> None:
    """A later day is never lower."""
    early, late = sorted((one, other))

    assert most(early) <= most(late)


@pytest.mark.parametrize(
    ("percent", "days"), [(3.5, 20.1), (5, 14.2), (6, 11.9), (7, 10.2), (8, 9.0), (10, 7.3)]
)
def test_how_long_a_steady_gain_takes_to_double(percent: float, days: float) -> None:
    """The printed days for each steady gain (table 4.3)."""
    assert round(days_until(2, percent), 1) == days


@pytest.mark.parametrize(
    ("day", "from_birth", "from_day_two"),
    [(7, 10.4, 14.9), (8, 9.1, 12.2), (10, 7.2, 9.1), (12, 5.9, 7.2), (14, 5.1, 5.9)],
)
def test_what_gain_doubling_by_a_day_needs(
    day: int, from_birth: float, from_day_two: float
) -> None:
    """The printed gains needed to double by a day, from birth and after two days without gain."""
    assert round(per_day(2, timedelta(days=day)), 1) == from_birth
    assert round(per_day(2, timedelta(days=day - 2)), 1) == from_day_two


@given(st.floats(1.01, 9), st.floats(0.5, 20))
def test_gain_and_time_undo_each_other(times: float, percent: float) -> None:
    """The gain that multiplies a weight so in that many days is the one that was asked about."""
    days = days_until(times, percent)

    assert per_day(times, timedelta(days=days)) == pytest.approx(percent, rel=1e-6)
