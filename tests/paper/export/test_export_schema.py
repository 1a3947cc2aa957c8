"""The published shape of the JSON export is true of every litter there is, and of nothing else."""

import csv
import io
import json
import re
from collections.abc import Callable, Iterator
from datetime import UTC
from functools import cache
from typing import Any, get_args

import pytest
from hypothesis import HealthCheck, given, settings
from jsonschema import Draft202012Validator

from boxlamp.desk.accounting import matter_of_file
from boxlamp.desk.files import Record
from boxlamp.model.entry import Entry
from boxlamp.paper.account.account import account_of
from boxlamp.paper.export.csv_tables import TableName, table
from boxlamp.paper.export.json_form import json_form
from boxlamp.paper.export.schema import schema
from support.accounts import matter_of
from support.happenings import NOW, records
from support.nights import CASES, DEMO, Case, chapters

FILES = sorted([*DEMO.glob("*.night"), *(CASES / "published").glob("*.night")])
NIGHTS = [case for path in FILES for case in chapters(path)]
SCHEMA = schema()
VALIDATOR = Draft202012Validator(SCHEMA, format_checker=Draft202012Validator.FORMAT_CHECKER)
Change = Callable[[dict[str, Any]], object]


@cache
def exported(case: Case) -> str:
    return json_form(account_of(matter_of(case.night.entries)))


def nodes(node: object, path: str = "") -> Iterator[tuple[str, dict[str, Any]]]:
    """Every object of a JSON value with the way to it."""
    pairs: list[tuple[object, object]] = []
    if isinstance(node, dict):
        yield path, node
        pairs = list(node.items())
    elif isinstance(node, list):
        pairs = list(enumerate(node))
    for key, value in pairs:
        yield from nodes(value, f"{path}/{key}")


def test_it_is_a_schema() -> None:
    """It keeps to its own dialect and bears a name that is no address."""
    Draft202012Validator.check_schema(SCHEMA)
    assert SCHEMA["$schema"] == Draft202012Validator.META_SCHEMA["$id"]
    assert re.fullmatch(r"urn:uuid:[0-9a-f-]{36}", SCHEMA["$id"])


@pytest.mark.parametrize("case", NIGHTS, ids=lambda case: case.name)
def test_every_night_is_of_this_shape(case: Case) -> None:
    """Each demo night and each published one, at its end."""
    found = [error.message for error in VALIDATOR.iter_errors(json.loads(exported(case)))]

    assert not found


@given(records().filter(bool))
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_any_record_is_of_this_shape(entries: tuple[Entry, ...]) -> None:
    """Every kind of entry, corrections of any kind, hostile text, any zone and any year."""
    matter = matter_of_file(Record("ash", "Ash", NOW, entries))
    account = account_of(matter)

    assert [error.message for error in VALIDATOR.iter_errors(json.loads(json_form(account)))] == []
    for name in get_args(TableName):
        read = list(csv.reader(io.StringIO(table(account, name, UTC), newline=""), strict=True))
        assert {len(row) for row in read} == {len(read[0])}


def _drop(*path: str | int) -> Change:
    return lambda read: _inside(read, path).pop(path[-1])


def _put(value: object, *path: str | int) -> Change:
    return lambda read: _inside(read, path).__setitem__(path[-1], value)


def _inside(read: Any, path: tuple[str | int, ...]) -> Any:  # noqa: ANN401 - any JSON value
    for key in path[:-1]:
        read = read[key]
    return read


@pytest.mark.parametrize(
    "change",
    [
        _drop("dam"), _drop("dam", "breed"), _drop("pups", 0, "died"), _drop("digest", "sha256"),
        _drop("timeline", 0, "typed", "what", "kind"), _put(2, "schema"), _put("x", "more"),
        _put("312 g", "pups", 0, "birth_weight_g"), _put("x", "pups", 0, "more"),
        _put("cat", "pups", 0, "sex"), _put("soon", "alerts", 0, "level"),
        _put("tonight", "at"), _put("2026-03-02 02:14", "pups", 0, "born"),
        _put(1.5, "alerts", 0, "limit_s"), _put("run", "timeline", 0, "typed", "what", "kind"),
        _put(None, "timeline", 0, "typed"), _put([1, 2], "afterbirths"),
    ],
)  # fmt: skip
def test_what_is_otherwise_is_refused(change: Change) -> None:
    """A field missing, added, of another kind or of no known word: the schema says no."""
    case = next(case for case in NIGHTS if case.name.startswith("stalled-labour"))
    read = json.loads(exported(case))
    assert VALIDATOR.is_valid(read)
    change(read)

    assert not VALIDATOR.is_valid(read)


def test_every_number_says_its_unit() -> None:
    """A weight, a temperature, a length of time: the description of each says in what."""
    said = 0
    for path, node in nodes(SCHEMA):
        kinds = {one.get("type") for one in (node, *node.get("anyOf", ()))}
        is_property = path.split("/")[-2:-1] == ["properties"]
        if is_property and ("number" in kinds or path.endswith(("_s", "_minutes", "/seconds"))):
            assert re.search(r"\bIn (whole )?\w|\bin ng/mL", node["description"]), path
            said += 1
    assert said > 20


def test_every_time_is_said_to_be_utc() -> None:
    """No reader has to guess the zone of a moment."""
    moments = [
        node
        for path, node in nodes(SCHEMA)
        if "/properties/" in path
        and "date-time" in {one.get("format") for one in (node, *node.get("anyOf", ()))}
        and "/anyOf/" not in path
    ]

    assert len(moments) > 20
    assert all("In UTC" in node["description"] for node in moments)


def test_it_speaks_to_people_who_know_no_python() -> None:
    """Every model says what it is; nothing is named as the program's own modules are."""
    text = json.dumps(SCHEMA)

    assert "boxlamp__" not in text
    assert "None" not in text
    assert "``" not in text
    assert not re.search(r":(?:class|data|func|meth):", text)
    for name, part in SCHEMA["$defs"].items():
        assert part["description"].endswith((".", ".)")), name
        assert part["required"] == list(part["properties"]), name
        assert part["additionalProperties"] is False, name


def test_every_reference_leads_somewhere() -> None:
    """No model is referred to that is not there, and none is there for nothing."""
    named = {node["$ref"] for _path, node in nodes(SCHEMA) if "$ref" in node}

    assert named == {f"#/$defs/{name}" for name in SCHEMA["$defs"]}
