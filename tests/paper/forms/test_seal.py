"""The seal of a file: it tells exactly what was written from everything else."""

import io
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfReader

from boxlamp.paper.forms.html import html_form
from boxlamp.paper.forms.pdf import pdf_form
from boxlamp.paper.forms.seal import Kind, bears_seal, sealed
from support.documents import SAMPLE

KINDS: tuple[Kind, ...] = get_args(Kind)


@given(st.binary(max_size=300), st.sampled_from(KINDS), st.sampled_from(KINDS))
def test_what_was_sealed_bears_its_seal(content: bytes, kind: Kind, other: Kind) -> None:
    """Whatever it says; and a paper of another kind does not."""
    body = content.replace(b"\r", b"")
    assert bears_seal(sealed(body, kind), kind)
    assert bears_seal(sealed(body, kind), other) == (kind == other)
    assert sealed(body, kind).startswith(body)


@given(st.binary(min_size=1, max_size=99), st.sampled_from(KINDS), st.data())
def test_any_change_breaks_it(content: bytes, kind: Kind, data: st.DataObject) -> None:
    """A letter changed, put in or taken out anywhere, or something written under it."""
    written = sealed(content.replace(b"\r", b""), kind)
    place = data.draw(st.integers(0, len(written) - 2))
    letter = b"x" if written[place : place + 1] != b"x" else b"y"
    for changed in (
        written[:place] + letter + written[place + 1 :],
        written[:place] + letter + written[place:],
        written[:place] + written[place + 1 :],
        written + b"a line of mine\n",
        written[: -place - 2],
    ):
        assert not bears_seal(changed, kind) or changed == written


@pytest.mark.parametrize("content", [b"", b"\n", b"Boxlamp", b"\xff\xfe\x00", b"[Boxlamp x.txt]\n",
                                     b"[Boxlamp summary.txt " + b"0" * 32 + b"]\n"])  # fmt: skip
@pytest.mark.parametrize("kind", KINDS)
def test_other_files_bear_none(content: bytes, kind: Kind) -> None:
    """Nor does a mention of the program, or a seal that somebody made up."""
    assert not bears_seal(content, kind)


def test_the_ends_of_lines_do_not_count() -> None:
    """A text that came through another system is still the text that was written."""
    assert bears_seal(sealed(b"a\nb\n", "summary.txt").replace(b"\n", b"\r\n"), "summary.txt")


def test_the_forms_stay_what_they_are() -> None:
    """A sealed PDF opens with the same pages, and a sealed page ends in a comment."""
    pdf = pdf_form(SAMPLE)
    pages = [
        [page.extract_text() for page in PdfReader(io.BytesIO(content), strict=True).pages]
        for content in (pdf, sealed(pdf, "summary.pdf"))
    ]

    assert pages[0] == pages[1]
    [*_, last] = sealed(html_form(SAMPLE).encode(), "summary.html").splitlines()
    assert last.startswith(b"<!-- Boxlamp summary.html ")
    assert last.endswith(b" -->")
