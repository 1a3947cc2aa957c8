"""The scale finds an earlier weight by searching; a plain look through all of them agrees."""

from datetime import timedelta
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from boxlamp.model.happenings import Birth, Weight
from boxlamp.rules.scale import Scales
from support.made import entry

MINUTES = st.integers(0, 60)


@given(st.lists(MINUTES, min_size=1, max_size=8).map(sorted), MINUTES, MINUTES)
def test_the_earlier_weight_is_the_newest_that_is_old_enough(
    minutes: list[int], least: int, more: int
) -> None:
    """At least so much and at most so much older than the last one; and the heaviest is kept."""
    scales = Scales()
    scales.take(entry(1, 0, Birth(pup=1)))
    for number, minute in enumerate(minutes, start=2):
        grams = Decimal(300 + number * 7 % 5)
        scales.take(entry(number, minute, Weight(pup=1, grams=grams)))
    scale, most = scales.pups[1], least + more
    last = scale.weighings[-1].at
    fitting = [
        one
        for one in scale.weighings
        if timedelta(minutes=least) <= last - one.at <= timedelta(minutes=most)
    ]
    found = scale.earlier(last, timedelta(minutes=least), timedelta(minutes=most))
    assert found == (fitting[-1] if fitting else None)
    assert scale.heaviest == max(one.grams for one in scale.weighings)
