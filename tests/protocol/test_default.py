"""The protocol as shipped: every value has its rule, its words and its source."""

import pytest

from boxlamp.model.levels import ALERTS, Level
from boxlamp.protocol.records import SEEN_WORDS, Record
from boxlamp.rules.registry import BY_ID, RULES
from boxlamp.rules.rule import Rule
from support.nights import DEFAULT

RECORDS: list[Record] = list(DEFAULT.records)


def name_of(record: Record) -> str:
    clock, level = getattr(record, "clock", ""), getattr(record, "level", "setting")
    return f"{record.rule} {clock} {level}"


EACH_RECORD = pytest.mark.parametrize("record", RECORDS, ids=name_of)


@EACH_RECORD
def test_every_record_belongs_to_a_rule(record: Record) -> None:
    """No limit for a rule that nobody runs."""
    assert record.rule in BY_ID


@EACH_RECORD
def test_every_record_says_what_its_source_says(record: Record) -> None:
    """In a sentence of our own, with how far it was seen."""
    assert record.says.endswith(".")
    assert record.seen in SEEN_WORDS
    assert record.source or record.seen in {"C", "P", "M"}
    assert record.source or not record.place


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_every_rule_has_a_limit_or_a_band(rule: Rule) -> None:
    """A rule without one would never say anything."""
    assert any(key[0] == rule.id for key in [*DEFAULT.spans, *DEFAULT.bands])


def test_every_source_is_used_and_named() -> None:
    """No source without a value, no value from nowhere."""
    used = {record.source for record in RECORDS if record.source} | {DEFAULT.risk.source}
    assert used == set(DEFAULT.sources)
    assert all(source.title for source in DEFAULT.sources.values())


def test_the_rules_that_tighten_are_labour_rules() -> None:
    """Risk factors belong to labour, and to rules that exist."""
    assert set(DEFAULT.risk.rules) <= set(BY_ID)
    assert {BY_ID[rule].group for rule in DEFAULT.risk.rules} == {"labour"}


def test_every_labour_rule_but_none_other_is_tightened() -> None:
    """A labour rule that was forgotten in the list would wait too long for a pug."""
    labour = {rule.id for rule in RULES if rule.group == "labour"}
    assert set(DEFAULT.risk.rules) == labour


CATALOGUE = {
    ("waters-no-pup", "main"): "1h 2h 4h",
    ("sac-no-pup", "main"): "15min 30min 1h",
    ("contraction-no-pup", "main"): "15min 20min 30min",
    ("rest-no-pup", "main"): "- 20min 30min",
    ("weak-contraction-no-pup", "main"): "1h 2h 4h",
    ("weak-rest-no-pup", "main"): "- 2h 4h",
    ("part-showing", "main"): "- 0 5min",
    ("gap-more-expected", "main"): "90min 2h 4h",
    ("gap-count-unknown", "main"): "2h 4h -",
    ("second-stage-long", "main"): "6h 12h 24h",
    ("green-before-first-pup", "main"): "- 0 30min",
    ("foul-discharge", "main"): "- 0 -",
    ("log-quiet", "main"): "20min - -",
    ("temperature-drop-no-labour", "main"): "12h 24h 36h",
    ("temperature-back-no-labour", "main"): "0 2h -",
    ("first-stage-long", "main"): "12h 24h 36h",
    ("afterbirth-owed", "main"): "2h - -",
    ("afterbirths-behind", "main"): "0 - -",
    ("afterbirth-missing-at-end", "main"): "0 4h 12h",
    ("afterbirth-missing-at-end", "ill"): "- - 0",
    ("afterbirth-surplus", "main"): "0 - -",
    ("dam-hot", "again"): "- 0 -",
    ("dam-hot", "ill"): "- 0 -",
    ("dam-cold", "weak"): "- - 0",
    ("dam-collapse", "main"): "- - 0",
    ("dam-tremor", "main"): "- - 0",
    ("dam-vomiting", "main"): "- 0 -",
    ("dam-vomiting", "dull"): "- 0 -",
    ("green-after-whelping", "main"): "12h 24h -",
    ("lochia-long", "main"): "504h 1008h -",
    ("dam-off-food", "main"): "24h 36h -",
    ("udder", "main"): "- 0 -",
    ("udder", "dark"): "- - 0",
    ("vet-check-due", "main"): "24h - -",
    ("vet-check-due", "helped"): "- 48h -",
    ("sac-on-pup", "main"): "30s 60s -",
    ("not-breathing", "main"): "0 60s 5min",
    ("cord-bleeding", "main"): "0 2min -",
    ("first-milk", "main"): "2h 4h 8h",
    ("not-doubled", "main"): "240h - -",
    ("not-doubled", "late"): "- 336h -",
    ("not-doubled", "not-weighed"): "240h - -",
    ("litter-slow", "main"): "- 0 -",
}
"""The catalogue's limits once more, written by hand: watch, call, go."""

_UNITS = {"s": 1, "min": 60, "h": 3600}


def seconds(text: str) -> int:
    """``90min`` in seconds."""
    unit = text.lstrip("0123456789")
    return int(text.removesuffix(unit)) * _UNITS.get(unit, 1)


@pytest.mark.parametrize("key", CATALOGUE, ids=" ".join)
def test_the_limits_are_those_of_the_catalogue(key: tuple[str, str]) -> None:
    """A figure changed by a slip of the finger is found."""
    wanted = {
        level: seconds(text)
        for level, text in zip(ALERTS, CATALOGUE[key].split(), strict=True)
        if text != "-"
    }
    found = {
        level: int(span.total_seconds())
        for level, span in DEFAULT.spans[key].items()
        if level > Level.PROMPT
    }
    assert found == wanted
