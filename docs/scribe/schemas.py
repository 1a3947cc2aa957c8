"""JSON Schemas of the ``--json`` answers, made of their shapes."""

import json
from collections.abc import Iterator
from typing import Any, NamedTuple

from pydantic import TypeAdapter

from boxlamp.paper.export.schema import schema as litter_schema
from scribe import shapes, shapes_weeks
from scribe.notes import NOTE


class Answer(NamedTuple):
    """The answers of one shape: the file of its schema, and what is typed for it."""

    file: str
    typed: tuple[str, ...]
    shape: Any
    each_line: bool = False


ANSWERS = (
    Answer("check", ("check", "board"), shapes.Check),
    Answer("replay", ("replay",), shapes.Change, each_line=True),
    Answer("log", ("log",), shapes.Logged),
    Answer("call-sheet", ("call-sheet",), shapes.CallSheet),
    Answer("words", ("words",), shapes.Words),
    Answer("rules", ("rules",), shapes.Rules),
    Answer("rule", ("rules ID",), shapes.RulePage),
    Answer("protocol", ("protocol show",), shapes.InForce),
    Answer("protocol-default", ("protocol show --default",), shapes.Shipped),
    Answer("trial", ("protocol trial",), shapes_weeks.Trial),
    Answer("due", ("due",), shapes_weeks.Dates),
    Answer("kit", ("kit",), shapes_weeks.Kit),
    Answer("weights", ("weights",), shapes_weeks.Weights),
    Answer("drill", ("drill NIGHT",), shapes_weeks.Drill),
    Answer("drill-list", ("drill --list",), shapes_weeks.Nights),
    Answer("drill-progress", ("drill --progress",), shapes_weeks.Progress),
    Answer("litters", ("litters",), shapes.Litters),
    Answer("verify", ("verify",), shapes.Verify),
)


def schema_of(answer: Answer) -> dict[str, Any]:
    """The JSON Schema, draft 2020-12: every field is there, and no other."""
    made = TypeAdapter(answer.shape).json_schema()
    for part in (made, *made.get("$defs", {}).values()):
        if "properties" in part:
            part["additionalProperties"] = False
        part["description"] = " ".join(part.get("description", "").replace("``", "`").split())
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **made}


def files() -> Iterator[tuple[str, Iterator[str]]]:
    """Every schema with the name of its file."""
    for answer in ANSWERS:
        yield f"schemas/{answer.file}.schema.json", _printed(schema_of(answer))
    yield "litter.schema.json", _printed(litter_schema())


def _printed(schema: dict[str, Any]) -> Iterator[str]:
    yield from json.dumps(schema, indent=2, ensure_ascii=False).splitlines()


def json_page() -> Iterator[str]:
    """Which answer has which shape."""
    yield from (NOTE, "", "# JSON answers", "")
    yield "Each is UTF-8, one object on one line. `schema` counts the shapes: a program that knows"
    yield "`1` need not guess what a `2` would mean. Times are RFC 3339 with an offset, lengths of"
    yield "time whole seconds (`_s`), weights grams, temperatures °C. Every field is always there;"
    yield "what is not known is `null`. The decimal point is a point."
    yield from ("", "| typed | answer | schema |", "|---|---|---|")
    for answer in ANSWERS:
        schema = schema_of(answer)
        typed = ", ".join(f"`boxlamp {words} --json`" for words in answer.typed)
        each = " One object for each change." if answer.each_line else ""
        says = schema["description"].partition(": ")[2]
        says = says[0].upper() + says[1:]
        link = f"[{answer.file}](schemas/{answer.file}.schema.json)"
        yield f"| {typed} | {says}{each} | {link} |"
    typed = "`boxlamp summary --json`, `boxlamp export --form json`"
    yield f"| {typed} | All that the summary tells. | [litter](litter.schema.json) |"
