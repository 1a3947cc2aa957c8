"""Text that would act on a terminal, a page or a spreadsheet, in every field that can hold text.

The fields are found in the JSON Schema of the models, so that a new one is poisoned without being
named here.
"""

import re
import unicodedata
from collections.abc import Iterator
from datetime import datetime, timedelta
from itertools import cycle
from typing import Any

from boxlamp.language import read_night
from boxlamp.model.entry import Entry
from support.nights import DEMO

POISON = (
    "=1+1|\x1b[2J\x1b]0;t\x07\x1b]8;;http://x\x1b\\",
    "\x1b]52;c;QQ==\x07\x9b2J\x90q\x9c\x85",
    "+cmd\r\nX-EVIL:1\r\x0b\x0c\x00\x7f\x08",
    "\u202egnp\u2066x\u2069\u200b\u200d\ufeff\u2028\U000e0041",
    "[bold]b[/bold][link=http://x]l[/link]:skull:{{7*7}}",
    "<script>alert(1)</script><img src=x onerror=a()>&#27;",
    "@SUM(A1)|`x`|[a](javascript:b)<!--\n# h\n![i](http://x)",
    "-2+3\t\"';DROP\\,\nEND:VEVENT",
)
"""Escape sequences, C1 codes, cursor moves, bidi, zero width; rich, HTML, Markdown, CSV, ICS."""

ACTING = frozenset({"Cc", "Cf", "Cs", "Co", "Zl", "Zp"})
_SCHEMA = Entry.model_json_schema()
_DEFINED = _SCHEMA["$defs"]
_NUMBERS = {"celsius": 39, "pup": 1, "of": 1, "target": 2, "grams": 300, "items": 1}


def acting(text: str, *, allowed: str = "\n") -> list[str]:
    """The characters in a text that would do more than stand there."""
    return [char for char in text if unicodedata.category(char) in ACTING and char not in allowed]


def _resolved(schema: dict[str, Any]) -> dict[str, Any]:
    while "$ref" in schema:
        schema = _DEFINED[schema["$ref"].rpartition("/")[2]]
    for one in schema.get("anyOf", ()):
        if one.get("type") != "null":
            return _resolved(one)
    return schema


def is_free(schema: dict[str, Any]) -> bool:
    """Whether a field holds any text at all: no choice, no time, no pattern."""
    schema = _resolved(schema)
    bound = {"enum", "const", "format", "pattern"} & schema.keys()
    return schema.get("type") == "string" and not bound


class Poisoner:
    """Fills and refills models, one poison after the other; it knows which fields it met."""

    def __init__(self, shift: int = 0) -> None:
        self._next = cycle(POISON[shift:] + POISON[:shift])
        self.met: set[str] = set()

    def _text(self, name: str) -> str:
        self.met.add(name)
        return next(self._next)

    def made(self, schema: dict[str, Any], name: str = "") -> Any:  # noqa: ANN401 any JSON
        """A value of this schema with every field filled and every text poisoned."""
        schema = _resolved(schema)
        if "const" in schema or "enum" in schema:
            return schema.get("const", (schema.get("enum") or [None])[-1])
        match schema.get("type"):
            case "string":
                return self._text(name)
            case "boolean":
                return True
            case "integer" | "number":
                wanted = _NUMBERS.get(name.rpartition(".")[2], 1)
                return min(max(wanted, schema.get("minimum", wanted)), schema.get("maximum", 99))
            case "array":
                items = schema.get("prefixItems") or [schema["items"]]
                return [self.made(item, name) for item in items]
            case _:
                fields = schema["properties"].items()
                return {key: self.made(field, f"{name}.{key}") for key, field in fields}

    def refilled(self, value: Any, schema: dict[str, Any], name: str = "") -> Any:  # noqa: ANN401
        """The same value with poison in place of every free text in it."""
        if value is None:
            return None
        schema = _resolved(schema)
        if "oneOf" in schema and isinstance(value, dict):
            kind = schema["discriminator"]["mapping"][value["kind"]]
            return self.refilled(value, {"$ref": kind}, value["kind"])
        if is_free(schema):
            return self._text(name) if value else value
        if isinstance(value, dict) and "properties" in schema:
            fields = schema["properties"]
            return {k: self.refilled(v, fields[k], f"{name}.{k}") for k, v in value.items()}
        return value


def every_kind(poisoner: Poisoner) -> Iterator[dict[str, Any]]:
    """A happening of every kind there is, each free text poisoned."""
    for reference in _SCHEMA["properties"]["what"]["discriminator"]["mapping"].values():
        kind = reference.rpartition("/")[2]
        schema = _DEFINED[kind]
        fields = schema["properties"].items()
        made: dict[str, Any] = {}
        for key, field in fields:
            if kind == "Amend" and key == "what":
                made[key] = {"kind": "note", "words": poisoner._text("note.words")}
            else:
                made[key] = poisoner.made(field, f"{made.get('kind', '')}.{key}")
        yield made


def free_fields() -> set[str]:
    """The name of every field of the models that holds free text."""
    own = {f".{key}" for key, field in _SCHEMA["properties"].items() if is_free(field)}
    for reference in _SCHEMA["properties"]["what"]["discriminator"]["mapping"].values():
        fields = _DEFINED[reference.rpartition("/")[2]]["properties"]
        kind = fields["kind"]["const"]
        own |= {f"{kind}.{key}" for key, field in fields.items() if is_free(field)}
    return own


def poisoned_night(name: str, poisoner: Poisoner) -> tuple[Entry, ...]:
    """A demo night with poison in every text, and behind it an entry of every kind."""
    entries = read_night((DEMO / f"{name}.night").read_text(encoding="utf-8")).entries
    bodies = [poisoner.refilled(one.model_dump(mode="json"), _SCHEMA) for one in entries]
    last = max(entry.at for entry in entries)
    for turn, what in enumerate(every_kind(poisoner), start=1):
        at = (last + timedelta(seconds=turn)).isoformat()
        made = {key: poisoner.made(field, f".{key}") for key, field in
                _SCHEMA["properties"].items() if is_free(field)}  # fmt: skip
        bodies.append(made | {"at": at, "recorded": at, "what": what})
    return tuple(
        Entry.model_validate(body | {"id": number, "litter": "ash"})
        for number, body in enumerate(bodies, start=1)
    )


def end_of(entries: tuple[Entry, ...]) -> datetime:
    """The moment of the last entry."""
    return max(entry.at for entry in entries)


STYLE = re.compile(r"\x1b\[[0-9;]*m")
"""Colours and weights: all that an answer in colour may send to a terminal."""
