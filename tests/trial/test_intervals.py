import statistics
from math import isnan

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from boxlamp.trial.intervals import Figure, mean, quartiles, share, shares_apart, student

# Newcombe RG: Two-sided confidence intervals for the single proportion: comparison of seven
# methods. Statistics in Medicine 1998;17:857-872, table I, method 3 (score, no correction). From
# memory; the method itself is checked against scipy below.
NEWCOMBE = [
    (81, 263, 0.2553, 0.3662),
    (15, 148, 0.0624, 0.1605),
    (0, 20, 0.0000, 0.1611),
    (1, 29, 0.0061, 0.1718),
]
# Student's t, two-sided 95 %, as any printed table has it.
STUDENT = [(4, 2.776), (9, 2.262), (19, 2.093), (29, 2.045), (60, 2.000), (120, 1.980)]
COUNTS = st.lists(st.integers(0, 40), min_size=4, max_size=60)


def ends(figure: Figure | None) -> tuple[float, float]:
    """The ends of an interval that must be there."""
    assert figure is not None
    assert figure.low is not None
    assert figure.high is not None
    return figure.low, figure.high


@pytest.mark.parametrize(("count", "nights", "low", "high"), NEWCOMBE)
def test_a_share_has_the_published_interval(
    count: int, nights: int, low: float, high: float
) -> None:
    """Four worked examples, to the digits printed."""
    assert ends(share(count, nights)) == pytest.approx((low, high), abs=0.00006)


@settings(deadline=None)
@given(st.integers(1, 20_000), st.data())
def test_a_share_has_the_interval_of_a_statistics_library(nights: int, data: st.DataObject) -> None:
    """Wilson's interval is that of scipy for any count."""
    count = data.draw(st.integers(0, nights))
    theirs = stats.binomtest(count, nights).proportion_ci(method="wilson")

    assert ends(share(count, nights)) == pytest.approx((theirs.low, theirs.high), abs=1e-12)


@settings(deadline=None)
@given(COUNTS)
def test_a_mean_has_students_interval(counts: list[int]) -> None:
    """The interval from sums alone is that of scipy from the counts; cut at nothing."""
    total, squares = sum(counts), sum(count * count for count in counts)
    figure = mean(total, squares, len(counts), signed=True)
    error = stats.sem(counts)

    assert figure is not None
    assert figure.value == pytest.approx(statistics.mean(counts))
    if error:
        theirs = stats.t.interval(0.95, len(counts) - 1, loc=np.mean(counts), scale=error)
        assert ends(figure) == pytest.approx(theirs, rel=2e-3, abs=2e-3 * max(counts))
        cut = mean(total, squares, len(counts))
        assert ends(cut) == (max(0.0, ends(figure)[0]), ends(figure)[1])


@pytest.mark.parametrize(("freedom", "printed"), STUDENT)
def test_students_quantile_is_that_of_the_printed_table(freedom: int, printed: float) -> None:
    """To three digits."""
    assert student(freedom) == pytest.approx(printed, abs=0.0011)


@settings(deadline=None)
@given(st.integers(3, 1_000_000))
def test_students_quantile_is_that_of_a_statistics_library(freedom: int) -> None:
    """To two parts in a thousand from three degrees of freedom on."""
    assert student(freedom) == pytest.approx(stats.t.ppf(0.975, freedom), rel=2e-3)


@settings(deadline=None)
@given(st.integers(1, 100_000))
def test_what_never_came_has_the_exact_upper_end(nights: int) -> None:
    """Garwood's exact interval for a Poisson count of none."""
    assert ends(mean(0, 0, nights)) == pytest.approx((0, stats.chi2.ppf(0.975, 2) / 2 / nights))


def test_two_shares_lie_apart_as_published() -> None:
    """Airway reactivity of 21 children before and after: 1, 1, 7, 12; from -0.51 to -0.01.

    Fagerland, Lydersen, Laake: Recommended tests and confidence intervals for paired binomial
    proportions. Statistics in Medicine 2014;33:2850-2875, the interval of Bonett and Price. From
    memory; the formula itself is checked below.
    """
    figure = shares_apart(1 - 7, 1 + 7, 21)

    assert figure is not None
    assert figure.value == pytest.approx(-0.286, abs=0.0005)
    assert ends(figure) == pytest.approx((-0.508, -0.013), abs=0.0015)


@settings(deadline=None)
@given(st.integers(0, 500), st.integers(0, 500), st.integers(0, 5000))
def test_two_shares_lie_apart_as_a_plain_mean_after_one_is_added(
    only_first: int, only_second: int, agreeing: int
) -> None:
    """Bonett and Price is the normal interval of the differences, one added to either kind."""
    nights = only_first + only_second + agreeing
    figure = shares_apart(only_second - only_first, only_first + only_second, nights)
    if not nights:
        assert figure is None
        return
    added = np.repeat([-1, 1, 0], [only_first + 1, only_second + 1, agreeing])
    low, high = stats.norm.interval(0.95, added.mean(), added.std() / np.sqrt(nights + 2))

    assert figure is not None
    assert ends(figure) == pytest.approx((max(-1, low), min(1, high)), abs=1e-12)
    assert ends(figure)[0] <= figure.value <= ends(figure)[1]


@settings(deadline=None)
@given(st.lists(st.integers(-500, 5000), min_size=1, max_size=200))
def test_quartiles_are_those_of_the_sorted_values(values: list[int]) -> None:
    """A histogram gives what numpy finds in the values themselves by the inverted distribution."""
    histogram = {value: values.count(value) for value in values}
    theirs = np.quantile(values, [0.25, 0.5, 0.75], method="inverted_cdf")

    assert quartiles(histogram) == tuple(theirs)


def test_of_no_nights_nothing_is_told() -> None:
    """No figure rather than one that is made up; of one night no interval."""
    assert (share(0, 0), mean(0, 0, 0), shares_apart(0, 0, 0), quartiles({})) == (None,) * 4
    assert mean(3, 9, 1) == Figure(3)
    assert not any(isnan(end) for end in ends(share(1, 1)))
