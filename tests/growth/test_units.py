"""Weights typed in ounces and pounds, against the pint library."""

from decimal import ROUND_HALF_UP, Decimal

import pint
from hypothesis import given
from hypothesis import strategies as st

from boxlamp.language import Context, read_line
from boxlamp.model.happenings import Weight
from support.growing import born
from support.made import at, told

UNITS: pint.UnitRegistry[Decimal] = pint.UnitRegistry(non_int_type=Decimal)
BOX = Context.of(told((0, born(1))), at(600))
TENTH = Decimal("0.1")


def typed(words: str) -> Decimal:
    """The grams that a line is taken for."""
    what = read_line(f"weigh 1 {words}", BOX).draft.what
    assert isinstance(what, Weight)
    return what.grams


def grams(value: Decimal, unit: str) -> Decimal:
    """The same by the library."""
    return Decimal(UNITS.Quantity(value, unit).to("gram").magnitude)


def to_a_tenth(value: Decimal) -> Decimal:
    """Half up to a tenth of a gram."""
    return value.quantize(TENTH, rounding=ROUND_HALF_UP)


def numbers(most: int) -> st.SearchStrategy[Decimal]:
    """What a scale shows, to two places."""
    return st.decimals(TENTH, most, places=2)


@given(numbers(99))
def test_ounces(value: Decimal) -> None:
    """Ounces become the nearest tenth of a gram."""
    assert typed(f"{value}oz") == to_a_tenth(grams(value, "ounce"))


@given(numbers(200))
def test_pounds(value: Decimal) -> None:
    """Pounds likewise."""
    assert typed(f"{value} lb") == to_a_tenth(grams(value, "pound"))


@given(st.integers(1, 99), st.integers(0, 15))
def test_pounds_and_ounces(pounds: int, ounces: int) -> None:
    """Both together are added before they are rounded."""
    exact = grams(Decimal(pounds), "pound") + grams(Decimal(ounces), "ounce")

    assert typed(f"{pounds}lb {ounces}oz") == to_a_tenth(exact)


@given(numbers(100))
def test_kilograms_are_exact(value: Decimal) -> None:
    """Metric units are never rounded."""
    assert typed(f"{value}kg") == grams(value, "kilogram")
    assert typed(f"{value}g") == grams(value, "gram")
