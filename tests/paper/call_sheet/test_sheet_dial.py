"""Whom to ring: every telephone number whole, whatever stands beside it."""

import pytest

from boxlamp.model.happenings import Details
from boxlamp.paper.call_sheet.lines import sheet_lines
from boxlamp.paper.call_sheet.sheet import call_sheet
from boxlamp.view.text import width_of
from support.accounts import READER
from support.made import at, told
from support.sheets import judged, said, text

LONG = "the front desk on 01234 567890 until ten, then the mobile 07700 900123 whoever answers"


def top(width: int = 80, **facts: object) -> list[str]:
    """The lines above the situation, of a litter with these facts and nothing else."""
    details = Details.model_validate({"dam": "Fern", **facts})
    sheet = call_sheet(judged(told((0, details)), at(5)), READER)
    lines = text(sheet_lines(sheet, width))
    end = next(place for place, line in enumerate(lines) if line.startswith("SITUATION"))
    return lines[:end]


def test_one_line_where_it_fits() -> None:
    """The name, the numbers, how far it is."""
    lines = top(vet="Dr Vrba", vet_phone="000 555 090", night_phone="000 555 091")

    assert lines == ["RING         Dr Vrba, night 000 555 091, day 000 555 090."]


@pytest.mark.parametrize(("hour", "first"), [(6, "night"), (7, "day"), (18, "day"), (19, "night")])
def test_by_night_the_number_of_the_night_comes_first(hour: int, first: str) -> None:
    """By the clock of whoever reads it: at three nobody should dial an empty surgery."""
    details = Details(dam="Fern", vet_phone="000 555 090", night_phone="000 555 091")
    there = judged(told((0, details)), at(60 * (24 + hour - 3)))  # two is three in Prague
    words = said(call_sheet(there, READER), "RING")

    assert words.startswith("night 000" if first == "night" else "000 555 090, night")


def test_each_number_on_a_line_of_its_own_where_it_does_not() -> None:
    """Numbers first, whole; then who answers."""
    name = "Dr Agnes Fairweather-Thornbury of the Northgate Centre"
    assert top(vet=name, vet_phone="+44 1234 567 890", night_phone="+44 1234 567 891",
               travel_minutes=19) == [
        "RING         night +44 1234 567 891",
        "             day +44 1234 567 890",
        f"             {name}; 19 min",
        "             away.",
    ]  # fmt: skip
    assert top(vet="A vet", vet_phone=f"{'0' * 19} {'1' * 20} {'2' * 20}", travel_minutes=9)[
        -1
    ] == ("             A vet; 9 min away.")
    assert len(top(vet_phone=LONG[:63], night_phone=LONG[:61])) == 2


def test_a_field_with_two_numbers_keeps_both() -> None:
    """Of a field that is wider than a line the numbers are what is kept when there is no room."""
    details = Details(dam="Fern", vet_phone=LONG)
    [dial] = [f for f in call_sheet(judged(told((0, details)), at(5)), READER).facts
              if f.part == "dial"]  # fmt: skip

    assert dial.words == f"{LONG}."
    assert dial.shorter[-1] == "01234 567890, 07700 900123~"
    lines = top(vet_phone=LONG)
    assert any("01234 567890" in line for line in lines)
    assert any("07700 900123" in line for line in lines)


def test_a_number_wider_than_the_screen_is_broken_and_not_cut() -> None:
    """Every figure is still there."""
    number = "0123456789" * 2
    lines = top(18, vet_phone=number)

    assert all(width_of(line) <= 18 for line in lines)
    assert number in "".join(line.removeprefix("RING: ").strip() for line in lines)
