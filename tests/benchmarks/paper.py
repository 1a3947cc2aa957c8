"""What the sheet for the vet costs: the account and each form, for 20, 200 and 2,000 entries.

Beside the seconds stands the ratio to one pass of the rules over the same entries, and the peak
memory of making each form in megabytes. Asserts nothing.
"""

import io
import sys
import tracemalloc
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

from pypdf import PdfReader
from reportlab.pdfgen.canvas import Canvas

sys.path.insert(0, str(Path(__file__).parents[1]))

from support.accounts import READER, matter_of
from support.long_logs import litter_of, median, night
from support.nights import DEFAULT

from boxlamp.engine import assess
from boxlamp.model.entry import Entry
from boxlamp.model.story import Story
from boxlamp.paper.account.account import account_of
from boxlamp.paper.call_sheet.sheet import call_sheet
from boxlamp.paper.forms.html import html_form
from boxlamp.paper.forms.markdown import markdown_form
from boxlamp.paper.forms.pdf import pdf_form
from boxlamp.paper.forms.text import text_form
from boxlamp.paper.summary.summary import summary_of

_MEGABYTE = 1_000_000


def peak(work: Callable[[], object]) -> float:
    """The most memory in use while it worked, in megabytes."""
    tracemalloc.start()
    work()
    _, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    return most / _MEGABYTE


def measure(pups: int = 14, runs: int = 7) -> dict[str, float]:
    """The summary of a whelping of 14 pups as a PDF, beside bare pages of the same text."""
    entries = litter_of(pups)
    matter = matter_of(entries, entries[-1].at + timedelta(minutes=5))

    def whole() -> bytes:
        return pdf_form(summary_of(account_of(matter), READER), "a4")

    reader = PdfReader(io.BytesIO(whole()))
    pages = [page.extract_text().splitlines() for page in reader.pages]
    made, bare = median(whole, runs), median(lambda: _bare(pages), runs)
    return {
        "pups": pups,
        "entries": len(entries),
        "pages": len(pages),
        "summary as PDF, ms": 1000 * made,
        "bare pages of the same text, ms": 1000 * bare,
        "summary / bare pages": made / bare,
        "summary / one pass of the rules": made / median(lambda: _judged(entries), runs),
        "memory while it is made, MB": peak(whole),
    }


def _bare(pages: list[list[str]]) -> bytes:
    """The same words drawn by the library alone, a line below a line."""
    target = io.BytesIO()
    canvas = Canvas(target)
    for lines in pages:
        for place, line in enumerate(lines):
            canvas.drawString(40, 800 - 9 * place, line)
        canvas.showPage()
    canvas.save()
    return target.getvalue()


def _judged(entries: list[Entry]) -> object:
    return assess(Story(entries), DEFAULT).lives


def main() -> None:
    """Print one block per size, then the figures of a large litter."""
    for count in (20, 200, 2_000):
        _block(night(count))
    for name, figure in measure().items():
        sys.stdout.write(f"{name:<40}{figure:>10.2f}\n")


def _block(entries: list[Entry]) -> None:
    matter = matter_of(entries, max(entry.at for entry in entries) + timedelta(minutes=5))
    account = account_of(matter)
    document = summary_of(account, READER)
    rules = median(lambda: _judged(entries), 3)
    work: dict[str, Callable[[], object]] = {
        "call sheet": lambda: call_sheet(matter.verdict, READER),
        "account": lambda: account_of(matter),
        "document": lambda: summary_of(account, READER),
        "text": lambda: text_form(document),
        "markdown": lambda: markdown_form(document),
        "html": lambda: html_form(document),
        "pdf": lambda: pdf_form(document, "a4"),
    }
    sys.stdout.write(f"{len(entries)} entries: one pass of the rules {rules * 1000:.1f} ms\n")
    for name, one in work.items():
        spent = median(one, 3)
        sys.stdout.write(
            f"  {name:<10} {spent * 1000:8.1f} ms {spent / rules:7.2f} x rules"
            f" {peak(one):8.1f} MB\n"
        )


if __name__ == "__main__":
    main()
