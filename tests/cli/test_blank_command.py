import io
import os
import pty
import subprocess
from pathlib import Path

import pytest
from pypdf import PdfReader

from support.calls import PROGRAM, Caller, started, surroundings
from support.nights import DEMO


def text_of(content: bytes) -> str:
    return "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(content)).pages)


def test_it_works_before_there_is_any_litter(call: Caller, tmp_path: Path) -> None:
    """On a new machine it gives the shipped limits, and makes no journal."""
    file = tmp_path / "sheet.pdf"
    said = call("blank-sheet", "-o", file)

    assert (said.code, said.out) == (0, "")
    assert f"Wrote {file}." in said.err
    assert "Strong contractions, no pup" in text_of(file.read_bytes())
    assert not call.journal.parent.exists()


def test_a_journal_without_a_litter_will_do(call: Caller, tmp_path: Path) -> None:
    """An empty journal is as good as none."""
    call("litters")
    call.good("blank-sheet", "-o", tmp_path / "sheet.pdf")

    assert "Whelping sheet" in text_of((tmp_path / "sheet.pdf").read_bytes())


def test_with_a_litter_it_has_her_limits_and_numbers(bramble: Caller, tmp_path: Path) -> None:
    """The litter in use gives the vet's numbers and the limits as the vet has changed them."""
    bramble.good("log", "limit gap-more-expected call 3h by Dr Novak; calm and strong")
    bramble.good("blank-sheet", "-o", tmp_path / "sheet.pdf")
    text = text_of((tmp_path / "sheet.pdf").read_bytes())

    assert "Whelping sheet: Bramble" in text
    assert "000 555 010" in text
    assert "3 h *" in text
    assert "* On the word of Dr Novak." in text


def test_a_litter_that_is_not_there_is_refused(bramble: Caller, tmp_path: Path) -> None:
    """A litter that is named must be there."""
    said = bramble("blank-sheet", "--litter", "nobody", "-o", tmp_path / "sheet.pdf")

    assert said.code == 2
    assert not (tmp_path / "sheet.pdf").exists()


@pytest.mark.parametrize(("page", "size"), [("a4", (595, 842)), ("letter", (612, 792))])
def test_paper_of_either_size(
    call: Caller, tmp_path: Path, page: str, size: tuple[int, int]
) -> None:
    """A4 unless Letter is asked for."""
    call.good("blank-sheet", "-o", tmp_path / "sheet.pdf", *(["--page", page] * (page != "a4")))
    box = PdfReader(tmp_path / "sheet.pdf").pages[0].mediabox

    assert (round(box.width), round(box.height)) == size


def test_its_own_sheet_is_replaced_and_nothing_else(call: Caller, tmp_path: Path) -> None:
    """A second sheet takes the place of the first; a file of somebody else's stays as it is."""
    sheet, letter = tmp_path / "sheet.pdf", tmp_path / "letter.pdf"
    letter.write_bytes(b"%PDF-1.4 a letter")
    call.good("blank-sheet", "-o", sheet)
    call.good("blank-sheet", "-o", sheet, "--page", "letter")
    said = call("blank-sheet", "-o", letter)

    assert round(PdfReader(sheet).pages[0].mediabox.width) == 612
    assert said.code == 2
    assert "was not written by this command" in said.err
    assert letter.read_bytes() == b"%PDF-1.4 a letter"


def test_a_summary_is_no_sheet_to_replace(call: Caller, tmp_path: Path) -> None:
    """Both are PDFs of this program, and neither takes the place of the other."""
    night, sheet = tmp_path / "night.pdf", tmp_path / "sheet.pdf"
    call.good("summary", DEMO / "stalled-labour.night", "-o", night)
    call.good("blank-sheet", "-o", sheet)
    kept = night.read_bytes(), sheet.read_bytes()

    assert call("blank-sheet", "-o", night).code == 2
    assert call("summary", DEMO / "stalled-labour.night", "-o", sheet).code == 2
    assert (night.read_bytes(), sheet.read_bytes()) == kept


@pytest.mark.parametrize("words", [(), ("-o", "-")])
def test_it_goes_to_standard_output(tmp_path: Path, words: tuple[str, ...]) -> None:
    """Without a file the bytes of the PDF go on, and nothing else with them."""
    said = started("blank-sheet", *words, journal=tmp_path / "journal.db")

    assert (said.returncode, said.stderr) == (0, b"")
    assert said.stdout.startswith(b"%PDF-")
    assert said.stdout.endswith(b"%%EOF\n")
    assert "What you saw" in text_of(said.stdout)


def test_a_terminal_gets_a_sentence_instead(tmp_path: Path) -> None:
    """Bytes that would only disturb a terminal are not sent there; it says what to type."""
    ours, theirs = pty.openpty()
    try:
        said = subprocess.run(
            [PROGRAM, "blank-sheet"], stdout=theirs, stderr=subprocess.PIPE, check=False,
            env=surroundings(tmp_path / "journal.db"),
        )  # fmt: skip
        os.set_blocking(ours, False)
        with pytest.raises(BlockingIOError):
            os.read(ours, 1)
    finally:
        os.close(ours)
        os.close(theirs)

    assert said.returncode == 2
    assert said.stderr.decode().count("\n") == 1
    assert "-o FILE.pdf" in said.stderr.decode()


def test_units_of_another_country(call: Caller, tmp_path: Path) -> None:
    """Temperatures and weights are told in the units asked for."""
    call.good("blank-sheet", "-o", tmp_path / "sheet.pdf", "--temperature-unit", "F",
              "--weight-unit", "oz")  # fmt: skip
    text = text_of((tmp_path / "sheet.pdf").read_bytes())

    assert "from 103.1 °F" in text
    assert "°C" not in text


def test_as_many_pages_of_log_as_asked_for(call: Caller, tmp_path: Path) -> None:
    """Two unless another number is given; none is no log."""
    pages = []
    for words in ((), ("--log-pages", "1"), ("--log-pages", "4")):
        call.good("blank-sheet", "-o", tmp_path / "sheet.pdf", *words)
        pages.append(len(PdfReader(tmp_path / "sheet.pdf").pages))
    said = call("blank-sheet", "-o", tmp_path / "none.pdf", "--log-pages", "0")

    assert pages == [4, 3, 6]
    assert said.code == 2
    assert not (tmp_path / "none.pdf").exists()


def test_a_name_that_cannot_be_printed_is_left_to_the_pen(call: Caller, tmp_path: Path) -> None:
    """The sheet has no other form, so it asks for a pen where the typeface lacks a character."""
    call.good("new", "--dam", "漢字")
    call.good("blank-sheet", "-o", tmp_path / "sheet.pdf")
    text = " ".join(text_of((tmp_path / "sheet.pdf").read_bytes()).split())

    assert "could not be printed here" in text
    assert "Write them in with a pen." in text
    assert "HTML" not in text
