"""What a thermometer shows: degrees to the tenth."""

from decimal import Decimal

from boxlamp.model.happenings import Temperature


def degrees(celsius: float) -> Decimal:
    """Degrees as they are shown and written down."""
    return Decimal(f"{celsius:.1f}")


def taken(celsius: float) -> Temperature:
    """The dam's temperature as it is taken."""
    return Temperature(celsius=degrees(celsius))
