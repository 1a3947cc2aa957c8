"""A rule's page: what the module says, and its limits with their evidence from the protocol."""

from collections.abc import Iterator
from datetime import timedelta
from decimal import Decimal
from typing import Any

from boxlamp.model.quantities import plain
from boxlamp.model.spans import in_words
from boxlamp.protocol.records import (
    SEEN_WORDS,
    BandRecord,
    FormulaRecord,
    LimitRecord,
    Protocol,
    Record,
    SettingRecord,
    seconds_in,
)
from boxlamp.rules.page import read_page
from boxlamp.rules.rule import Rule
from boxlamp.view.text import wrap

_WIDTH = 78


def rule_lines(rule: Rule, protocol: Protocol) -> Iterator[str]:
    """The page of one rule as text."""
    page = read_page(rule.page)
    never = "; never relaxed" if rule.never_relaxed else ""
    yield f"{rule.id}: {page.title}"
    yield f"({rule.group}{never})"
    for heading, words in (
        ("What it watches", page.watches),
        ("Why it matters", page.matters),
        ("What to do", page.todo),
    ):
        yield ""
        yield heading
        yield from (f"  {line}" for line in wrap(words[:1].upper() + words[1:], _WIDTH - 2))
    yield ""
    yield "When it fires"
    for record in protocol.records_of(rule.id):
        yield from _record(record, protocol)
    if rule.id in protocol.risk.rules:
        yield from (f"  {line}" for line in wrap(risk_words(protocol), _WIDTH - 2))
    yield ""
    yield "Example"
    yield from (f"  {line}" for line in page.example.splitlines())


def risk_words(protocol: Protocol) -> str:
    """How a risk factor tightens the labour limits, in one sentence."""
    risk = protocol.risk
    return (
        f"A risk factor multiplies watch by {plain(risk.watch_factor)} and call and go by "
        f"{plain(risk.call_factor)}, rounded down to "
        f"{in_words(timedelta(seconds=risk.round_down_to))} and never below that. {risk.says}"
    )


def _record(record: Record, protocol: Protocol) -> Iterator[str]:
    yield f"  {when_words(record)}"
    formula = f"{formula_words(record)} " if isinstance(record, FormulaRecord) else ""
    evidence = f"{formula}{record.says} [{SEEN_WORDS[record.seen]}; checked {record.checked}]"
    yield from (f"      {line}" for line in wrap(evidence, _WIDTH - 6))
    if record.source:
        source = protocol.sources[record.source]
        place = f" ({record.place})" if record.place else ""
        cited = f"Source: {source.title}{place}. {source.where}"
        yield from (f"      {line}" for line in wrap(cited, _WIDTH - 6))


def when_words(record: Record) -> str:
    """What one record asks for: ``call: at 20 min or more``."""
    match record:
        case LimitRecord(clock=clock, level=level, value=value, unit=unit):
            which = "" if clock == "main" else f" ({clock})"
            when = "at once" if value == 0 else f"at {plain(value)} {unit} or more"
            return f"{level}{which}: {when}"
        case BandRecord(clock=clock, level=level, when=when, value=value, unit=unit):
            which = "" if clock == "main" else f" ({clock})"
            return f"{level}{which}: {when} {plain(value)} {unit}"
        case SettingRecord(name=name, value=value, unit=unit):
            return f"{name}: {plain(value)} {unit}"
        case FormulaRecord(name=name):
            return f"{name}: days left = {record.written_out}"
        case _:
            return record.rule


def formula_words(record: FormulaRecord) -> str:
    """For which dogs a formula is, where it holds, and whether alarms rest on it."""
    most = "" if record.most_days is None else f" and at most {plain(record.most_days)}"
    seen = " (from memory)" if record.within_seen == "M" else ""
    drives = "" if record.drives else " Shown only: no alarm counts from it."
    return (
        f"For {record.dogs}, where at least {plain(record.fewest_days)}{most} days are left; "
        f"within {record.within} days{seen}.{drives}"
    )


def rule_json(rule: Rule, protocol: Protocol) -> dict[str, Any]:
    """The same page for other programs."""
    page = read_page(rule.page)
    return {
        "schema": 1,
        "rule": rule.id,
        "group": rule.group,
        "title": page.title,
        "never_relaxed": rule.never_relaxed,
        "watches": page.watches,
        "matters": page.matters,
        "todo": page.todo,
        "example": page.example,
        "limits": [_record_json(record, protocol) for record in protocol.records_of(rule.id)],
    }


def _record_json(record: Record, protocol: Protocol) -> dict[str, Any]:
    data = record.model_dump(mode="json", exclude={"rule", "source"})
    source = protocol.sources.get(record.source)
    data["source"] = source.model_dump() if source else None
    data |= {name: float(value) for name, value in record if isinstance(value, Decimal)}
    if isinstance(record, LimitRecord):
        data["seconds"] = float(record.value) * seconds_in(record.unit)
    return data
