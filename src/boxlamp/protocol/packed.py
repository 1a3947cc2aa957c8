"""The shipped protocol made ready to load: the same records, read and judged beforehand.

``default.toml`` is what people edit, and the only thing that is true. Reading and judging its
hundreds of records takes longer than everything a line at the box is written down with, so
`docs/generate.py` does it once and packs what came out into ``default.packed.json``. The pack
names the text it was made from. From any other text, be it changed by one letter, nothing is
unpacked, and the text is read itself.
"""

from collections.abc import Callable, Iterator
from datetime import date
from decimal import Decimal
from functools import cache
from hashlib import sha256
from typing import Any, TypeVar, get_args, get_origin

from pydantic import BaseModel
from pydantic_core import from_json

from boxlamp.protocol.records import (
    BandRecord,
    FormulaRecord,
    LimitRecord,
    Protocol,
    Record,
    Risk,
    SettingRecord,
    Source,
)

_KINDS: dict[str, type[Record]] = {
    "limit": LimitRecord,
    "band": BandRecord,
    "setting": SettingRecord,
    "formula": FormulaRecord,
}
_Model = TypeVar("_Model", bound=BaseModel)


def pack(text: str, protocol: Protocol) -> str:
    """The pack of a protocol that was read from this text: JSON, one record a line."""
    import json

    whole = protocol.model_dump(mode="json", exclude_unset=True)
    lines = [f'"made_from": "{_digest(text.encode())}"']
    for name, value in whole.items():
        if name in _KINDS:
            records = ",\n".join(json.dumps(record, ensure_ascii=False) for record in value)
            lines.append(f'"{name}": [\n{records}\n]')
        else:
            lines.append(f'"{name}": {json.dumps(value, ensure_ascii=False)}')
    return "{\n" + ",\n".join(lines) + "\n}\n"


def unpack(packed: bytes, text: bytes) -> Protocol | None:
    """The protocol that ``text`` reads as; None when the pack was made from another text."""
    try:
        whole = from_json(packed)
        if whole.pop("made_from") != _digest(text):
            return None
    except (ValueError, LookupError, AttributeError, TypeError):
        return None
    for name, kind in _KINDS.items():
        whole[name] = tuple(_made(kind, record) for record in whole.get(name, ()))
    whole["sources"] = {key: _made(Source, one) for key, one in whole["sources"].items()}
    whole["risk"] = _made(Risk, whole["risk"])
    return _made(Protocol, whole)


def _digest(text: bytes) -> str:
    """What a text is known by, however its lines end."""
    return sha256(text.replace(b"\r\n", b"\n")).hexdigest()


def _made(model: type[_Model], values: dict[str, Any]) -> _Model:
    """A record with the values that were judged when it was packed; nothing is judged again."""
    for name, read in _readers(model):
        if name in values:
            values[name] = read(values[name])
    return model.model_construct(**values)


@cache
def _readers(model: type[BaseModel]) -> tuple[tuple[str, Callable[[Any], object]], ...]:
    """The fields of a record that JSON has no type for, and how each is read from its text."""
    return tuple(_readers_of(model))


def _readers_of(model: type[BaseModel]) -> Iterator[tuple[str, Callable[[Any], object]]]:
    for name, field in model.model_fields.items():
        kind = field.annotation
        if Decimal in {kind, *get_args(kind)}:
            yield name, Decimal
        elif kind is date:
            yield name, date.fromisoformat
        elif get_origin(kind) is tuple and get_args(kind)[0] is str:
            yield name, tuple
