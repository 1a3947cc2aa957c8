"""Quantities a person reads off a scale or a thermometer, converted exactly.

Everything is stored in grams and degrees Celsius as ``Decimal``, so that a limit such as
39.5 °C means the same thing whichever unit was typed. Conversion factors are the exact
definitions (1 lb = 453.59237 g, 1 oz = 1/16 lb, °C = (°F - 32) x 5/9).
"""

from decimal import ROUND_HALF_UP, Decimal
from typing import Annotated

from pydantic import Field, PlainSerializer

GRAMS_PER_POUND = Decimal("453.59237")
GRAMS_PER_OUNCE = GRAMS_PER_POUND / 16
NMOL_PER_NG = Decimal("3.18")
"""Progesterone: 1 ng/mL is 3.18 nmol/L."""


def _number(value: Decimal) -> float:
    """As JSON writes it. Of ``float`` itself pydantic would have to parse a printed signature."""
    return float(value)


_as_number = PlainSerializer(_number, return_type=float, when_used="json")

Celsius = Annotated[Decimal, Field(ge=0, le=45), _as_number]
"""A temperature in °C, 0 to 45: of a body or of the air in a box."""

COLDEST_BODY = Decimal(20)
"""A body temperature under this was misread."""

Grams = Annotated[Decimal, Field(gt=0, le=150_000), _as_number]
"""A weight in grams, of a pup or of a dam (the heaviest dogs weigh about 100 kg)."""

Amount = Annotated[Decimal, Field(ge=0, le=1_000_000), _as_number]
"""Any other measured amount; its unit stands beside it."""


def rounded(value: Decimal, step: str = "0.1") -> Decimal:
    """Round half up to ``step``, the way a person would."""
    return value.quantize(Decimal(step), rounding=ROUND_HALF_UP)


def celsius_from_fahrenheit(value: Decimal) -> Decimal:
    """Degrees Fahrenheit to degrees Celsius, to two places (98.6 °F is 37.00 °C)."""
    return rounded((value - 32) * 5 / 9, "0.01")


def fahrenheit_from_celsius(value: Decimal) -> Decimal:
    """Degrees Celsius to degrees Fahrenheit, exactly (37 °C is 98.6 °F)."""
    return value * 9 / 5 + 32


def plain(value: Decimal) -> str:
    """Write a number without needless zeros or an exponent: ``37.10`` is ``37.1``."""
    text = format(value.normalize(), "f")
    return text if text not in {"-0", ""} else "0"
