"""What the summary says of the pups and the stages, set for a screen of 80 columns."""

import re
from collections import Counter

import pytest

from boxlamp.paper.account.account import account_of
from boxlamp.paper.forms.text import text_form
from boxlamp.paper.reader import Reader
from boxlamp.paper.summary.summary import summary_of
from support.accounts import READER, entries_of, matter_of
from support.nights import DEMO

NIGHTS = sorted(path.stem for path in DEMO.glob("*.night"))
READERS = {"metric": READER, "American": Reader(READER.zone, "12h", "oz", "F")}
MONTHS = "Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec"
KEPT = re.compile(rf"\b\d+ (?:{MONTHS}|g|oz|am|pm|kg|lb|min)(?!\w)")
APART = "Pups", "Stages of labour", "The dam"


@pytest.mark.parametrize("width", [80, 72])
@pytest.mark.parametrize("who", READERS)
@pytest.mark.parametrize("night", NIGHTS)
def test_no_day_and_no_unit_is_set_apart_from_its_number(night: str, who: str, width: int) -> None:
    """In the sections a vet reads first every date and measure stands in one piece."""
    document = summary_of(account_of(matter_of(entries_of(night))), READERS[who])
    sections = tuple(one for one in document.sections if one.title in APART)
    alone = document._replace(sections=sections)

    narrow, wide = (text_form(alone, cells) for cells in (width, 400))

    assert Counter(KEPT.findall(narrow)) == Counter(KEPT.findall(wide))
    assert all(len(line) <= width for line in narrow.splitlines())
