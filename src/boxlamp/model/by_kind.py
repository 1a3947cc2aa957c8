"""A union of kinds whose validators are built one by one, each when its kind is first met.

A union is read like any other discriminated one: the kind is looked up, then that model alone
reads the rest, and what it finds wrong is reported from the same place. But pydantic would build
the validators of all its kinds as soon as one model names the union, which takes longer than
anything else in writing down one line, and a line is of one kind.
"""

from types import UnionType
from typing import Annotated, Any, get_args

from pydantic import BaseModel, Field, GetCoreSchemaHandler, GetJsonSchemaHandler, TypeAdapter
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema


class ByKind:
    """Put beside a union of models in ``Annotated``: told apart by ``kind``, built when met."""

    union: UnionType

    def __get_pydantic_core_schema__(
        self, union: UnionType, _handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        self.union = union
        models: dict[str, type[BaseModel]] = {
            model.model_fields["kind"].default: model for model in get_args(union)
        }
        readers: dict[Any, CoreSchema] = {
            kind: core_schema.no_info_plain_validator_function(model.model_validate)
            for kind, model in models.items()
        }
        return core_schema.tagged_union_schema(readers, discriminator="kind")

    def __get_pydantic_json_schema__(
        self, _schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        """A schema that is to be shown needs every kind, and is that of the usual union."""
        usual: Any = Annotated[self.union, Field(discriminator="kind")]
        return handler(TypeAdapter(usual).core_schema)
