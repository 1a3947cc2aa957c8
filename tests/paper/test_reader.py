"""Times and amounts as the reader is used to them; what is stored is never changed."""

from datetime import UTC, datetime, timedelta
from decimal import Decimal
from zoneinfo import ZoneInfo

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from boxlamp.model.quantities import celsius_from_fahrenheit, fahrenheit_from_celsius
from boxlamp.paper.reader import Reader

PRAGUE = ZoneInfo("Europe/Prague")
METRIC = Reader(PRAGUE)
OUNCES = Reader(PRAGUE, "12h", "oz", "F")
UNITS: pint.UnitRegistry[float] = pint.UnitRegistry()


@pytest.mark.parametrize(
    ("hour", "shown"),
    [(0, "12:14 am"), (1, "1:14 am"), (11, "11:14 am"), (12, "12:14 pm"), (13, "1:14 pm"),
     (23, "11:14 pm")],
)  # fmt: skip
def test_midnight_and_noon_of_the_twelve_hour_clock(hour: int, shown: str) -> None:
    """The hour after midnight is twelve am, that after noon twelve pm, as by common practice."""
    at = datetime(2026, 3, 2, hour, 14, tzinfo=PRAGUE)

    assert OUNCES.time(at) == shown
    assert METRIC.time(at) == f"{hour:02}:14"


def test_an_hour_that_comes_twice_says_which_one_it_is() -> None:
    """When the clocks go back, 02:30 summer time and 02:30 winter time are told apart."""
    summer = datetime(2026, 10, 25, 0, 30, tzinfo=UTC)

    assert METRIC.time(summer) == "02:30 CEST"
    assert METRIC.time(summer + timedelta(hours=1)) == "02:30 CET"
    assert METRIC.time(summer + timedelta(hours=2)) == "03:30"
    assert METRIC.time(summer - timedelta(hours=1)) == "01:30"


def test_a_clock_put_back_by_less_than_an_hour_is_seen_too() -> None:
    """On Lord Howe Island the clocks move by thirty minutes: the tz database is the source."""
    reader = Reader(ZoneInfo("Australia/Lord_Howe"))
    once = datetime(2026, 4, 4, 14, 45, tzinfo=UTC)

    told = {reader.time(once), reader.time(once + timedelta(minutes=30))}
    assert len(told) == 2
    assert {text.split()[0] for text in told} == {"01:45"}


def test_a_time_beside_another_says_its_day_only_when_that_differs() -> None:
    """Past midnight the new day is said; within a day the time is enough."""
    late = datetime(2026, 3, 2, 22, 50, tzinfo=UTC)

    assert METRIC.beside(late, late - timedelta(hours=1)) == "23:50"
    assert METRIC.beside(late + timedelta(minutes=20), late) == "3 Mar 00:10"


@given(st.decimals(min_value=20, max_value=45, places=2))
def test_degrees_agree_with_a_reference_library(celsius: Decimal) -> None:
    """What is printed in Fahrenheit is what pint computes, to the tenth."""
    reference = UNITS.Quantity(float(celsius), "degC").to("degF").magnitude

    assert float(OUNCES.degrees(celsius)) == pytest.approx(reference, abs=0.0501)


@given(st.decimals(min_value=1, max_value=5000, places=1))
def test_ounces_agree_with_a_reference_library(grams: Decimal) -> None:
    """What is printed in ounces is what pint computes, to the tenth."""
    reference = UNITS.Quantity(float(grams), "g").to("oz").magnitude

    assert float(OUNCES.weight(grams).removesuffix(" oz")) == pytest.approx(reference, abs=0.0501)


@given(st.decimals(min_value=1000, max_value=100_000, places=0))
def test_pounds_agree_with_a_reference_library(grams: Decimal) -> None:
    """A dam's weight in pounds is what pint computes, to the tenth."""
    reference = UNITS.Quantity(float(grams), "g").to("lb").magnitude

    assert float(OUNCES.heavy(grams).removesuffix(" lb")) == pytest.approx(reference, abs=0.0501)


@given(st.decimals(min_value=68, max_value=113, places=1))
def test_a_reading_typed_in_fahrenheit_is_printed_as_it_was_typed(fahrenheit: Decimal) -> None:
    """Stored to a hundredth of a degree Celsius, a tenth of Fahrenheit comes back."""
    stored = celsius_from_fahrenheit(fahrenheit)

    assert OUNCES.degrees(stored) == fahrenheit
    assert abs(fahrenheit_from_celsius(stored) - fahrenheit) < Decimal("0.05")


def test_a_sentence_of_a_rule_speaks_in_the_readers_units() -> None:
    """Its numbers with a unit are told anew; other numbers stay."""
    said = "Her temperature is 39.6 °C, 2 h after pup 3 of 312 g; over 45 kg."

    assert OUNCES.sentence(said) == (
        "Her temperature is 103.3 °F, 2 h after pup 3 of 11.0 oz; over 99.2 lb."
    )
    assert METRIC.sentence(said) == said
