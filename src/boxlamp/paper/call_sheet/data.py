"""The call sheet for other programs: one JSON object, or one fact a line."""

from collections.abc import Iterator
from datetime import tzinfo
from itertools import groupby
from typing import Any

from boxlamp.paper.call_sheet.facts import CallSheet, Fact

SCHEMA = 1
"""Of the JSON object; a change of shape raises it."""


def sheet_json(sheet: CallSheet, litter: str, zone: tzinfo) -> dict[str, Any]:
    """What ``call-sheet --json`` prints.

    ``parts`` are in the order of the telephone call: ``dial``, ``situation``, ``background``,
    ``assessment``, ``request``, ``end``; each has ``facts`` with a ``label`` and ``words`` in
    the reader's clock and units. ``level`` is the worst that stands, or null. ``at`` is RFC 3339
    with its offset. ``not_noted`` are the answers nobody has written down.
    """
    return {
        "schema": SCHEMA,
        "at": sheet.at.astimezone(zone).isoformat(timespec="seconds"),
        "litter": litter,
        "level": sheet.level.word if sheet.level else None,
        "parts": [
            {"part": part, "facts": [{"label": fact.label, "words": fact.words} for fact in facts]}
            for part, facts in groupby(_labelled(sheet), key=lambda fact: fact.part)
        ],
        "not_noted": list(sheet.unknown),
        "caution": sheet.caution,
    }


def plain_sheet(sheet: CallSheet) -> Iterator[str]:
    """Every fact as ``part<TAB>label<TAB>words``, nothing wrapped, shortened or left out."""
    yield f"dial\tlevel\t{sheet.level.word if sheet.level else 'none'}"
    for part, facts in groupby(_labelled(sheet), key=lambda fact: fact.part):
        yield from (f"{part}\t{fact.label}\t{fact.words}" for fact in facts)
        if part == "assessment":
            yield from (f"{part}\tnot noted\t{words}" for words in sheet.unknown)
    yield f"end\tcaution\t{sheet.caution}"


def _labelled(sheet: CallSheet) -> Iterator[Fact]:
    """The facts, each with a label: none leans on the line above it."""
    label = ""
    for fact in sheet.facts:
        label = fact.label or label
        yield fact._replace(label="ring" if fact.part == "dial" else label)
