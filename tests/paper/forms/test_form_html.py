"""The HTML form, taken apart by a parser: the same facts, nothing that runs, nothing fetched."""

import re
from base64 import b64encode
from hashlib import sha256

import pytest
from hypothesis import given, settings

from boxlamp.paper.document import (
    BarChart,
    Cell,
    Column,
    CurveChart,
    Document,
    Facts,
    Points,
    Section,
    Table,
    Words,
)
from boxlamp.paper.forms.html import css_string, html_form
from boxlamp.paper.forms.text import text_form
from boxlamp.view.text import clean
from support.documents import (
    ATTACK,
    HAND_MADE,
    HOSTILE,
    SAMPLE,
    WIDE,
    blocks_in,
    documents,
    facts_in,
    tables_in,
)
from support.reading import Page, page_of, squeezed

TAGS = {
    "html", "head", "meta", "title", "style", "body", "main", "header", "footer", "section",
    "h1", "h2", "p", "dl", "div", "dt", "dd", "ul", "li", "table", "caption", "thead", "tbody",
    "tr", "th", "td", "bdi", "span", "s", "figure", "figcaption",
    "svg", "desc", "rect", "circle", "polyline", "text",
}  # fmt: skip
ATTRIBUTES = {
    "lang", "charset", "http-equiv", "content", "name", "class", "role", "scope", "data-title",
    "xmlns", "viewbox", "aria-labelledby", "font-family", "id", "points", "fill", "stroke",
    "stroke-width", "stroke-dasharray", "x", "y", "width", "height", "cx", "cy", "r", "font-size",
    "text-anchor", "font-weight", "unicode-bidi", "dir",
}  # fmt: skip


def page(document: Document) -> Page:
    return page_of(html_form(document))


def one(block: Words | Points | Table | Facts | BarChart | CurveChart) -> Page:
    return page(Document("T", "", (Section("S", (block,)),), "foot"))


@given(documents())
@settings(max_examples=40, deadline=None)
def test_every_cell_and_every_fact_is_read_back_as_it_was_said(document: Document) -> None:
    """A parser finds the tables, the facts and the lists of the document, word for word."""
    found = page(document)
    tables = [table for table in tables_in(document) if table.rows]
    points = [block for block in blocks_in(document) if isinstance(block, Points)]

    assert found.texts("td") == [clean(cell.text) for table in tables
                                 for row in table.rows for cell in row]  # fmt: skip
    assert found.texts("th") == [clean(column.title) for table in tables
                                 for column in table.columns]  # fmt: skip
    assert found.texts("dt") == [clean(label) for label, _ in facts_in(document)]
    assert found.texts("dd") == [clean(value) for _, value in facts_in(document)]
    assert found.texts("li") == [clean(item.text) for block in points for item in block.items]
    assert found.texts("h1") == [clean(document.title)]
    assert found.texts("h2") == [clean(section.title) for section in document.sections]
    assert found.texts("footer") == [clean(document.foot)]


@given(documents())
@settings(max_examples=40, deadline=None)
def test_nothing_in_it_runs_or_is_fetched(document: Document) -> None:
    """Only elements and attributes of ours, no comment, and not one address."""
    found = page(document)

    assert {part.tag for part in found.parts} <= TAGS
    assert {key for part in found.parts for key in part.attributes} <= ATTRIBUTES
    assert found.comments == []
    [style] = found.every("style")
    assert not re.search(r"url|import|@font-face|expression|<", style.text)


@pytest.mark.parametrize("name", HAND_MADE)
def test_the_browser_is_told_to_fetch_nothing(name: str) -> None:
    """The policy allows the one style sheet by its digest, and nothing else at all."""
    found = page(HAND_MADE[name])
    [style] = found.every("style")
    [policy] = [part.attributes["content"] for part in found.every("meta")
                if part.attributes.get("http-equiv") == "Content-Security-Policy"]  # fmt: skip
    digest = b64encode(sha256(style.text.encode()).digest()).decode()

    assert policy == (
        f"default-src 'none'; style-src 'sha256-{digest}'; base-uri 'none'; form-action 'none'"
    )


def test_people_s_words_turn_nothing_round() -> None:
    """Each cell, fact and heading keeps its direction to itself."""
    found = page(SAMPLE)

    for part in found.every("td", "th", "dt", "dd", "li", "h1", "h2", "p"):
        inner = [other for other in found.parts if other.tag == "bdi" and part.tag in other.around]
        assert "".join(other.text for other in inner)
    assert all("td" not in part.around or part.tag in {"bdi", "s", "span"}
               for part in found.parts)  # fmt: skip
    assert sum(part.tag == "bdi" and "td" in part.around for part in found.parts) == len(
        found.every("td")
    )


@pytest.mark.parametrize(
    ("typed", "set_as"),
    [
        ("שוקו 312 g", '<bdi dir="ltr"><bdi dir="rtl">שוקו</bdi> 312 g</bdi>'),
        ("Dam שוקו הכלבה, 3 years", '<bdi dir="ltr">Dam <bdi dir="rtl">שוקו הכלבה</bdi>, 3 years'),
        ("02:10 كلبة", '<bdi dir="ltr">02:10 <bdi dir="rtl">كلبة</bdi></bdi>'),
    ],
)
def test_a_name_from_the_right_leaves_numbers_where_they_are(typed: str, set_as: str) -> None:
    """What is written from the right is by itself; what stands behind it stays behind it."""
    html = html_form(Document("T", "", (Section("S", (Words(typed),)),), ""))

    assert set_as in html
    assert page_of(html).texts("p") == [typed]


def test_it_says_what_the_text_says() -> None:
    """All that the page says of facts and in cells stands in the plain text too."""
    found = page(SAMPLE)
    plain = squeezed(text_form(SAMPLE, 200))

    for said in found.texts("dd", "li", "td"):
        assert squeezed(said) in plain


def test_a_table_is_a_table_to_one_who_hears_it() -> None:
    """Titles belong to their columns, and every table has a name."""
    found = page(SAMPLE)

    assert {part.attributes["scope"] for part in found.every("th")} == {"col"}
    assert len(found.texts("caption")) == len(found.every("table"))
    assert "The pups" in found.texts("caption")
    assert {part.attributes["role"] for part in found.every("td")} == {"cell"}


def test_on_a_telephone_each_cell_knows_its_title() -> None:
    """Where a wide table is set as cards, the title stands in each cell's attribute."""
    table = tables_in(WIDE)[0]
    titles = [column.title for column in table.columns] * len(table.rows)
    found = page(WIDE)

    assert [part.attributes["data-title"] for part in found.every("td")][:420] == titles
    assert [part.attributes["class"].split() for part in found.every("table")] == [["wide"], []]


def test_struck_and_levels_are_not_colour_alone() -> None:
    """A struck cell is drawn through and says so to one who hears it; levels carry their class."""
    row = (Cell("gone", "struck"), Cell("!! call", "call"))
    html = html_form(
        Document("T", "", (Section("S", (Table((Column("A"), Column("B")), (row,)),)),), "")
    )

    assert '<span class="unseen">struck: </span><s><bdi dir="ltr">gone</bdi></s></td>' in html
    assert page_of(html).texts("s") == ["gone"]
    assert 'class="left call" data-title="B"><bdi dir="ltr">!! call</bdi></td>' in html
    assert re.search(r"\.strong, \.call, \.go \{ font-weight: 700; \}", html)


def test_a_chart_is_a_picture_that_can_be_heard() -> None:
    """Every drawing has a role, a title and words; their names are unique on the page."""
    found = page(SAMPLE)
    drawings = found.every("svg")
    names = [part.attributes["id"] for part in found.parts if "id" in part.attributes]

    assert [part.attributes["role"] for part in drawings] == ["img", "img"]
    assert len(set(names)) == len(names)
    for part in drawings:
        assert set(part.attributes["aria-labelledby"].split()) <= set(names)
    assert found.texts("figcaption") == ["Time between births", "Weights since birth"]
    assert all(found.texts("desc"))
    assert "1 h 36 min" in found.texts("text")


def test_the_page_is_that_of_the_printer() -> None:
    """The print rules name the size; rows stay whole, titles are repeated."""
    assert "size: A4;" in html_form(SAMPLE)
    letter = html_form(SAMPLE, page="letter")
    assert "size: letter;" in letter
    assert "tr, figure, dl > div, li, p { break-inside: avoid; }" in letter
    assert "thead { display: table-header-group; }" in letter


def test_a_section_may_begin_a_page() -> None:
    """Only the section that asks for it begins a page of its own."""
    classes = [part.attributes.get("class") for part in page(SAMPLE).every("section")]

    assert classes == ["new-page" if section.new_page else None for section in SAMPLE.sections]


def test_a_long_word_may_be_broken_and_stays_the_same_word() -> None:
    """Five hundred letters without a blank may be broken anywhere, and copy as one word."""
    word = "x" * 500
    html = html_form(Document("T", "", (Section("S", (Words(f"a {word} b"),)),), ""))

    assert page_of(html).texts("p") == [f"a {word} b"]
    assert f'a <span class="long">{word}</span> b' in html
    assert ".long { overflow-wrap: anywhere; }" in html


def test_one_long_cell_does_not_take_the_room_of_the_times() -> None:
    """Columns get their share by what saves lines, and the style sheet knows each share."""
    columns = (Column("When"), Column("What"))
    rows = tuple((Cell(f"Thu 9 Jul 04:{minute}"), Cell("Strong contraction"))
                 for minute in range(10, 40))  # fmt: skip
    table = Table(columns, (*rows, (Cell("Fri 10 Jul 01:00"), Cell("long words " * 40))))
    found = one(table)
    [style] = found.every("style")
    classes = [part.attributes["class"].split()[-1] for part in found.every("th")]

    assert classes == ["w16", "w84"]
    assert ".w16 { width: 16%; }" in style.text


@pytest.mark.parametrize("said", HOSTILE)
def test_the_foot_cannot_leave_its_string(said: str) -> None:
    """In the style sheet a foot is letters, digits, blanks and codes between two quotes."""
    assert re.fullmatch(r'"(?:[A-Za-z0-9 ]|\\[0-9a-f]+ )*"', css_string(said))


@pytest.mark.parametrize("name", HAND_MADE)
def test_it_says_what_made_it(name: str) -> None:
    """The maker is named before any words of people."""
    assert '<meta name="generator" content="Boxlamp">' in html_form(HAND_MADE[name])[:400]


def test_nothing_to_show_is_said() -> None:
    """An empty table is its sentence; empty facts and lists leave no empty element."""
    found = page(HAND_MADE["empty"])

    assert "No pup has been written down." in found.texts("p")
    assert found.every("table", "dl", "ul", "li") == []


def test_the_attack_is_on_the_page_as_it_was_typed() -> None:
    """Markup means nothing here and stands as it was typed."""
    assert page(ATTACK).texts("dd") == [clean(said) for said in HOSTILE]
