"""Units as typed against the pint library: progesterone, °F, pounds and ounces."""

from decimal import Decimal

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from boxlamp.language import Context, read_line
from boxlamp.model.happenings import Ovulation, Scan, Temperature, Weight
from boxlamp.model.quantities import GRAMS_PER_OUNCE, GRAMS_PER_POUND, celsius_from_fahrenheit
from support.happenings import room_for

UNITS: "pint.UnitRegistry[Decimal]" = pint.UnitRegistry(non_int_type=Decimal)
PROGESTERONE = UNITS.Quantity(Decimal("314.469"), "gram / mol")
"""The molar mass of progesterone, C21H30O2."""
HERE: Context = room_for(Weight(pup=1, grams=Decimal(300)))


def heard(line: str) -> object:
    return read_line(line, HERE).draft.what


@given(st.decimals(Decimal("0.5"), 200, places=1))
def test_progesterone_in_nmol(value: Decimal) -> None:
    """Nanomoles per litre become ng/mL by the molar mass, to a tenth of a per cent and rounding."""
    what = heard(f"progesterone {value} nmol")
    exact = (UNITS.Quantity(value, "nmol / liter") * PROGESTERONE).to("ng / mL").magnitude

    assert isinstance(what, Ovulation)
    assert what.value is not None
    assert abs(what.value - exact) <= exact / 1000 + Decimal("0.005")


def test_one_nanogram_is_3_18_nanomoles() -> None:
    """The factor of the evidence is that of the molar mass."""
    nmol = (UNITS.Quantity(Decimal(1), "ng / mL") / PROGESTERONE).to("nmol / liter").magnitude

    assert round(nmol, 2) == Decimal("3.18")


@given(st.decimals(Decimal("90.0"), Decimal("110.0"), places=1))
def test_degrees_fahrenheit(value: Decimal) -> None:
    """A dam's temperature in degrees F is that in degrees C, to the hundredth."""
    what = heard(f"temp {value}f")
    exact = UNITS.Quantity(value, UNITS.degF).to(UNITS.degC).magnitude

    assert isinstance(what, Temperature)
    assert what.celsius == celsius_from_fahrenheit(value)
    assert abs(what.celsius - exact) <= Decimal("0.0051")


@pytest.mark.parametrize(
    ("fahrenheit", "celsius"),
    [("99.0", "37.2"), ("100.0", "37.8"), ("103.0", "39.4"), ("104.0", "40.0")],
)
def test_the_cross_checks_of_the_evidence(fahrenheit: str, celsius: str) -> None:
    """The four pairs that the evidence states."""
    found = celsius_from_fahrenheit(Decimal(fahrenheit))

    assert found.quantize(Decimal("0.1")) == Decimal(celsius)


def test_pounds_and_ounces() -> None:
    """The two factors are the exact definitions."""
    assert UNITS.Quantity(Decimal(1), "pound").to("gram").magnitude == GRAMS_PER_POUND
    assert UNITS.Quantity(Decimal(1), "ounce").to("gram").magnitude == GRAMS_PER_OUNCE


@given(st.decimals(3, 40, places=1))
def test_a_dams_weight_in_pounds(value: Decimal) -> None:
    """As pint has it, to a gram."""
    what = heard(f"weigh dam {value}lb")
    exact = UNITS.Quantity(value, "pound").to("gram").magnitude

    assert isinstance(what, Weight)
    assert abs(what.grams - exact) <= 1


@given(st.decimals(Decimal("0.5"), Decimal("9.9"), places=1))
def test_a_measurement_in_centimetres(value: Decimal) -> None:
    """A scan in cm is the same in mm."""
    one, other = heard(f"scan bpd {value}cm"), heard(f"scan bpd {value * 10}mm")

    assert one == other
    assert isinstance(one, Scan)
    assert one.millimetres == UNITS.Quantity(value, "cm").to("mm").magnitude
