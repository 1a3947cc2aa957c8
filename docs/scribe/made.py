"""What stands between ``<!-- made: NAME -->`` and ``<!-- end -->`` in pages written by hand."""

import re
from collections import Counter
from collections.abc import Callable, Iterator
from decimal import Decimal

from boxlamp.desk.accounting import matter_of_file
from boxlamp.desk.files import read_record
from boxlamp.language import VOCABULARY
from boxlamp.language.details import FIELDS
from boxlamp.model.zones import zone_named
from boxlamp.outside import default_protocol
from boxlamp.paper.account.account import account_of
from boxlamp.paper.export.csv_tables import table
from boxlamp.protocol.records import SEEN_WORDS, BandRecord, LimitRecord
from boxlamp.rules.registry import RULES
from scribe.blocks import TOP

MARK = re.compile(r"(<!-- made: ([a-z-]+) -->\n).*?(<!-- end -->)", flags=re.DOTALL)
_PUBLISHED = frozenset("ATXS2LD")
"""Whatever somebody published, read by us or told by another; and what is derived from it."""


def renewed(text: str) -> str:
    """The page with every such part written anew."""
    return MARK.sub(lambda found: found[1] + "".join(
        f"{line}\n" for line in ("", *_PARTS[found[2]](), "")) + found[3], text)  # fmt: skip


def _evidence() -> Iterator[str]:
    """How far the values of the protocol were verified, counted."""
    protocol = default_protocol()
    total = len(protocol.records)
    counted = Counter(SEEN_WORDS[record.seen] for record in protocol.records)
    alerts = [
        record for record in protocol.records
        if isinstance(record, LimitRecord | BandRecord) and record.level != "prompt"
    ]  # fmt: skip
    by_level = Counter((record.level, record.seen in _PUBLISHED) for record in alerts)
    yield f"The protocol, limits {protocol.version}, holds {total} values:"
    yield ""
    yield from ("| how far it was verified | values | of 100 |", "|---|--:|--:|")
    for words in dict.fromkeys(SEEN_WORDS.values()):
        share = Decimal(100 * counted[words]) / total
        yield f"| {words} | {counted[words]} | {share:.0f} |"
    clocks = [one for one in alerts if isinstance(one, LimitRecord) and one.level == "watch"]
    own = sum(record.seen not in _PUBLISHED for record in clocks)
    yield ""
    yield f"Of the {len(clocks)} *watch* limits that run on a clock {own} are our choice, practice"
    yield "or from memory: early enough to get ready. Of all the limits that raise an alert:"
    yield from (
        "",
        "| level | published or derived | practice, memory or our choice |",
        "|---|--:|--:|",
    )
    for level in ("watch", "call", "go"):
        yield f"| {level} | {by_level[level, True]} | {by_level[level, False]} |"


def _never() -> Iterator[str]:
    """The rules that nobody can loosen."""
    for rule in RULES:
        if rule.never_relaxed:
            yield f"- [{rule.title}](../reference/rules.md#{rule.id})"


def _header() -> Iterator[str]:
    """The keys at the top of a night log."""
    yield from ("| key | looks like |", "|---|---|")
    for key, known in FIELDS.items():
        yield f"| `{key}` | `{known.example}` |"
    dated = {
        "date": "2026-03-02", "expected": "6 xray", "mated": "2025-12-28",
        "ovulation": "2025-12-30", "lh": "2025-12-29", "progesterone": "6.2 ng 2025-12-30",
        "dioestrus": "2026-01-06", "scan": "2026-02-01", "xray": "6 pups 2026-02-26",
        "lesson": "What the night teaches.",
    }  # fmt: skip
    yield from (f"| `{key}` | `{example}` |" for key, example in dated.items())


def _columns() -> Iterator[str]:
    """The columns of every CSV table."""
    account = account_of(matter_of_file(read_record(str(TOP / "demo" / "caesarean.night"))))
    yield from ("| table | columns |", "|---|---|")
    for name in ("pups", "weights", "timeline", "alerts"):
        first = table(account, name, zone_named(account.zone)).splitlines()[0]
        yield f"| `{name}` | {', '.join(f'`{column}`' for column in first.split(','))} |"


# A judge is named only where its test is: a sentence about one that is gone would be a lie.
_JUDGES = {
    "tests/judge/monitor.py": "A monitor of temporal logic (the library rtamt) is given "
    "the clocks told a second time, as formulas. It knows nothing of spells.",
    "tests/judge/counts/compare.py": "Counts, readings and dates are judged a second time from the "
    "catalogue of the rules, by code that shares nothing with them.",
    "tests/judge/counts/clips_judge.py": "A production system (the library CLIPS) judges counts "
    "and thresholds once more.",
    "tests/engine/test_known.py": "The slow and obvious way: the rules run anew at every moment at "
    "which anything turns must tell what the one quick pass tells.",
    "tests/cases": "Nights as they are typed state each alert with its second; one second before, "
    "it must not stand.",
    "tests/test_published.py": "Nights retold from published reports, each with its source.",
    "tests/rules/test_published_weights.py": "Published weights and growth.",
    "tests/planning/test_units_against_pint.py": "A library of units counts the units again.",
    "tests/planning/test_calendar.py": "Another library reads the calendar.",
    "tests/paper/forms/test_form_pdf.py": "Another library reads the PDF.",
    "tests/paper/forms/test_in_chromium.py": "A browser draws the HTML and prints it.",
    "tests/engine/test_corrections_machine.py": "Any chain of corrections is held against a "
    "dictionary of what stands.",
    "tests/attend/test_hearing_machine.py": "What sounds is held against a plain model of "
    "who heard what.",
    "tests/journal/test_journal_machine.py": "Anything that can be done to a journal, in any "
    "order, is held against a plain list.",
    "tests/journal/test_journal_kill.py": "The journal is killed in the middle of writing, again "
    "and again; what was confirmed must be there.",
    "tests/faults/test_each_step.py": "So it is at each single step of writing, and the disk "
    "refuses at each of them.",
    "tests/faults/test_poison.py": "No text that can be set acts on a terminal, a page or a sheet.",
    "tests/mutation.py": "The program is broken in one place at a time, and a test must notice.",
    "tests/fuzz/run.py": "A fuzzer led by coverage feeds the language and every reader of files.",
    "tests/cli/test_manual.py": "mandoc and groff read the manual page.",
    "tests/cli/test_completion.py": "bash, zsh and fish themselves ask for completion.",
    "tests/docs/test_documents.py": "Each line in these pages is typed, and each answer shown is "
    "compared with the one that is printed.",
}


def _judges() -> Iterator[str]:
    """Who checks the engine and what stands around it."""
    for path, says in _JUDGES.items():
        if (TOP / path).exists():
            yield f"- {says} (`{path}`)"


def _counts() -> Iterator[str]:
    """How much there is."""
    nights = len(list((TOP / "demo").glob("*.night")))
    yield f"{len(RULES)} rules, {len(VOCABULARY)} words, {nights} invented nights."


_PARTS: dict[str, Callable[[], Iterator[str]]] = {
    "evidence": _evidence,
    "never-relaxed": _never,
    "night-header": _header,
    "csv-columns": _columns,
    "judges": _judges,
    "counts": _counts,
}
