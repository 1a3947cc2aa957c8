"""Tallies: nothing but sums, so that no order matters."""

from collections import Counter
from copy import deepcopy
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from boxlamp.model.levels import Level
from boxlamp.trial.one import outcome
from boxlamp.trial.tally import DIFFERENCE, Measure, Minute, Missed, Tally, merged, nothing, tally
from support.trials import STRICT, USUAL, counted, handmade, one_by_one

SIX = [tally(night, (outcome(night, USUAL), outcome(night, STRICT)))
       for night in map(handmade, range(6))]  # fmt: skip
TALLIES = st.lists(st.sampled_from(SIX), max_size=4).map(lambda some: merged(deepcopy(some)))


@settings(deadline=None)
@given(TALLIES, TALLIES, TALLIES)
def test_merging_is_associative_and_commutative(one: Tally, two: Tally, three: Tally) -> None:
    """Whoever counts which nights, and however the counts come together, the whole is the same."""
    whole = merged([one, two, three])

    assert merged([merged([one, two]), three]) == whole
    assert merged([one, merged([two, three])]) == whole
    assert merged([three, one, two]) == whole
    assert merged([one, nothing()]) == one


@settings(deadline=None)
@given(TALLIES, TALLIES)
def test_merging_changes_nothing_that_was_merged(one: Tally, two: Tally) -> None:
    """The parts may be merged again."""
    before = deepcopy((one, two))
    merged([one, two])

    assert (one, two) == before


def test_six_nights_counted_by_hand() -> None:
    """Three normal and three troubled: sums, squares, flags, minutes, what was missed."""
    six = one_by_one(6, USUAL)

    assert six.nights == Counter({"none": 3, "stuck": 2, "short": 1})
    push = "contraction-no-pup"
    assert six.sums[Measure("none", 0, "rule", Level.WATCH, push)] == 2
    assert six.sums[Measure("none", 0, "all", Level.WATCH)] == 3
    assert six.squares[Measure("none", 0, "all", Level.WATCH)] == 5
    assert six.sums[Measure("none", 0, "any", Level.WATCH)] == 2
    assert six.sums[Measure("none", 0, "any", Level.CALL)] == 1
    assert six.sums[Measure("none", 0, "all", Level.GO)] == 0
    assert six.sums[Measure("stuck", 0, "flagged")] == 1
    assert six.sums[Measure("stuck", 0, "already")] == 1
    assert six.minutes == Counter(
        {Minute("stuck", 0, "after", 20): 1, Minute("stuck", 0, "before", 20): 1}
    )
    assert six.missed == Counter({Missed(0, "short", 3): 1})


def test_six_nights_compared_by_hand() -> None:
    """The same nights under a stricter limit: two more calls, one more flag, twelve minutes."""
    six = one_by_one(6, USUAL, STRICT)

    calls = Measure("none", DIFFERENCE, "all", Level.CALL)
    assert (six.sums[calls], six.squares[calls]) == (2, 2)
    assert six.sums[Measure("short", DIFFERENCE, "flagged")] == 1
    assert six.minutes[Minute("stuck", DIFFERENCE, "told", 12)] == 1
    assert six.minutes[Minute("stuck", DIFFERENCE, "told", 0)] == 1
    assert six.missed == Counter({Missed(0, "short", 3): 1})


@settings(max_examples=20, deadline=None)
@given(st.integers(1, 40))
def test_a_protocol_compared_with_itself_is_no_different(nights: int) -> None:
    """Every difference is nothing, on every single night."""
    whole = one_by_one(nights, USUAL, USUAL)

    for counts in (whole.sums, whole.squares):
        assert not any(count for key, count in counts.items() if key.side == DIFFERENCE)
    assert {bar.minutes for bar in whole.minutes if bar.side == DIFFERENCE} <= {0}


@settings(max_examples=20, deadline=None)
@given(st.integers(1, 40), st.integers(1, 20))
def test_a_trial_counts_every_night_once(nights: int, chunk: int) -> None:
    """Chunks of any size give the count of the plain loop."""
    found = counted(nights, USUAL, STRICT, chunk=chunk)

    assert found.tally == one_by_one(nights, USUAL, STRICT)
    assert (found.nights, found.planned, found.partial) == (nights, nights, False)
    assert Fraction(found.tally.nights.total(), nights) == 1
