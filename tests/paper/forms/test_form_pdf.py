import io
import os
import shutil
import subprocess
import sys
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader
from pypdf.generic import ArrayObject, DictionaryObject, StreamObject

from boxlamp.paper.document import (
    Bar,
    BarChart,
    Cell,
    Column,
    Curve,
    CurveChart,
    Document,
    Facts,
    Points,
    Role,
    Section,
    Table,
    Words,
)
from boxlamp.paper.forms.fonts import MISSING, printable
from boxlamp.paper.forms.pdf import PageSize, pdf_form
from boxlamp.paper.forms.pdf_tables import column_widths
from boxlamp.paper.forms.pdf_text import Typesetter, width_of
from support.documents import (
    HAND_MADE,
    HOSTILE,
    SAMPLE,
    TALL,
    WIDE,
    blocks_in,
    documents,
    tables_in,
    texts,
)

TWO_CURVES = (
    Curve("red", "1", ((0, 300), (3, 400))), Curve("blue", "2", ((0, 310), (3, 390))),
)  # fmt: skip
PAGES: tuple[PageSize, ...] = ("a4", "letter")
NAMED = pytest.mark.parametrize("name", HAND_MADE)
SIZED = pytest.mark.parametrize("page", PAGES)
ACTS = {"/JS", "/JavaScript", "/AA", "/OpenAction", "/Annots", "/AcroForm", "/URI", "/Launch",
        "/EmbeddedFiles", "/Names", "/XFA", "/A"}  # fmt: skip


def read(content: bytes) -> PdfReader:
    return PdfReader(io.BytesIO(content), strict=True)


def squeezed(text: str) -> str:
    """Text without gaps: where lines were folded is of no matter."""
    return "".join(text.split())


def page_texts(document: Document, page: PageSize = "a4") -> list[str]:
    return [squeezed(one.extract_text()) for one in read(pdf_form(document, page)).pages]


def shown(text: str) -> str:
    """Text as it must stand on paper, without gaps."""
    return squeezed(printable(text).text)


def said_in(document: Document) -> Iterator[str]:
    """Everything that a document says in facts, tables, points and paragraphs, in order."""
    for block in blocks_in(document):
        match block:
            case Facts(rows=rows):
                yield from (text for row in rows for text in row)
            case Table(columns=columns, rows=rows, empty=empty):
                if not rows:
                    yield empty
                else:
                    yield from (column.title for column in columns)
                    yield from (cell.text for row in rows for cell in row)
            case Points(items=items):
                yield from (item.text for item in items)
            case Words(text=text):
                yield text
            case BarChart(title=title) | CurveChart(title=title):
                yield title


def assert_in_order(document: Document, page: PageSize) -> None:
    text, place = "".join(page_texts(document, page)), 0
    for said in map(shown, (document.title, document.subtitle, *said_in(document))):
        if "word0" in said:
            continue  # parted by page breaks; it has a test of its own
        found = text.find(said, place)
        assert found >= 0, said
        place = found + len(said)


@SIZED
@NAMED
def test_every_word_is_there_in_order(name: str, page: PageSize) -> None:
    """Read back, a page holds every label, cell, point and paragraph in the document's order."""
    assert_in_order(HAND_MADE[name], page)


@settings(max_examples=60, deadline=None)
@given(documents(), st.sampled_from(PAGES))
def test_any_document_can_be_printed_whole(document: Document, page: PageSize) -> None:
    """Whatever a document holds, it is printed, and not one character of it is lost."""
    said = Counter("".join(map(shown, said_in(document))))

    assert said <= Counter("".join(page_texts(document, page)))


def rows_of_text(document: Document) -> Iterator[str]:
    for table in tables_in(document):
        for row in table.rows:
            if TALL not in row:
                yield "".join(shown(cell.text) for cell in row)


def long_table(rows: int) -> Document:
    """Rows of uneven height, so that page breaks fall everywhere."""
    columns = (Column("No."), Column("What", 3), Column("Last"))
    body = tuple(
        (Cell(f"<{number}"), Cell("said " * (number * 7 % 60)), Cell(f"{number}>"))
        for number in range(rows)
    )
    return Document("Long", "", (Section("Rows", (Table(columns, body),)),), "foot")


@SIZED
@pytest.mark.parametrize("name", [*HAND_MADE, "long"])
def test_no_row_is_parted_by_a_page_break(name: str, page: PageSize) -> None:
    """Every row that fits a page stands whole on one page, from its first cell to its last."""
    document = HAND_MADE.get(name) or long_table(150)
    pages = page_texts(document, page)

    for row in rows_of_text(document):
        assert any(row in text for text in pages), row


def test_titles_are_repeated_on_every_page_of_a_table() -> None:
    """Whoever reads a later page alone sees what each column is."""
    pages = page_texts(long_table(150))

    assert len(pages) > 3
    assert all("No.WhatLast" in text for text in pages)


@SIZED
def test_a_row_taller_than_a_page_comes_out_whole(page: PageSize) -> None:
    """Such a row goes on over pages with no word lost, and the row after it follows."""
    pages = page_texts(WIDE, page)
    rest = "".join(text.replace("NumberLongLonger", "") for text in pages).replace("Thefoot", "")
    for number in range(1, len(pages) + 1):
        rest = rest.replace(f"Page{number}of{len(pages)}", "")

    assert squeezed(TALL.text) in rest
    assert rest.index("word899") < rest.index("afterit")


def test_titles_taller_than_a_page_lose_nothing() -> None:
    """Titles that would fill page after page stand above their table once, whole."""
    title = " ".join(f"title{number}" for number in range(900))
    columns = (Column(title), *(Column("B") for _ in range(9)))
    table = Table(columns, ((Cell("first"), *(Cell("") for _ in range(9))),))
    said = "".join(page_texts(Document("T", "", (Section("S", (table,)),), "")))

    assert said.count("title0t") == 1
    assert said.index("title899") < said.index("first")


@pytest.mark.parametrize("filler", range(38, 62, 2))
def test_a_heading_stands_with_what_follows_it(filler: int) -> None:
    """No heading is the last thing on a page: two rows, or a whole chart, stand under it."""
    lines = Points(tuple(Cell(f"line {number}") for number in range(filler)))
    table = Table((Column("Title"),), tuple((Cell(f"row {number}"),) for number in range(9)))
    curves = CurveChart("Chart", "days", "g", TWO_CURVES)
    sections = (Section("Filler", (lines,)), Section("Heading", (table,)),
                Section("Weights", (curves,)))  # fmt: skip
    pages = page_texts(Document("T", "", sections, ""))

    assert any("HeadingTitlerow0row1" in text for text in pages)
    assert any("WeightsChart" in text and "1=red" in text.split("WeightsChart")[1]
               for text in pages)  # fmt: skip


@pytest.mark.parametrize("filler", range(50, 62, 2))
def test_a_short_paragraph_stands_with_its_table(filler: int) -> None:
    """A sentence that leads to a table is on the page on which the table begins."""
    lines = Points(tuple(Cell(f"line {number}") for number in range(filler)))
    table = Table((Column("Title"),), tuple((Cell(f"row {number}"),) for number in range(9)))
    sections = (Section("Filler", (lines,)), Section("Heading", (Words("lead", "dim"), table)))
    pages = page_texts(Document("T", "", sections, ""))

    assert any("HeadingleadTitlerow0row1" in text for text in pages)


def lines(count: int) -> Points:
    return Points(tuple(Cell(f"line {number}") for number in range(count)))


@SIZED
@pytest.mark.parametrize(("filler", "pages"), [(5, 1), (15, 1), (30, 2), (45, 2)])
def test_a_section_may_begin_a_page(filler: int, pages: int, page: PageSize) -> None:
    """``new_page`` begins a page, unless less than two fifths of the one before are filled."""
    here = Section("Here", (lines(filler),), new_page=True)
    there = Section("There", (Words("b"),), new_page=True)
    texts = page_texts(Document("T", "", (here, there), ""), page)

    assert len(texts) == pages
    assert "Here" in texts[0]
    assert texts[-1].startswith("Thereb") is (pages == 2)


@SIZED
def test_a_front_that_runs_over_leaves_no_empty_page(page: PageSize) -> None:
    """A few lines over, and what asked for a page of its own goes on below them."""
    front = Section("Front", (lines(72),))
    table = Table((Column("A"),), tuple((Cell(f"row {number}"),) for number in range(30)))
    _, second = page_texts(
        Document("T", "", (front, Section("All", (table,), new_page=True)), ""), page
    )

    assert "line71" in second
    assert "row29" in second


@SIZED
@pytest.mark.parametrize("filler", range(40, 66))
def test_a_short_section_is_never_parted(filler: int, page: PageSize) -> None:
    """A section of less than a quarter of a page stands whole on one page."""
    closing = Section("Cautions", (Words("a caution " * 20, "caution"), lines(5),
                                   Words("digest " * 30), Facts((("Last", "end"),))))  # fmt: skip
    front = Section("Front", (Points(tuple(Cell("filled") for _ in range(filler))),))
    texts = page_texts(Document("T", "", (front, closing), ""), page)
    [whole] = [text for text in texts if "Cautions" in text]

    assert "acaution" * 20 in whole
    assert "Lastend" in whole


@SIZED
@NAMED
def test_nothing_in_it_acts(name: str, page: PageSize) -> None:
    """No script, link, form, attached file or action of any kind, whatever people have typed."""
    found = set[str]()
    reader = read(pdf_form(HAND_MADE[name], page))
    seen = set[int]()

    def walk(thing: object) -> None:
        thing = thing.get_object() if hasattr(thing, "get_object") else thing
        if id(thing) in seen:
            return
        seen.add(id(thing))
        if isinstance(thing, DictionaryObject):
            found.update(map(str, thing))
            for value in thing.values():
                walk(value)
        elif isinstance(thing, ArrayObject):
            for value in thing:
                walk(value)

    walk(reader.trailer)

    assert {"/Pages", "/Contents", "/FontFile2"} <= found
    assert not found & ACTS


def fonts_of(reader: PdfReader) -> Iterator[DictionaryObject]:
    """The fonts in which anything is set; the library names one more in every file."""
    for page in reader.pages:
        fonts = page["/Resources"].get_object()["/Font"]  # type: ignore[index]  # a dictionary
        for font in (font.get_object() for font in fonts.values()):
            if str(font["/Subtype"]) != "/Type1":
                yield font


@NAMED
def test_every_typeface_is_embedded(name: str) -> None:
    """Only the two typefaces of the package, each as the part of it that is used."""
    used = set()
    for font in fonts_of(read(pdf_form(HAND_MADE[name]))):
        descriptor = font["/FontDescriptor"].get_object()
        assert isinstance(descriptor, DictionaryObject)
        assert isinstance(descriptor["/FontFile2"].get_object(), StreamObject)
        used.add(str(font["/BaseFont"]).partition("+")[2])

    assert used <= {"DejaVuSansCondensed", "DejaVuSansCondensed-Bold"}
    assert used


@pytest.mark.parametrize(("page", "size"), [("a4", (595, 842)), ("letter", (612, 792))])
def test_the_paper_has_the_size_asked_for(page: PageSize, size: tuple[int, int]) -> None:
    """Every page is upright, of the size asked for."""
    for one in read(pdf_form(SAMPLE, page)).pages:
        assert (round(one.mediabox.width), round(one.mediabox.height)) == size


@NAMED
def test_every_page_has_its_foot_and_number(name: str) -> None:
    """A page that is found alone says whose it is and of how many."""
    document = HAND_MADE[name]
    pages = page_texts(document)

    for number, text in enumerate(pages, start=1):
        assert text.endswith(f"{shown(document.foot)}Page{number}of{len(pages)}")


def test_it_says_what_it_is() -> None:
    """Title, language and maker stand in the file, and no date that would make it differ."""
    reader = read(pdf_form(SAMPLE._replace(language="en-GB")))
    about = reader.metadata

    assert about is not None
    assert about.title == "Whelping summary: Bramble"
    assert (about.author, about.creator) == ("Boxlamp", "Boxlamp")
    assert reader.trailer["/Root"].get_object()["/Lang"] == "en-GB"  # type: ignore[index]


SCRIPT = (
    "import sys; from support import documents as d; from boxlamp.paper.forms.pdf import pdf_form; "
    "sys.stdout.buffer.write(pdf_form(d.HAND_MADE[sys.argv[1]], sys.argv[2]))"
)


def in_a_process(name: str, seed: str) -> bytes:
    tests = str(Path(__file__).parents[2])
    surroundings = os.environ | {"PYTHONHASHSEED": seed, "PYTHONPATH": tests, "TZ": f"UTC-{seed}"}
    return subprocess.run(
        [sys.executable, "-c", SCRIPT, name, "a4"],
        capture_output=True,
        check=True,
        env=surroundings,
    ).stdout


@pytest.mark.parametrize("name", ["sample", "attack"])
def test_the_same_document_gives_the_same_bytes(name: str) -> None:
    """Twice in one process, and in two processes: not one byte differs."""
    here = pdf_form(HAND_MADE[name])

    assert here == pdf_form(HAND_MADE[name])
    assert here == in_a_process(name, "1") == in_a_process(name, "2")


@pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="poppler is not installed")
@SIZED
@NAMED
def test_every_page_can_be_drawn(name: str, page: PageSize, tmp_path: Path) -> None:
    """Another reader draws each page without a complaint, and none is empty."""
    file = tmp_path / "paper.pdf"
    file.write_bytes(pdf_form(HAND_MADE[name], page))
    drawn = subprocess.run(
        ["pdftoppm", "-gray", "-r", "30", file, tmp_path / "page"], capture_output=True, check=True
    )
    images = sorted(tmp_path.glob("page*.pgm"))

    assert not drawn.stderr
    assert len(images) == len(read(file.read_bytes()).pages)
    for image in images:
        pixels = image.read_bytes()[15:]
        dark = sum(pixel < 200 for pixel in pixels)
        # A page with its foot alone has fewer dark points than this.
        assert dark > 100, image


def one_cell(text: str, role: Role = "") -> Document:
    table = Table((Column("A"), Column("B")), ((Cell(text, role), Cell("end")),))
    return Document("T", "", (Section("S", (table,)),), "foot")


@pytest.mark.parametrize("text", [text for text in HOSTILE if text.strip()])
def test_hostile_text_is_only_text(text: str) -> None:
    """What looks like markup, a formula, an address or a control code is printed as typed."""
    [said] = page_texts(one_cell(text))

    assert f"{shown(text)}end" in said


@pytest.mark.parametrize("text", ["漢字", "emoji 🐕‍🦺", "שוקו", "كلبة", "Chóukʷ שׁ"])
def test_what_cannot_be_printed_is_told(text: str) -> None:
    """A character without a letterform is a white square, and one sentence says where to look.

    Right-to-left letters are squares too: in the wrong order they would be read wrongly.
    """
    [said] = page_texts(one_cell(text))

    assert MISSING in said
    assert said.count("Somecharacterscouldnotbeprintedhere") == 1
    assert not any("\u0590" <= char <= "\u06ff" for char in said)


@pytest.mark.parametrize("text", ["Dvořák", "37.1 °C", "ß ŵ Ļ İ é", "Смърт", "1½ → 2 ≥ 3 µ"])
def test_what_can_be_printed_needs_no_excuse(text: str) -> None:
    """Latin with any accent, Cyrillic, signs of measurement: printed, and nothing is said."""
    [said] = page_texts(one_cell(text))

    assert squeezed(text) in said
    assert MISSING not in said


def test_struck_words_are_drawn_through() -> None:
    """A line that was withdrawn is still readable, with a stroke through it."""

    def strokes(role: Role) -> int:
        contents = read(pdf_form(one_cell("withdrawn", role))).pages[0].get_contents()
        assert contents is not None
        return contents.get_data().count(b" l S")

    assert strokes("struck") == strokes("") + 1


def test_levels_are_bold() -> None:
    """A row of a level stands out in a black and white copy."""

    def typefaces(role: Role) -> int:
        document = Document("", "", (Section("", (Words("words", role),)),), "foot")
        return len(list(fonts_of(read(pdf_form(document)))))

    assert [typefaces(role) for role in ("", "dim", "struck", "watch", "call", "go", "strong")] == [
        1, 1, 1, 2, 2, 2, 2,
    ]  # fmt: skip


def test_charts_are_painted_with_their_words() -> None:
    """A chart on paper holds its labels, values, limits and numbers."""
    bars = BarChart("Time between births", "min", (Bar("to pup 2", 38.0, "38 min"),) * 3,
                    ((60.0, "watch: 1 h"),))  # fmt: skip
    curves = CurveChart("Weights", "days", "g", TWO_CURVES)
    [said] = page_texts(Document("T", "", (Section("S", (bars, curves)),), ""))

    for words in ("Timebetweenbirths", "topup2", "38min", "watch:1h", "60min", "days", "1=red"):
        assert words in said


def test_a_short_cell_stays_on_one_line() -> None:
    """A level with its mark, or a length of time, is not broken beside a column of long words."""
    columns = (Column("Level"), Column("What"), Column("Long"))
    row = (Cell("!! CALL", "call"), Cell("long words " * 30), Cell("more long words " * 60))
    document = Document("T", "", (Section("S", (Table(columns, (row,)),)),), "")
    text = read(pdf_form(document)).pages[0].extract_text()

    assert "!! CALL" in text


@settings(deadline=None)
@given(texts(), st.floats(30, 500), st.sampled_from([6.5, 8.5, 15.0]))
def test_no_line_is_wider_than_its_column(text: str, width: float, size: float) -> None:
    """Words are folded between words, long ones within; nothing is lost and nothing sticks out."""
    lines = Typesetter().lines(text, width, size, "go").lines

    assert squeezed("".join(lines)) == shown(text)
    assert all(width_of(line, "go", size) <= width + 0.01 for line in lines)


@given(st.lists(st.tuples(*[st.floats(1, 900)] * 3), min_size=1, max_size=14), st.floats(300, 600))
def test_columns_share_the_width(wishes: list[tuple[float, float, float]], width: float) -> None:
    """Columns fill the page exactly, and words stay whole wherever there is room for all."""
    shares, least, more = zip(*wishes, strict=True)
    most = [low + extra for low, extra in zip(least, more, strict=True)]
    widths = column_widths(shares, least, most, width)

    assert sum(widths) == pytest.approx(width)
    assert min(widths) > 0
    if sum(least) <= width:
        assert all(w >= low - 0.01 for w, low in zip(widths, least, strict=True))
