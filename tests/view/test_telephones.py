"""What in somebody's words is a telephone number."""

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest

from boxlamp.view.telephones import in_order, telephones

PRAGUE = ZoneInfo("Europe/Prague")


@pytest.mark.parametrize(
    ("words", "found"),
    [
        ("ring 000 555 090", ["000 555 090"]),
        ("+44 (0)1234 567-890 ext. 12", ["+44 (0)1234 567-890"]),
        ("01234 567890 / 01234 567891", ["01234 567890", "01234 567891"]),
        ("room 12, floor 3", []),
        ("", []),
    ],
)
def test_what_is_a_number(words: str, found: list[str]) -> None:
    """Figures with what people put between them; a room or an extension is none."""
    assert list(telephones(words)) == found


@pytest.mark.parametrize(
    ("clock", "first"),
    [("06:59:59", "night "), ("07:00:00", ""), ("18:59:59", ""), ("19:00:00", "night ")],
)
def test_the_number_of_the_hour_comes_first(clock: str, first: str) -> None:
    """By night the day's number is an answering machine; the hours are those of her own zone."""
    now = datetime.fromisoformat(f"2026-03-02T{clock}").replace(tzinfo=PRAGUE)
    both = in_order("000 555 010", "000 555 020", now, PRAGUE)

    assert both[0][0] == first
    assert {number for _, number in both} == {"000 555 010", "000 555 020"}
    assert in_order("000 555 010", None, now, PRAGUE) == [("", "000 555 010")]
    assert in_order(None, "000 555 020", now, PRAGUE) == [("night ", "000 555 020")]
