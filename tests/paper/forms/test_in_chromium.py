"""The HTML form in a real browser: on a screen, on paper, and cut off from the world."""

import unicodedata
from pathlib import Path

import pytest
from PIL import Image
from pypdf import PdfReader

from boxlamp.paper.document import Cell, Column, Document, Facts, Points, Section, Table
from boxlamp.paper.forms.html import Page, html_form
from support.chromium import browse
from support.documents import ATTACK, SAMPLE, WIDE, tables_in
from support.reading import squeezed

SIZES: dict[Page, tuple[int, int]] = {"a4": (595, 842), "letter": (612, 792)}


def written(document: Document, folder: Path, page: Page = "a4") -> Path:
    file = folder / "summary.html"
    file.write_text(html_form(document, page=page), encoding="utf-8", newline="\n")
    return file


def printed(document: Document, folder: Path, page: Page = "a4") -> PdfReader:
    file = folder / "summary.pdf"
    browse(written(document, folder, page), folder, f"--print-to-pdf={file}")
    return PdfReader(file)


def texts_of(pdf: PdfReader) -> list[str]:
    """What each page says, without blanks; joined letters are taken apart again."""
    return [squeezed(unicodedata.normalize("NFKC", page.extract_text())) for page in pdf.pages]


@pytest.mark.parametrize("page", SIZES)
def test_the_sample_is_printed_whole_with_no_row_cut(page: Page, tmp_path: Path) -> None:
    """Every row of every table stands whole on one page of the right size, titles above it."""
    pdf = printed(SAMPLE, tmp_path, page)
    pages = texts_of(pdf)
    size = pdf.pages[0].mediabox

    assert (round(size.width), round(size.height)) == SIZES[page]
    assert 3 <= len(pages) <= 5
    for table in tables_in(SAMPLE):
        titles = squeezed("".join(column.title for column in table.columns))
        for row in table.rows:
            said = squeezed("".join(cell.text for cell in row))
            assert any(said in text and titles in text for text in pages), said


def test_every_foot_says_whose_it_is_and_which_page(tmp_path: Path) -> None:
    """The foot of the document and the number of the page stand on every page."""
    pages = texts_of(printed(SAMPLE, tmp_path))

    for number, text in enumerate(pages, 1):
        assert f"page{number}of{len(pages)}" in text
        assert squeezed(SAMPLE.foot) in text


def test_a_table_over_pages_repeats_its_titles(tmp_path: Path) -> None:
    """Fourteen columns fit; each page begins with the titles; a row taller than a page is whole."""
    pages = texts_of(printed(WIDE, tmp_path))
    wide, tall = tables_in(WIDE)
    rows = [squeezed("".join(cell.text for cell in row)) for row in wide.rows]
    titles = squeezed("".join(column.title for column in wide.columns))

    held = [sum(row in text for row in rows) for text in pages]

    assert sum(held) == len(rows)
    assert sum(bool(count) for count in held) >= 2
    assert all(titles in text for text, count in zip(pages, held, strict=True) if count)
    assert all(any(word in text for text in pages) for word in tall.rows[0][2].text.split())


def test_a_row_of_many_lines_is_not_parted(tmp_path: Path) -> None:
    """Rows of seven lines: where a page ends, it ends between two of them."""
    said = [" ".join(f"r{row}w{word}" for word in range(80)) for row in range(40)]
    columns = (Column("Row"), Column("What", 3))
    table = Table(columns, tuple((Cell(f"{row}"), Cell(text)) for row, text in enumerate(said)))
    pages = texts_of(
        printed(Document("Long rows", "", (Section("Rows", (table,)),), "foot"), tmp_path)
    )

    assert len(pages) > 3
    assert all(any(squeezed(text) in page for page in pages) for text in said)


@pytest.mark.parametrize("document", [SAMPLE, ATTACK], ids=["sample", "attack"])
def test_nobody_is_asked_for_anything(document: Document, tmp_path: Path) -> None:
    """Opened in a browser, a page asks no host for anything, whatever was typed."""
    shot = tmp_path / "shot.png"

    asked = browse(written(document, tmp_path), tmp_path, f"--screenshot={shot}")

    assert asked == []
    assert shot.exists()


def test_a_page_that_asks_is_found_out(tmp_path: Path) -> None:
    """The look-out works: a page with a picture from elsewhere is noticed."""
    page = tmp_path / "asks.html"
    page.write_text('<img src="http://pictures.invalid/x.png">', encoding="ascii")

    asked = browse(page, tmp_path, f"--screenshot={tmp_path / 'shot.png'}")

    assert "pictures.invalid" in asked


LONG_WORD = Cell("x" * 500)
LONG_WORDS = Document(LONG_WORD.text, LONG_WORD.text, (Section(LONG_WORD.text, (
    Facts(((LONG_WORD.text, LONG_WORD.text),)),
    Points((LONG_WORD,)),
    Table((Column("A"), Column(LONG_WORD.text), Column("C")), ((Cell("a"), LONG_WORD, LONG_WORD),)),
    Table((Column("A"),) * 6, ((LONG_WORD,) * 6,)),
)),), LONG_WORD.text)  # fmt: skip


@pytest.mark.parametrize("document", [SAMPLE, LONG_WORDS], ids=["sample", "long-words"])
@pytest.mark.parametrize("width", [390, 1000])
def test_nothing_stands_beside_the_screen(document: Document, width: int, tmp_path: Path) -> None:
    """On a telephone and on a desk the page is as wide as its window and no wider."""
    frame = tmp_path / "frame.html"
    inner = written(document, tmp_path).name
    # A window has a least width; a frame has not. Beyond its edge it would show a bar.
    frame.write_text(
        f'<body style="margin:0;background:#0f0"><iframe src="{inner}" width="{width}" '
        'height="6000" style="border:0;display:block;background:#fff"></iframe>',
        encoding="ascii",
    )
    shot = tmp_path / "shot.png"
    browse(frame, tmp_path, f"--screenshot={shot}", "--window-size=1100,6000")

    with Image.open(shot) as image:
        picture = image.convert("L")
    edge = picture.crop((width - 12, 0, width, 6000))
    inside = picture.crop((0, 0, width - 12, 6000))

    assert edge.histogram()[255] == 12 * 6000, "a margin is left at the right"
    assert sum(inside.histogram()[:64]), "the page says something"
