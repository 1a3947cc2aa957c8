"""What every fact of an account is built on."""

from datetime import timedelta
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, PlainSerializer

Span = Annotated[
    timedelta,
    PlainSerializer(lambda span: int(span.total_seconds()), return_type=int, when_used="json"),
]
"""A length of time; whole seconds in JSON."""

LevelWord = Literal["watch", "call", "go"]


class Fact(BaseModel):
    """Base of every model: frozen, and nothing unknown is let in."""

    model_config = ConfigDict(frozen=True, extra="forbid", use_attribute_docstrings=True)
