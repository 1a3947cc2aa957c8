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
    yield ""
    yield "Of the limits that raise an alert:"
    yield from ("", "| level | published or derived | practice, memory or our choice |", "|---|--:|--:|")
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


def _counts() -> Iterator[str]:
    """How much there is."""
    nights = len(list((TOP / "demo").glob("*.night")))
    yield f"{len(RULES)} rules, {len(VOCABULARY)} words, {nights} invented nights."


_PARTS: dict[str, Callable[[], Iterator[str]]] = {
    "evidence": _evidence,
    "never-relaxed": _never,
    "night-header": _header,
    "csv-columns": _columns,
    "counts": _counts,
}
