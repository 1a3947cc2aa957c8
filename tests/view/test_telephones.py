"""What in somebody's words is a telephone number."""

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest

from boxlamp.engine import assess
from boxlamp.language import read_night
from boxlamp.model.story import Story
from boxlamp.paper.call_sheet.sheet import call_sheet
from boxlamp.paper.reader import Reader
from boxlamp.view.telephones import in_order, telephones, without_numbers
from boxlamp.view.words import vet_words
from support.nights import DEFAULT

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


@pytest.mark.parametrize(
    ("name", "left"),
    [
        ("Dr Novak 01234 567890", "Dr Novak"),
        ("Dr Novak (01234-567890), Hill St", "Dr Novak, Hill St"),
        ("01234567890", ""), ("Dr Novak 09999 999999", "Dr Novak 09999 999999"),
        ("Surgery 24/7 -", "Surgery 24/7 -"),
    ],
)  # fmt: skip
def test_a_number_in_the_name_is_not_said_twice(name: str, left: str) -> None:
    """However it is written there; a number that stands nowhere else stays."""
    assert without_numbers(name, ["night 01234 567890", "+420 601 123 456"]) == left


def test_board_and_call_sheet_say_each_number_once() -> None:
    """And a name that is nothing but the number is the vet."""
    for name, called in (("Dr Novak 01234 567890", "Dr Novak"), ("01234 567890", "Vet")):
        lines = f"dam: Ash\ndate: 2026-03-02\nzone: UTC\nvet: {name}\nvet-phone: 01234 567890\n\n"
        night = read_night(f"{lines}02:00 dam collapsed\n")
        at = datetime(2026, 3, 2, 12, 0, tzinfo=UTC)
        verdict = assess(Story(night.entries), DEFAULT).verdict(at)
        sheet = call_sheet(verdict, Reader(ZoneInfo("UTC")))

        assert vet_words(verdict.litter, at, UTC) == f"{called} 01234 567890"
        assert sheet.facts[0].words.count("567890") == 1
