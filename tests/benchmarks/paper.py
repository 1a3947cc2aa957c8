"""What the sheet for the vet costs: the account and each form, for 20, 200 and 2,000 entries.

Beside the seconds stands the ratio to one pass of the rules over the same entries, and the peak
memory of making each form in megabytes. Asserts nothing.
"""

import sys
import tracemalloc
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from support.accounts import READER, matter_of
from support.long_logs import median, night
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


def main() -> None:
    """Print one block per size."""
    for count in (20, 200, 2_000):
        _measure(night(count))


def _measure(entries: list[Entry]) -> None:
    matter = matter_of(entries, max(entry.at for entry in entries) + timedelta(minutes=5))
    account = account_of(matter)
    document = summary_of(account, READER)
    rules = median(lambda: assess(Story(entries), DEFAULT), 3)
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
