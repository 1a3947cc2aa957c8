import io
import re
from collections import Counter
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from itertools import pairwise

import pytest
from pypdf import PdfReader

from boxlamp.engine import assess
from boxlamp.language import Context, read_line
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Details, Limit, Note, What
from boxlamp.model.story import Story
from boxlamp.paper.blank import Size, blank_sheet, examples
from boxlamp.paper.document import Cell, Document, Points, Section, Words
from boxlamp.paper.forms.pdf import PageSize, pdf_form
from boxlamp.paper.reader import Reader
from boxlamp.protocol.book import Book
from boxlamp.rules import viability
from support.accounts import READER
from support.documents import HOSTILE, blocks_in, tables_in
from support.nights import DEFAULT

NIGHT = datetime(2026, 3, 2, 1, 0, tzinfo=UTC)
FULL = Details(dam="Bramble", vet="Dr Novak", vet_phone="000 555 010",
               night_phone="000 555 099", travel_minutes=25)  # fmt: skip
AMERICAN = READER._replace(weights="oz", temperatures="F")
GAP = "Since the last pup, more are expected; pushing or resting"
PAGES: tuple[PageSize, ...] = ("a4", "letter")


def written(number: int, what: What) -> Entry:
    return Entry(
        id=number, litter="bramble", at=NIGHT, zone="Europe/Prague", recorded=NIGHT, what=what
    )


def book_of(*told: What) -> Book:
    """The limits in force after these things were written down."""
    entries = tuple(written(place, what) for place, what in enumerate(told, start=1))
    return assess(Story(entries), DEFAULT).book


def pages_of(document: Document, page: PageSize) -> list[str]:
    return [one.extract_text() for one in PdfReader(io.BytesIO(pdf_form(document, page))).pages]


def limits_in(document: Document) -> dict[str, tuple[str, ...]]:
    """The table of limits: what is seen, and the limits for watch, call, go."""
    [table] = [table for table in tables_in(document) if table.columns[0].title == "What you see"]
    return {row[0].text: tuple(cell.text for cell in row[1:]) for row in table.rows}


def sentences_in(document: Document) -> str:
    blocks = list(blocks_in(document))
    items = [item.text for block in blocks if isinstance(block, Points) for item in block.items]
    return " ".join([*(block.text for block in blocks if isinstance(block, Words)), *items])


@pytest.mark.parametrize("reader", [READER, AMERICAN], ids=["metric", "american"])
@pytest.mark.parametrize("expected", [None, 3, 14, 40])
@pytest.mark.parametrize("details", [Details(), FULL], ids=["unknown", "known"])
@pytest.mark.parametrize("page", PAGES)
def test_pups_limits_and_log_have_pages_of_their_own(
    page: PageSize, details: Details, expected: int | None, reader: Reader
) -> None:
    """However many pups there are, the limits stand whole on one page, and the log on two."""
    sheet = blank_sheet(book_of(details), details, reader, expected=expected, size=Size(page))
    front, limits, log, last = pages_of(sheet, page)

    assert "First milk" in front
    assert limits.startswith("When to look, ring and leave")
    assert "Viability score fallen by" in limits
    assert log.startswith("Log")
    assert "What you saw" in last
    assert "boxlamp log -" in last


@pytest.mark.parametrize("pages", [1, 2, 5])
@pytest.mark.parametrize("page", PAGES)
def test_the_log_fills_its_pages(page: PageSize, pages: int) -> None:
    """As many pages of log as were asked for, and hardly a line more would go on them."""
    sheet = blank_sheet(book_of(), FULL, READER, size=Size(page, pages))
    log = next(table for table in tables_in(sheet) if table.columns[0].title == "Time")
    more = log._replace(rows=log.rows + log.rows[:2])
    sections = [
        section._replace(blocks=(more,)) if section.title == "Log" else section
        for section in sheet.sections
    ]

    assert len(pages_of(sheet, page)) == 2 + pages
    assert len(pages_of(sheet._replace(sections=tuple(sections)), page)) == 3 + pages
    assert pages != 2 or len(log.rows) >= 50


@pytest.mark.parametrize("page", PAGES)
def test_a_row_for_a_pen_is_eight_millimetres_high(page: PageSize) -> None:
    """Measured between the lines on the finished page, at its full size."""
    table = blank_sheet(book_of(), FULL, READER).sections[4]
    content = pdf_form(Document("T", "", (Section("Log", table.blocks),), ""), page)
    drawn = PdfReader(io.BytesIO(content)).pages[0].get_contents()
    assert drawn is not None
    found = re.findall(rb"n ([\d.]+) ([\d.]+) m ([\d.]+) ([\d.]+) l S", drawn.get_data())
    heights = sorted({float(y) for x, y, _, end in found if y == end})
    gaps = Counter(round((other - one) * 25.4 / 72, 2) for one, other in pairwise(heights))

    [(most, count), *_] = gaps.most_common()
    assert most == pytest.approx(8, abs=0.02)
    assert count > 20


def test_the_pups_have_the_columns_of_the_summary() -> None:
    """What a vet looks for in the printed summary stands at the same place on the sheet."""
    pups = tables_in(blank_sheet(book_of(), Details(), READER))[1]

    assert [column.title for column in pups.columns] == [
        "No.", "Born", "Interval", "Sex", "Weight", "Presented", "Alive?", "Mark",
        "Viability", "Afterbirth", "First milk",
    ]  # fmt: skip
    assert pups.ruled
    assert [row[0].text for row in pups.rows] == [str(place) for place in range(1, 13)]
    assert {cell.text for row in pups.rows for cell in row[1:]} == {""}


@pytest.mark.parametrize(("expected", "rows"), [(None, 12), (3, 12), (12, 13), (14, 15), (40, 20)])
def test_there_is_a_row_for_every_pup_expected(expected: int | None, rows: int) -> None:
    """One row more than were counted; without a count enough for most litters."""
    document = blank_sheet(book_of(), Details(), READER, expected=expected)

    assert len(tables_in(document)[1].rows) == rows


def test_it_knows_whom_to_ring() -> None:
    """The dam, the vet and the numbers stand on it as far as they are known."""
    people = tables_in(blank_sheet(book_of(), FULL, READER, expected=6))[0]
    nobody = tables_in(blank_sheet(book_of(), Details(), READER))[0]

    assert [cell.text for cell in people.rows[0]] == [
        "Bramble", "", "6", "Dr Novak", "000 555 010", "000 555 099", "25",
    ]  # fmt: skip
    assert set(nobody.rows[0]) == {Cell("")}
    assert [column.title for column in people.columns][3:6] == ["Vet", "Telephone", "At night"]


def test_its_columns_are_explained() -> None:
    """What is to be written under viability, presented and interval stands below the pups."""
    said = sentences_in(blank_sheet(book_of(), Details(), READER))

    assert "Presented: what came first, head, feet or rump." in said
    assert "Viability: heart rate, breathing, reflex, movement, colour, each 0 to 2" in said
    assert "Interval: the time since the pup before." in said


def test_the_points_of_the_viability_score_are_those_of_the_rule() -> None:
    """Beats and breaths are the ones that the rule's own page gives."""
    page = " ".join((viability.__doc__ or "").split())
    said = sentences_in(blank_sheet(book_of(), Details(), READER))

    for words in (
        "0 under 180 beats a minute",
        "1 from 180 to 220",
        "under 6 breaths a minute",
        "a weak cry and 6 to 15",
        "1 a grimace",
        "0 limp",
        "0 blue, 1 pale, 2 pink",
    ):
        assert words in page
    for words in (
        "0: under 180 beats a minute, no cry and under 6 breaths",
        "limp, blue gums",
        "1: 180 to 220 beats, a weak cry and 6 to 15 breaths, a grimace",
        "pale gums",
    ):
        assert words in said


def test_the_limits_are_those_of_the_protocol() -> None:
    """Watch, call and go of every clock of the night, in words."""
    limits = limits_in(blank_sheet(book_of(), Details(), READER))

    assert limits[
        "Strong contractions, no pup; from the first one after a pup or a rest; a rest takes no "
        "call or go back"
    ] == (
        "15 min", "20 min", "30 min",
    )  # fmt: skip
    assert limits[GAP] == ("1 h 30 min", "2 h", "4 h")
    assert limits["Part of a pup showing, even while she rests"] == ("", "at once", "5 min")
    assert limits["Still in its sac"] == ("30 s", "1 min", "")
    assert limits["Her temperature before and while she whelps"] == (
        "from 39.5 °C", "from 40 °C", "from 40.5 °C",
    )  # fmt: skip


def test_a_low_temperature_counts_afterwards_only() -> None:
    """The row says so itself, and stands under the heading of the time after the whelping."""
    limits = limits_in(blank_sheet(book_of(), Details(), READER))
    rows = list(limits)
    low = "Her temperature low after whelping; before it that is ordinary"

    assert limits[low] == ("below 37.5 °C", "below 37 °C", "below 36.5 °C")
    assert rows.index("Afterwards: it is over, or no push for 2 h after the last pup") < rows.index(
        low
    )
    assert "37.1" in str(examples(READER))


def test_what_cannot_wait_stands_first_in_its_part() -> None:
    """What means leaving at once heads each part of the night, then what means ringing at once."""
    limits = limits_in(blank_sheet(book_of(), Details(), READER))
    go, call = [told for told in limits if told.startswith(("She collapses", "Foul"))]

    assert "heavy bleeding" in go
    assert limits[go] == ("", "", "at once")
    assert limits[call] == ("", "at once", "")
    assert list(limits)[:3] == ["At any time", go, call]


def test_a_changed_limit_is_the_one_on_the_sheet() -> None:
    """A limit that the vet changed is shown with whose word it was; a refused one is not."""
    changed = Limit(rule="gap-more-expected", level="call", seconds=3 * 3600, by="Dr Novak",
                    why="calm and strong")  # fmt: skip
    refused = Limit(rule="foul-discharge", level="call", seconds=3600, by="a friend", why="no")
    document = blank_sheet(book_of(FULL, changed, refused), FULL, READER)

    assert limits_in(document)[GAP] == ("1 h 30 min", "3 h *", "4 h")
    assert "* On the word of Dr Novak." in sentences_in(document)
    assert "a friend" not in str(document)


def test_tightened_limits_say_so() -> None:
    """For a dam with a risk the sheet holds her own, shorter limits, and says why."""
    old = Details(dam="Bramble", age_years=Decimal(5), first_litter=True)
    document = blank_sheet(book_of(old), old, READER)

    assert "Limits tightened: " in document.subtitle
    assert limits_in(document)["Waters broken, no pup since"] == ("30 min", "1 h 30 min", "3 h")


def test_it_speaks_in_the_readers_units() -> None:
    """Ounces and Fahrenheit throughout, and no gram or Celsius left anywhere."""
    text = "\n".join(pages_of(blank_sheet(book_of(), FULL, AMERICAN), "letter"))

    assert "from 103.1 °F" in text
    assert "°F" in text
    assert "11oz" in text
    assert "°C" not in text
    assert "312g" not in text


@pytest.mark.parametrize(
    "line",
    sorted({line for reader in (READER, AMERICAN) for _, lines in examples(reader)
            for line in lines}),
)  # fmt: skip
def test_every_line_it_teaches_is_understood(line: str) -> None:
    """What the sheet tells a person to write is read by the program, and not kept as a note."""
    three = tuple(written(place, Birth(pup=place)) for place in (1, 2, 3))
    context = Context.of(three, NIGHT + timedelta(hours=3), "Europe/Prague")

    assert not isinstance(read_line(f"2026-03-02 02:14 {line}", context).draft.what, Note)


def test_the_example_to_type_in_is_understood_whole() -> None:
    """The command line printed on the sheet holds one of the lines that it teaches."""
    said = sentences_in(blank_sheet(book_of(), Details(), READER))

    assert 'boxlamp log "2026-03-02 02:14 pup dog 312g red head first"' in said
    assert "each with its date" in said
    assert "boxlamp log - < night.txt" in said


def test_an_estimate_is_typed_as_the_sheet_says() -> None:
    """With ~ before the date the line is read, and its time is known to be an estimate."""
    context = Context.of((), NIGHT + timedelta(hours=30), "Europe/Prague")
    draft = read_line("~2026-03-02 02:14 contraction strong", context).draft

    assert "~ before the date" in sentences_in(blank_sheet(book_of(), Details(), READER))
    assert draft.certainty == "estimated"


@pytest.mark.parametrize("text", [text for text in HOSTILE if text.strip() and len(text) < 200])
def test_any_name_may_stand_on_it(text: str) -> None:
    """A dam, a vet or a telephone may be called anything; the sheet is still a sheet."""
    odd = FULL.model_copy(update={"dam": text, "vet": text, "vet_phone": text})

    assert any("What you saw" in page for page in pages_of(
        blank_sheet(book_of(), odd, READER), "a4"
    ))  # fmt: skip


def test_it_says_what_it_is_not() -> None:
    """Every page carries the caution."""
    for page in pages_of(blank_sheet(book_of(), FULL, READER), "a4"):
        assert "Bramble. A memory aid, not a diagnosis. In doubt ring the vet" in page


def test_there_is_room_for_a_pen() -> None:
    """Every table to be filled in is ruled; the limits are not."""
    ruled = [table.ruled for table in tables_in(blank_sheet(book_of(), FULL, READER))]

    assert ruled == [True, True, True, False, True]
