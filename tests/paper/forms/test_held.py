"""A telephone number is never over two lines of any form, and reads back as it was typed."""

import io
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfReader

from boxlamp.paper.document import Cell, Document, Facts, Points, Section, Words
from boxlamp.paper.forms.held import held, loosed
from boxlamp.paper.forms.html import html_form
from boxlamp.paper.forms.pdf import pdf_form
from boxlamp.paper.forms.text import text_form

# From the ranges that are kept free for invented people, as for British drama.
NUMBERS = (
    "+44 (0)7700 900 456",
    "020 7946 0958",
    "(01632) 960 123",
    "+1 202 555 0143",
    "(202) 555-0143",
    "202 555 0143",
)
NUMBER = pytest.mark.parametrize("number", NUMBERS)


def paper(words: str) -> Document:
    """The same words as a fact, a paragraph and a point."""
    blocks = (Facts((("Vet", words),)), Words(words), Points((Cell(words),)))
    return Document("Title", "line", (Section("One", blocks),), "foot")


@NUMBER
def test_no_line_of_a_text_ends_inside_a_number(number: str) -> None:
    """However wide the screen is, as long as the number fits on it."""
    for lead in range(0, 60, 3):
        for width in (40, 63, 80):
            told = text_form(paper(f"{'x' * lead} Dr Hale, {number}, 20 min away"), width)
            assert told.count(number) == 3


@NUMBER
def test_no_line_of_a_page_ends_inside_a_number(number: str) -> None:
    """And what is copied from it is the number as it was typed."""
    for lead in range(20, 120, 9):
        told = PdfReader(io.BytesIO(pdf_form(paper(f"{'x ' * lead}{number}, near")))).pages[0]
        lines = told.extract_text().split("\n")
        assert sum(number in line for line in lines) == 3


@NUMBER
def test_a_browser_keeps_a_number_whole_and_gives_it_back(number: str) -> None:
    """Its words are those that were typed; only where they may part is said."""
    page = html_form(paper(f"Dr Hale, {number}, 20 min away"))
    assert page.count(f'<span class="whole">{number},</span>') == 3
    assert f"Dr Hale, {number}, 20 min away" in re.sub("<[^>]*>", "", page)


@pytest.mark.parametrize(
    "words",
    ["02:14 to 02:35", "28 Nov 20:50", "2026-03-02 02:14", "0 min 12 g 300 g", "02 03 04",
     "826098100001237 4 May", "pup 1 0 2", "312 g 300 g 280 g"],
)  # fmt: skip
def test_times_dates_and_weights_are_no_numbers_to_ring(words: str) -> None:
    """They part as any other words do."""
    assert held(words, lambda _number: True) == words


@given(st.text(st.sampled_from("+0123456789 ()-./:,ab"), max_size=60), st.integers(0, 30))
def test_holding_changes_no_word(text: str, width: int) -> None:
    """Whatever is typed reads back, and nothing wider than a line is held."""
    kept = held(text, lambda number: len(number) <= width)
    assert loosed(kept) == text
    assert all(len(part) <= width or " " not in loosed(part) for part in kept.split(" "))
