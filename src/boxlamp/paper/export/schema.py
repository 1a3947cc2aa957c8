"""The shape of the JSON export: a JSON Schema (draft 2020-12) made from the models themselves."""

import re
from collections.abc import Iterator
from typing import Any

from boxlamp.paper.account.models import Account

DIALECT = "https://json-schema.org/draft/2020-12/schema"
IDENTIFIER = "urn:uuid:5f0c8a52-0d6e-4d0b-9d5e-6a3c1f7e2b14"
"""Names this version of the shape wherever a copy lies; a new version gets a new one."""

# Two models of one name: what the schema calls each.
_NAMES = {
    "boxlamp__model__happenings__Weighed": "WeighedInRound",
    "boxlamp__paper__account__evidence__Weighed": "Weighed",
}
_UNITS = {
    "grams": "In grams.",
    "weight": "In grams.",
    "weight_g": "In grams.",
    "birth_weight_g": "In grams.",
    "breed_birth_weight": "In grams.",
    "celsius": "In degrees Celsius.",
    "millimetres": "In millimetres.",
    "millilitres": "In millilitres.",
    "age_years": "In years.",
    "travel_minutes": "In minutes.",
    "seconds": "In seconds.",
    "Ovulation.value": "Progesterone in ng/mL.",
    "LimitAccount.value": "In the unit that stands beside it as `unit`.",
}
"""Units of numbers, by property, or by model and property where the name alone says too little."""


def schema() -> dict[str, Any]:
    """The JSON Schema of what :func:`boxlamp.paper.export.json_form.json_form` writes.

    Every property is always there, null where nothing is known, and no other one is.
    """
    made = Account.model_json_schema(mode="serialization", by_alias=True)
    made["title"] = "Boxlamp litter"
    parts = {_NAMES.get(name, name): part for name, part in made.pop("$defs").items()}
    for name, part in (("Account", made), *parts.items()):
        _finish(name, part)
    head = {"$schema": DIALECT, "$id": IDENTIFIER, "title": made.pop("title")}
    whole: dict[str, Any] = _plain({**head, **made, "$defs": dict(sorted(parts.items()))})
    return whole


def _finish(model: str, part: dict[str, Any]) -> None:
    """Say of every property that it is there, and in what unit it is."""
    part["required"] = list(part["properties"])
    for name, value in part["properties"].items():
        # A title would only repeat the name; a default would say that it may be missing.
        value.pop("title", None)
        value.pop("default", None)
        said = [value.get("description", ""), *_units(model, name, value)]
        if any(said):
            value["description"] = " ".join(filter(None, said))


def _units(model: str, name: str, value: dict[str, Any]) -> Iterator[str]:
    unit = _UNITS.get(f"{model}.{name}") or _UNITS.get(name)
    if unit:
        yield unit
    elif name.endswith("_s"):
        yield "In whole seconds."
    formats = {one.get("format") for one in (value, *value.get("anyOf", ()))}
    if "date-time" in formats:
        yield "In UTC, to the second."


def _plain(node: Any) -> Any:  # noqa: ANN401 - any JSON value
    """The same with its words set as sentences and its references by the names used here."""
    if isinstance(node, list):
        return [_plain(one) for one in node]
    if not isinstance(node, dict):
        return node
    found: dict[str, Any] = {}
    for key, value in node.items():
        if key == "description" and isinstance(value, str):
            found[key] = _sentence(value)
        elif key == "$ref":
            last = value.rsplit("/", 1)[-1]
            found[key] = f"#/$defs/{_NAMES.get(last, last)}"
        elif not (key == "discriminator" and "propertyName" in value):
            # Which happening it is, its constant `kind` says; the keyword is no part of the draft.
            found[key] = _plain(value)
    return found


def _sentence(docstring: str) -> str:
    """A docstring as one paragraph, in the words of JSON."""
    text = " ".join(docstring.split())
    return re.sub(r"``([^`]*)``", lambda found: f"`{found[1]}`", text).replace("`None`", "null")
