import io
from datetime import UTC, datetime, timedelta
from decimal import Decimal

import pytest
from pypdf import PdfReader

from boxlamp.engine import assess
from boxlamp.language import Context, read_line
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Details, Limit, Note, What
from boxlamp.model.levels import ALERTS
from boxlamp.model.story import Story
from boxlamp.paper.blank import blank_sheet, examples
from boxlamp.paper.blank_limits import clocks
from boxlamp.paper.document import Cell, Document, Points
from boxlamp.paper.forms.pdf import PageSize, pdf_form
from boxlamp.protocol.book import Book
from boxlamp.rules.registry import BY_ID
from support.accounts import READER
from support.documents import HOSTILE, blocks_in, tables_in
from support.nights import DEFAULT

NIGHT = datetime(2026, 3, 2, 1, 0, tzinfo=UTC)
FULL = Details(dam="Bramble", vet="Dr Novak", vet_phone="000 555 010",
               night_phone="000 555 099", travel_minutes=25)  # fmt: skip
AMERICAN = READER._replace(weights="oz", temperatures="F")
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
    return " ".join(
        item.text for block in blocks_in(document) if isinstance(block, Points)
        for item in block.items
    )  # fmt: skip


@pytest.mark.parametrize("details", [Details(), FULL])
@pytest.mark.parametrize("page", PAGES)
def test_it_has_a_front_and_a_back(page: PageSize, details: Details) -> None:
    """Two pages in either size: pups and limits in front, the log and how to write behind."""
    front, back = pages_of(blank_sheet(book_of(details), details, READER), page)

    assert "First milk" in front
    assert "Strong contractions, no pup" in front
    assert "What you saw" in back
    assert "boxlamp log" in back


def test_the_pups_have_the_columns_of_the_summary() -> None:
    """What a vet looks for in the printed summary stands at the same place on the sheet."""
    pups = tables_in(blank_sheet(book_of(), Details(), READER))[1]

    assert [column.title for column in pups.columns] == [
        "No.", "Born", "Interval", "Sex", "Weight", "Presented", "Alive?", "Mark",
        "Viability", "Afterbirth", "First milk",
    ]  # fmt: skip
    assert pups.ruled
    assert [row[0].text for row in pups.rows] == [str(place) for place in range(1, 9)]
    assert {cell.text for row in pups.rows for cell in row[1:]} == {""}


@pytest.mark.parametrize(("expected", "rows"), [(None, 8), (3, 8), (8, 9), (12, 13), (40, 20)])
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


def test_the_limits_are_those_of_the_protocol() -> None:
    """Watch, call and go of every clock of the night, in words."""
    limits = limits_in(blank_sheet(book_of(), Details(), READER))

    assert limits["Strong contractions, no pup"] == ("15 min", "20 min", "30 min")
    assert limits["Since the last pup, when more are expected"] == ("1 h 30 min", "2 h", "4 h")
    assert limits["Part of a pup showing"] == ("", "at once", "5 min")
    assert limits["Pup still in its sac"] == ("30 s", "1 min", "")
    assert limits["Her temperature while she whelps"] == (
        "39.5 °C or more", "40 °C or more", "40.5 °C or more",
    )  # fmt: skip


def test_every_clock_of_labour_and_afterbirths_is_on_the_sheet() -> None:
    """No limit of these groups is left out, but the one that watches the keyboard."""
    book = book_of()
    document = blank_sheet(book, Details(), READER)
    due = {
        key
        for key, spans in book.now.spans.items()
        if BY_ID[key[0]].group in {"labour", "afterbirths"} and set(spans) & set(ALERTS)
    }

    assert due - set(clocks(book)) == {("log-quiet", "main")}
    at_once = sentences_in(document).split("What you see")[0].count(";")
    assert len(limits_in(document)) + at_once >= len(list(clocks(book)))


def test_what_cannot_wait_is_told_in_sentences() -> None:
    """What means leaving or ringing at once stands above the table, the worst first."""
    said = sentences_in(blank_sheet(book_of(), Details(), READER))
    go, _, rest = said.partition("!! RING THE VET AT ONCE")
    call, _, watch = rest.partition("! LOOK CLOSELY")

    assert go.startswith("!!! LEAVE FOR THE VET AT ONCE")
    assert "heavy bleeding" in go
    assert "foul, pus-like or yellow discharge" in call
    assert "more afterbirths than pups" in watch


def test_a_changed_limit_is_the_one_on_the_sheet() -> None:
    """A limit that the vet changed is shown with whose word it was; a refused one is not."""
    changed = Limit(rule="gap-more-expected", level="call", seconds=3 * 3600, by="Dr Novak",
                    why="calm and strong")  # fmt: skip
    refused = Limit(rule="foul-discharge", level="call", seconds=3600, by="a friend", why="no")
    document = blank_sheet(book_of(FULL, changed, refused), FULL, READER)

    assert limits_in(document)["Since the last pup, when more are expected"] == (
        "1 h 30 min", "3 h (word of Dr Novak)", "4 h",
    )  # fmt: skip
    assert "a friend" not in str(document)


def test_tightened_limits_say_so() -> None:
    """For a dam with a risk the sheet holds her own, shorter limits, and says why."""
    old = Details(dam="Bramble", age_years=Decimal(5), first_litter=True)
    document = blank_sheet(book_of(old), old, READER)

    assert "Limits tightened: " in document.subtitle
    assert limits_in(document)["Waters broken, no pup"] != ("1 h", "2 h", "4 h")
    assert len(pages_of(document, "letter")) == 2


def test_it_speaks_in_the_readers_units() -> None:
    """Ounces and Fahrenheit throughout, and no gram or Celsius left anywhere."""
    text = "\n".join(pages_of(blank_sheet(book_of(), FULL, AMERICAN), "letter"))

    assert "103.1 °F or more" in text
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

    assert ruled == [True, True, False, True, True]
