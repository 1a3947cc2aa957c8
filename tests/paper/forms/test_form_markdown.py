"""The Markdown form, as a CommonMark parser with pipe tables reads it."""

from collections.abc import Iterator

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from markdown_it import MarkdownIt
from markdown_it.token import Token

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
from boxlamp.paper.forms import text
from boxlamp.paper.forms.markdown import MARK, escaped, is_ours, markdown_form
from support.documents import HAND_MADE, HOSTILE, SAMPLE, blocks_in, documents, texts
from support.reading import set_text

PARSER = MarkdownIt("commonmark", {"html": True}).enable(["table", "strikethrough"])
OF_OURS = {"text", "strong_open", "strong_close", "s_open", "s_close", "em_open", "em_close"}
BLOCKS = {
    "heading_open", "heading_close", "paragraph_open", "paragraph_close", "inline", "hr", "fence",
    "bullet_list_open", "bullet_list_close", "list_item_open", "list_item_close",
    "table_open", "table_close", "thead_open", "thead_close", "tbody_open", "tbody_close",
    "tr_open", "tr_close", "th_open", "th_close", "td_open", "td_close",
}  # fmt: skip


def inside(tokens: list[Token], kind: str) -> list[str]:
    """What every element of a kind says, without its markup."""
    found = list[str]()
    for at, token in enumerate(tokens):
        if token.type == f"{kind}_open":
            [inline] = [one for one in tokens[at : at + 3] if one.type == "inline"]
            found.append("".join(child.content for child in inline.children or []))
    return found


def one_document(block: Words | Points | Facts | Table) -> str:
    return markdown_form(Document("T", "", (Section("S", (block,)),), "foot"))


def shown(cell: Cell) -> str:
    said = set_text(cell.text)
    return f"(struck) {said}" if cell.role == "struck" and said else said


def cells_in(document: Document) -> Iterator[str]:
    """What each cell of each table is to say, in order."""
    for block in blocks_in(document):
        if isinstance(block, Table):
            for row in block.rows:
                yield from map(shown, row)


@given(documents())
@settings(max_examples=50, deadline=None)
def test_words_of_people_are_words_only(document: Document) -> None:
    """No text becomes a link, a picture, code, HTML, a quotation or a heading of its own."""
    tokens = PARSER.parse(markdown_form(document))
    inline = {child.type for token in tokens for child in token.children or []}

    assert {token.type for token in tokens} <= BLOCKS
    assert inline <= OF_OURS
    assert len(inside(tokens, "heading")) == 1 + len(document.sections)


@given(documents())
@settings(max_examples=50, deadline=None)
def test_every_cell_is_read_back_as_it_was_said(document: Document) -> None:
    """A parser finds the same tables with the same cells, word for word."""
    tokens = PARSER.parse(markdown_form(document))
    tables = [block for block in blocks_in(document) if isinstance(block, Table) and block.rows]

    assert sum(token.type == "table_open" for token in tokens) == len(tables)
    assert inside(tokens, "th") == [set_text(column.title) for table in tables
                                    for column in table.columns]  # fmt: skip
    assert inside(tokens, "td") == list(cells_in(document))


def test_two_lists_with_an_empty_one_between_stay_two() -> None:
    """A block that comes to nothing does not let its neighbours run together."""
    one = Facts((("a", "1"),))
    said = markdown_form(Document("T", "", (Section("S", (one, Facts(()), one)),), "foot"))

    assert sum(token.type == "bullet_list_open" for token in PARSER.parse(said)) == 2


@given(documents())
@settings(max_examples=50, deadline=None)
def test_every_fact_and_point_is_an_item_of_its_own(document: Document) -> None:
    """Lists that follow one another stay apart; each label stands before what is known."""
    tokens = PARSER.parse(markdown_form(document))
    items, lists = list[str](), 0
    for block in blocks_in(document):
        match block:
            case Facts(rows) if rows:
                lists += 1
                items += [f"{set_text(label)}: {set_text(value)}".rstrip() for label, value in rows]
            case Points(rows) if rows:
                lists += 1
                items += [shown(cell) for cell in rows]

    assert sum(token.type == "bullet_list_open" for token in tokens) == lists
    found = sum(token.type == "list_item_open" for token in tokens)
    assert found == len(items)
    assert _items(tokens) == items


def _items(tokens: list[Token]) -> list[str]:
    found = list[str]()
    for token in tokens:
        if token.type == "list_item_open":
            found.append("")
        elif token.type == "inline" and token.level == 3 and found:
            found[-1] = "".join(child.content for child in token.children or [])
    return found


@given(texts() | st.sampled_from(HOSTILE))
def test_an_escaped_text_is_itself(said: str) -> None:
    """Escaped and parsed, a text reads as it was typed, in one paragraph."""
    tokens = PARSER.parse(escaped(said))

    assert inside(tokens, "paragraph") == ([set_text(said)] if set_text(said) else [])


@given(documents())
@settings(max_examples=50, deadline=None)
def test_charts_are_fenced_text(document: Document) -> None:
    """Every chart is one fence, and no label can close it."""
    fences = [token for token in PARSER.parse(markdown_form(document)) if token.type == "fence"]
    charts = [block for block in blocks_in(document) if isinstance(block, BarChart | CurveChart)]

    assert len(fences) == len(charts)
    for fence, chart in zip(fences, charts, strict=True):
        drawn = text.block_lines(chart, 80, fine=True)
        assert fence.content.split("\n")[:-1] == drawn


@pytest.mark.parametrize(
    "address",
    ["http://example.org", "www.example.org", "WWW.example.org", "me@example.org", "mailto:me"],
)
def test_a_bare_address_is_broken_up(address: str) -> None:
    """A reader that makes links of addresses finds none in one piece."""
    assert address not in escaped(f"see {address} now")
    assert inside(PARSER.parse(escaped(address)), "paragraph") == [address]


def test_struck_and_levels_are_set_and_said() -> None:
    """A struck cell says so; what matters is strong; a plain cell is plain."""
    columns = (Column("A"), Column("B", 1, "right"), Column("C"))
    row = (Cell("gone", "struck"), Cell("!! call", "call"), Cell("plain"))

    assert one_document(Table(columns, (row,))).splitlines()[4:7] == [
        "| A | B | C |",
        "| --- | ---: | --- |",
        "| (struck) ~~gone~~ | **!! call** | plain |",
    ]


def test_a_table_without_rows_says_so() -> None:
    """No empty table: the sentence for nothing."""
    assert "\n\nNo pups yet.\n\n" in one_document(Table((Column("Pup"),), (), "No pups yet."))


@pytest.mark.parametrize("name", HAND_MADE)
def test_only_markdown_of_ours_is_known_as_ours(name: str) -> None:
    """Its last line tells; other forms and other files do not."""
    written = markdown_form(HAND_MADE[name])

    assert is_ours(written.encode())
    assert written.endswith(f"\n\n{MARK}\n")
    assert not is_ours(text.text_form(HAND_MADE[name]).encode())
    assert not is_ours(f"{written}and a line of mine\n".encode())
    assert not is_ours(b"")


def test_the_sample_reads_well_unparsed() -> None:
    """Usual words carry no needless strokes: what a person reads in an editor is plain."""
    written = markdown_form(SAMPLE)

    assert "| 4 | 03:31 | 1 h 36 min | bitch | 288 g | head first | weak, then well |" in written
    assert written.count("\\") < 8
