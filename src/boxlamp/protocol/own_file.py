"""A vet's own limits as a file: by whom, why, and which."""

from decimal import Decimal
from typing import Annotated, Any, Literal, Self

from pydantic import BaseModel, ConfigDict, Field, ValidationError, model_validator

from boxlamp.model.happenings import Limit, Name, Words
from boxlamp.protocol.records import ProtocolError, Unit, problems_of, seconds_in, toml

_LONGEST_DAYS = 366
"""As the record has it: no limit of a whelping lies further away."""


class OwnLimit(BaseModel):
    """One limit in a vet's own file."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    rule: Name
    clock: Name = "main"
    level: Literal["watch", "call", "go"]
    value: Annotated[Decimal, Field(ge=0, le=100_000)]
    unit: Unit

    @property
    def seconds(self) -> int:
        """The limit as the record keeps it."""
        return int(self.value * seconds_in(self.unit))

    @model_validator(mode="after")
    def _within_a_year(self) -> Self:
        if self.seconds > _LONGEST_DAYS * seconds_in("d"):
            raise ValueError(f"no limit is longer than {_LONGEST_DAYS} days")
        return self


class OwnLimits(BaseModel):
    """A vet's own limits for one litter: on whose word, why, and which."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    by: Annotated[Name, Field(min_length=1)]
    why: Annotated[Words, Field(min_length=1)]
    limit: Annotated[tuple[OwnLimit, ...], Field(min_length=1)]

    def as_entries(self) -> tuple[Limit, ...]:
        """The same limits in the form in which the record keeps them."""
        return tuple(
            Limit(
                rule=own.rule,
                clock=own.clock,
                level=own.level,
                by=self.by,
                why=self.why,
                seconds=own.seconds,
            )
            for own in self.limit
        )


def read_own_limits(text: str) -> OwnLimits:
    """Read a vet's own limits from the text of a TOML file, or raise :class:`ProtocolError`."""
    data: dict[str, Any] = toml(text)
    try:
        return OwnLimits.model_validate(data)
    except ValidationError as error:
        raise ProtocolError(problems_of(error)) from error
