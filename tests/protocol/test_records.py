"""Reading a protocol file: what is refused, and in which words."""

from datetime import timedelta
from decimal import Decimal

import pytest

from boxlamp.model.levels import Level
from boxlamp.protocol.records import BandRecord, Protocol, ProtocolError, read_protocol

HEAD = """
version = "test"
repeat_go_minutes = 5
[risk]
rules = ["slow"]
watch_factor = 0.5
call_factor = 0.75
round_down_to = 300
few_pups = 2
many_pups = 10
old_first_litter_years = 4
light_grams = 5000
heavy_grams = 45000
flat_faced_breeds = ["pug"]
toy_breeds = ["papillon"]
says = "Words."
seen = "C"
checked = 2026-11-25
[sources.book]
title = "A book"
"""


def record(kind: str = "limit", **changes: object) -> str:
    """One record of a file, with these changes; None leaves a key out."""
    fields: dict[str, object] = {
        "limit": {"rule": "slow", "level": "watch", "value": 10, "unit": "min"},
        "band": {
            "rule": "hot", "level": "call", "when": "at or above", "value": 39.5, "unit": "°C"
        },
        "setting": {"rule": "slow", "name": "pause", "value": 2, "unit": "h"},
    }[kind]  # fmt: skip
    fields = {**fields, "says": "Words.", "seen": "C", **changes}
    lines = [
        f'{key} = "{value}"' if isinstance(value, str) else f"{key} = {value}"
        for key, value in fields.items()
        if value is not None
    ]
    return "\n".join([f"[[{kind}]]", *lines, "checked = 2026-11-25", ""])


GOOD = (record("limit"), record("band"), record("setting"))


def read(*records: str) -> Protocol:
    return read_protocol("\n".join([HEAD, *records]))


def refused(*records: str) -> str:
    with pytest.raises(ProtocolError) as caught:
        read(*records)
    assert caught.value.problems
    assert caught.value.exit_code == 2
    assert str(caught.value) == "\n".join(caught.value.problems)
    return str(caught.value)


def test_a_good_file_is_read() -> None:
    """Limits by rule and clock, bands and settings by their names, exactly as written."""
    protocol = read(*GOOD, record(level="call", value=0.5, unit="h"))
    assert protocol.spans == {
        ("slow", "main"): {Level.WATCH: timedelta(minutes=10), Level.CALL: timedelta(minutes=30)}
    }
    assert protocol.bands["hot", "main"][0].value == Decimal("39.5")
    assert protocol.numbers == {("slow", "pause"): Decimal(7200)}
    assert protocol.repeat_go == timedelta(minutes=5)
    assert len(protocol.records_of("slow")) == 3


def test_bad_toml_is_a_sentence() -> None:
    """With the line, and no traceback."""
    with pytest.raises(ProtocolError, match=r"not valid TOML.*line 2"):
        read_protocol("version = 1\nlimit = [,]\n")


def test_an_unknown_key_is_refused() -> None:
    """A misspelt key must not be passed over in silence."""
    assert "limit > 0 > sorce" in refused(record(sorce="book"), *GOOD[1:])


@pytest.mark.parametrize(
    ("change", "named"),
    [
        ({"level": "panic"}, "level"), ({"unit": "weeks"}, "unit"), ({"value": -1}, "value"),
        ({"seen": "Z"}, "seen"), ({"says": None}, "says"), ({"rule": None}, "rule"),
        ({"value": 1e300}, "value"), ({"value": 100_001}, "value"),
    ],
)  # fmt: skip
def test_a_wrong_value_is_refused_and_named(change: dict[str, object], named: str) -> None:
    """The sentence names the record and the field."""
    assert f"limit > 0 > {named}: " in refused(record("limit", **change), *GOOD[1:])


def test_a_missing_part_is_refused() -> None:
    """A file without limits at all, or without a version."""
    assert "limit: " in refused(*GOOD[1:])
    with pytest.raises(ProtocolError, match="version: "):
        read_protocol(HEAD.replace('version = "test"', "") + "\n".join(GOOD))


def test_an_unknown_source_is_refused() -> None:
    """A source must be listed before it is named."""
    assert refused(record(source="novel"), *GOOD[1:]) == "slow: there is no source named 'novel'."


def test_a_known_source_is_fine() -> None:
    """And then the value may be a published one."""
    assert read(record(source="book", seen="A"), *GOOD[1:]).limit[0].source == "book"


@pytest.mark.parametrize("seen", ["A", "X", "2", "T", "S", "L", "D"])
def test_a_published_value_needs_its_source(seen: str) -> None:
    """Only our choice, common practice and memory may come without one."""
    said = "a value without a source must be marked C, P or M"
    assert said in refused(record(seen=seen), *GOOD[1:])


@pytest.mark.parametrize("kind", ["limit", "band", "setting"])
def test_the_same_thing_stated_twice_is_refused(kind: str) -> None:
    """Of two limits for one level nobody knows which holds."""
    assert "stated twice" in refused(*GOOD, record(kind, value=41))


def test_the_same_level_on_another_clock_is_another_thing() -> None:
    """Each clock of a rule has its own limits."""
    assert len(read(*GOOD, record(clock="other")).spans) == 2


def test_levels_must_come_in_order() -> None:
    """A higher level may come together with a lower one, and never before it."""
    assert "higher level comes before" in refused(*GOOD, record(level="call", value=9))
    together = read(*GOOD, record(level="call", value=10))
    assert len(together.spans["slow", "main"]) == 2


def test_every_problem_is_told_at_once() -> None:
    """A person corrects a file once, and not once per problem."""
    said = refused(*GOOD, record(source="novel", clock="b"), record(level="go", value=1))
    assert len(said.splitlines()) == 2


@pytest.mark.parametrize(
    ("when", "holds"),
    [
        ("at or above", (False, True, True)), ("above", (False, False, True)),
        ("at or below", (True, True, False)), ("below", (True, False, False)),
    ],
)  # fmt: skip
def test_bands_at_their_boundary(when: str, holds: tuple[bool, ...]) -> None:
    """A tenth below, at, and a tenth above."""
    band = BandRecord.model_validate(
        {
            "rule": "hot", "level": "call", "when": when, "value": "39.5", "unit": "°C",
            "says": "Words.", "seen": "C", "checked": "2026-11-25",
        }
    )  # fmt: skip
    readings = (Decimal("39.4"), Decimal("39.5"), Decimal("39.6"))
    assert tuple(band.holds(reading) for reading in readings) == holds
