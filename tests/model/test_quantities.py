"""Conversions against exact arithmetic."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from boxlamp.model import quantities
from boxlamp.model.happenings import Temperature, Weight

TENTHS = st.decimals(min_value=Decimal(60), max_value=Decimal(115), places=1)


def exactly(value: Fraction, step: Fraction) -> Fraction:
    """Half up to a multiple of ``step``, in exact arithmetic."""
    return ((value / step + Fraction(1, 2)) // 1) * step


@given(TENTHS)
def test_fahrenheit(value: Decimal) -> None:
    """Degrees Fahrenheit become the nearest hundredth of a degree Celsius."""
    exact = (Fraction(value) - 32) * Fraction(5, 9)
    found = quantities.celsius_from_fahrenheit(value)
    assert Fraction(found) == exactly(exact, Fraction(1, 100))


@pytest.mark.parametrize(
    ("fahrenheit", "celsius"),
    [("98.6", "37.00"), ("100", "37.78"), ("103.1", "39.50"), ("104", "40.00"), ("99", "37.22")],
)
def test_known_temperatures(fahrenheit: str, celsius: str) -> None:
    """The temperatures people know by heart."""
    assert quantities.celsius_from_fahrenheit(Decimal(fahrenheit)) == Decimal(celsius)


def test_half_is_rounded_up() -> None:
    """Not to the even digit: the way a person does it."""
    assert quantities.rounded(Decimal("0.25")) == Decimal("0.3")
    assert quantities.rounded(Decimal("0.35")) == Decimal("0.4")


@pytest.mark.parametrize(
    ("value", "text"),
    [("37.10", "37.1"), ("400", "400"), ("4E+2", "400"), ("0.0", "0"), ("-0", "0"), ("0.5", "0.5")],
)
def test_plain(value: str, text: str) -> None:
    """No needless zeros, no exponent."""
    assert quantities.plain(Decimal(value)) == text


@pytest.mark.parametrize("celsius", ["19.9", "45.1"])
def test_a_thermometer_misread_is_refused(celsius: str) -> None:
    """Outside 20 to 45 °C nothing is let in as the temperature of a body."""
    with pytest.raises(ValidationError):
        Temperature.model_validate({"celsius": celsius})


def test_a_box_may_be_at_room_temperature() -> None:
    """The air in the box has no fever and no pulse: from freezing up it is taken as it is."""
    cold = Temperature.model_validate({"celsius": "17.5", "where": "box"})
    assert cold.celsius == Decimal("17.5")
    for celsius in ("-0.1", "45.1"):
        with pytest.raises(ValidationError):
            Temperature.model_validate({"celsius": celsius, "where": "box"})


def test_no_weight_of_nothing() -> None:
    """A pup weighs something."""
    with pytest.raises(ValidationError):
        Weight.model_validate({"pup": 1, "grams": 0})
