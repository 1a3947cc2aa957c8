"""A union of kinds whose validators are built one by one, each when its kind is first met.

A union is read like any other discriminated one: the kind is looked up, then that model alone
reads the rest, and what it finds wrong is reported from the same place. But pydantic would build
the validators of all its kinds as soon as one model names the union, which takes longer than
anything else in writing down one line, and a line is of one kind.
"""

from collections.abc import Mapping
from typing import Any, get_args

from pydantic import BaseModel, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema


class ByKind:
    """Put beside a union of models in ``Annotated``: told apart by ``kind``, built when met."""

    def __get_pydantic_core_schema__(
        self, union: Any, _handler: GetCoreSchemaHandler  # noqa: ANN401 - a union has no type
    ) -> CoreSchema:
        kinds: Mapping[str, type[BaseModel]] = {
            model.model_fields["kind"].default: model for model in get_args(union)
        }
        return core_schema.tagged_union_schema(
            {kind: _read_by(model) for kind, model in kinds.items()}, discriminator="kind"
        )


def _read_by(model: type[BaseModel]) -> CoreSchema:
    """Read by this model, whose own validator is built at the first call."""

    def told(_schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        model.model_rebuild()
        return handler(model.__pydantic_core_schema__)

    return core_schema.no_info_plain_validator_function(
        model.model_validate, metadata={"pydantic_js_functions": [told]}
    )
