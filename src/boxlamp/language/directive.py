"""The ``#@`` line: what an entry's own line in a night file cannot say.

``#@ id=17 recorded=2026-03-02T02:15:03Z by="Jana"`` belongs to the entry below it;
``#@ all zone="Europe/Prague" text=words`` holds for everything that follows.
"""

import json
from datetime import datetime
from functools import cache
from typing import Any

from pydantic import TypeAdapter

from boxlamp.language import sentences
from boxlamp.language.text import quoted
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Happening, What

MARK = "#@"
FOR_ALL = ("litter", "zone", "by", "text")
"""What may be said for a whole file."""

FOR_ONE = ("id", "litter", "at", "zone", "certainty", "recorded", "by", "text", "note", "what")
"""What may be said of one entry."""

_JSON = json.JSONDecoder()


class Mode(str):
    """A way to tell an entry's raw text from its line, as against the text itself."""

    __slots__ = ()


LINE, WORDS = Mode("line"), Mode("words")
"""``text=line``: the raw text is the whole line; ``text=words``: the line without its time."""


class DirectiveError(Exception):
    """A directive that cannot be read."""


def parse(line: str) -> tuple[bool, dict[str, Any]]:
    """Read a ``#@`` line: whether it is for all that follows, and its values."""
    body = line.strip().removeprefix(MARK).strip()
    for_all = body == "all" or body.startswith("all ")
    body = body[3:].strip() if for_all else body
    allowed = FOR_ALL if for_all else FOR_ONE
    values: dict[str, Any] = {}
    while body:
        key, equals, body = body.partition("=")
        key = key.strip()
        if not equals or key not in allowed or key in values:
            raise DirectiveError(sentences.DIRECTIVE_KEY.format(key[:40]))
        values[key], body = _value(key, body)
    return for_all, values


def _value(key: str, body: str) -> tuple[Any, str]:
    if body[:1] in {'"', "{"}:
        try:
            value, end = _JSON.raw_decode(body)
        except ValueError as error:
            raise DirectiveError(str(error)[:80]) from error
        except RecursionError as error:
            raise DirectiveError(sentences.DIRECTIVE_DEEP) from error
        if isinstance(value, dict) != (key == "what"):
            raise DirectiveError(sentences.DIRECTIVE_KEY.format(key))
        return value, body[end:].lstrip()
    bare, _space, rest = body.partition(" ")
    return _bare(key, bare), rest.lstrip()


def _bare(key: str, text: str) -> object:
    try:
        if key == "id":
            return int(text)
        if key in {"at", "recorded"}:
            return datetime.fromisoformat(text)
    except ValueError as error:
        raise DirectiveError(str(error)[:80]) from error
    if key == "text" and text in {LINE, WORDS}:
        return Mode(text)
    if key == "certainty":
        return text
    raise DirectiveError(sentences.DIRECTIVE_KEY.format(f"{key}={text[:40]}"))


def written(values: dict[str, object], *, for_all: bool = False) -> str:
    """The directive line for these values."""
    pairs = (f"{key}={_said(value)}" for key, value in values.items())
    return " ".join((MARK, *(("all",) if for_all else ()), *pairs))


def _said(value: object) -> str:
    if isinstance(value, datetime):
        return value.isoformat().replace("+00:00", "Z")
    if isinstance(value, What):
        return as_json(value)
    if isinstance(value, str) and not isinstance(value, Mode):
        return quoted(value)
    return str(value)


def as_json(what: What) -> str:
    """A happening as compact JSON that is safe on a screen."""
    dumped = what.model_dump(mode="json", exclude_none=True)
    return "{" + ",".join(f"{quoted(key)}:{_json(value)}" for key, value in dumped.items()) + "}"


def _json(value: object) -> str:
    if isinstance(value, str):
        return quoted(value)
    if isinstance(value, dict):
        pairs = (f"{quoted(key)}:{_json(inner)}" for key, inner in value.items())
        return "{" + ",".join(pairs) + "}"
    return json.dumps(value, separators=(",", ":"))


def happening(value: dict[str, Any]) -> Happening:
    """The happening that JSON in a directive stands for."""
    return _happenings().validate_python(value)


@cache
def _happenings() -> TypeAdapter[Happening]:
    return TypeAdapter(Happening)


def differences(entry: Entry, read: Entry) -> dict[str, object]:
    """What a directive must say so that ``read`` becomes ``entry``."""
    names = [name for name in FOR_ONE if getattr(entry, name) != getattr(read, name)]
    return {name: getattr(entry, name) for name in names}
