"""Kinds that are built when met read exactly as pydantic's own discriminated union does."""

from typing import Annotated, Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import Field, TypeAdapter, ValidationError

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Amend, Fact, Happening, Strike, What
from support.effort import effort
from support.happenings import ANYTHING

OURS: TypeAdapter[Any] = TypeAdapter(Happening)
USUAL: TypeAdapter[Any] = TypeAdapter(Annotated[Fact | Amend | Strike, Field(discriminator="kind")])
ODD = st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5)


def outcome(adapter: TypeAdapter[Any], value: object) -> object:
    """What comes of reading a value: the happening, or everything that is wrong with it."""
    try:
        read = adapter.validate_python(value)
    except ValidationError as error:
        return error.errors(include_url=False)
    return read, type(read)


def outcome_of_json(adapter: TypeAdapter[Any], text: bytes) -> object:
    """The same of JSON text."""
    try:
        return adapter.validate_json(text)
    except ValidationError as error:
        return [(one["type"], one["loc"], one["msg"]) for one in error.errors()]


@settings(max_examples=effort(150, 20_000), deadline=None)
@given(ANYTHING)
def test_every_happening_is_read_and_written_alike(what: What) -> None:
    """From Python, from JSON, and back to both."""
    assert OURS.validate_python(what.model_dump()) == what
    assert OURS.validate_python(what) is what
    text = USUAL.dump_json(what)
    assert OURS.dump_json(what) == text
    assert OURS.dump_python(what) == USUAL.dump_python(what)
    assert outcome_of_json(OURS, text) == outcome_of_json(USUAL, text)


@settings(max_examples=effort(150, 20_000), deadline=None)
@given(ANYTHING, st.data())
def test_every_fault_is_told_alike(what: What, data: st.DataObject) -> None:
    """The same complaint, from the same place, about the same value."""
    value = what.model_dump()
    key = data.draw(st.sampled_from([*value, "more"]))
    if data.draw(st.booleans()):
        value.pop(key, None)
    else:
        value[key] = data.draw(ODD)
    assert repr(outcome(OURS, value)) == repr(outcome(USUAL, value))


@pytest.mark.parametrize("value", [None, 5, "birth", [], {}, {"kind": "x"}, {"kind": None}])
def test_what_is_no_happening_is_told_alike(value: object) -> None:
    """Without a known kind there is nothing to read it by."""
    assert repr(outcome(OURS, value)) == repr(outcome(USUAL, value))


def test_the_schema_that_is_shown_is_that_of_the_usual_union() -> None:
    """Other programs see every kind, by name."""
    assert OURS.json_schema() == USUAL.json_schema()
    assert set(USUAL.json_schema()["$defs"]) < set(Entry.model_json_schema()["$defs"]) | {"Entry"}
