"""What the alerts rest on: the limits in force, who changed one, the sources, the digest."""

import re
from collections.abc import Iterator

from boxlamp.model.quantities import plain
from boxlamp.model.spans import in_words
from boxlamp.paper.account.evidence import LimitAccount
from boxlamp.paper.account.models import Account
from boxlamp.paper.document import Cell, Column, Facts, Points, Section, Table, Words
from boxlamp.paper.reader import Reader
from boxlamp.protocol.records import SEEN_WORDS
from boxlamp.rules.registry import BY_ID
from boxlamp.view.text import counted

_OUR_CHOICE = SEEN_WORDS["C"]
# Clocks whose name alone would be an abbreviation.
_CLOCKS = {"lh": "from the LH peak", "scan": "by scan", "late-scan": "by late scan"}
_LEVELS = ("watch", "call", "go")


def limits_section(account: Account, reader: Reader) -> Section:
    """The limits that judged this litter, and any that were changed on somebody's word."""
    numbered = _numbered(account)
    groups: dict[tuple[str, str], list[LimitAccount]] = {}
    for limit in _told(account):
        groups.setdefault((limit.rule, limit.clock), []).append(limit)
    columns = (
        Column("Watched", 3.6), Column("Watch", 1.6), Column("Call the vet", 1.6),
        Column("Go to the vet", 1.6), Column("Rests on", 2.6),
    )  # fmt: skip
    rows = tuple(_row(limits, reader, numbered) for limits in groups.values())
    lead = Words(
        f"Protocol {account.protocol}. Only what had something to watch in this litter is listed. "
        "Numbers in brackets name the sources below, with how far each was verified. Where a "
        "limit differs from the protocol's own, that stands beside it, and the source is its.",
        "dim",
    )
    return Section("Limits in force", (*_changes(account, reader), lead, Table(columns, rows)))


def _told(account: Account) -> list[LimitAccount]:
    """The limits that raise an alert. When to remind somebody is nothing a vet asks for."""
    return [limit for limit in account.limits if limit.level != "prompt"]


def _numbered(account: Account) -> dict[str, int]:
    """The number of each source that a limit rests on. Our own choice rests on none."""
    cited = [limit.source for limit in _told(account) if limit.seen != _OUR_CHOICE]
    keys = [source.key for source in account.sources if source.key in cited]
    return {key: place for place, key in enumerate(keys, start=1)}


def _changes(account: Account, reader: Reader) -> Iterator[Points | Words]:
    if not account.changes:
        yield Words("No limit was changed on anybody's word.")
    if account.dam.risks:
        risks = reader.sentence(", ".join(account.dam.risks))
        yield Words(f"Tightened by this program for: {risks}.")
    if not account.changes:
        return
    yield Points(
        tuple(
            Cell(
                f"{'Refused, never relaxed' if change.refused else 'Changed'}: "
                f"{title_of(change.rule)}, {change.level} at {in_words(change.span)}, on the word "
                f"of {change.by}, {reader.moment(change.at)}: {change.why}",
                "strong",
            )
            for change in account.changes
        )
    )


def title_of(rule: str) -> str:
    """A rule's title; a rule nobody knows keeps its name."""
    return BY_ID[rule].title if rule in BY_ID else rule


def _row(limits: list[LimitAccount], reader: Reader, numbered: dict[str, int]) -> tuple[Cell, ...]:
    first = limits[0]
    clock = "" if first.clock == "main" else f" ({_clock(first.clock)})"
    changed = any(limit.own is not None for limit in limits)
    cells = [Cell(f"{first.title}{clock}")]
    for level in _LEVELS:
        told = [limit_words(limit, reader) for limit in limits if limit.level == level]
        cells.append(Cell("; ".join(told), "strong" if changed and told else ""))
    cells.append(Cell("; ".join(dict.fromkeys(_rests_on(limit, numbered) for limit in limits))))
    return tuple(cells)


def _clock(name: str) -> str:
    """A clock's name in words: ``day-3-14`` is ``day 3 to 14``."""
    spans = re.sub(r"(?<=\d)-(?=\d)", " to ", name)
    return _CLOCKS.get(name, spans.replace("-", " "))


def limit_words(limit: LimitAccount, reader: Reader) -> str:
    """``20 min``; ``at once``; ``15 min (not 20 min)``; ``at or above 39.5 °C``."""
    if limit.span is None:
        return f"{limit.when} {_value(limit, reader)}"
    span = in_words(limit.span) if limit.span else "at once"
    return span if limit.own is None else f"{span} (usually {in_words(limit.own)})"


def _value(limit: LimitAccount, reader: Reader) -> str:
    if limit.value is None:
        return ""
    return reader.sentence(f"{plain(limit.value)} {limit.unit}").strip()


def _rests_on(limit: LimitAccount, numbered: dict[str, int]) -> str:
    place = numbered.get(limit.source) if limit.seen != _OUR_CHOICE else None
    return f"[{place}] {limit.seen}" if place else limit.seen


def sources_section(account: Account) -> Section:
    """The sources of those limits, numbered as they are cited."""
    numbered = _numbered(account)
    items = tuple(
        Cell(f"[{numbered[source.key]}] {source.title}{'. ' if source.where else ''}{source.where}")
        for source in account.sources
        if source.key in numbered
    )
    return Section("Sources", (Points(items),) if items else (Words("None."),))


def closing_section(account: Account) -> Section:
    """The cautions, and the fingerprint by which this paper can be held against the journal."""
    digest = account.digest
    covered = counted(digest.entries, "entry", "entries")
    facts = Facts(
        (
            ("Record", f"litter {account.litter}, {covered}"),
            ("Fingerprint", f"{digest.sha256} (SHA-256)"),
        )
    )
    told = Words(
        "The fingerprint is worked out from every entry of the record in its order: the same "
        "record gives the same one, and one letter changed gives another. Its beginning stands at "
        "the foot of every page. Whether a record is whole is checked by: boxlamp verify.",
        "dim",
    )
    cautions = Points(tuple(Cell(caution, "caution") for caution in account.cautions))
    return Section("Cautions and fingerprint", (cautions, facts, told))
