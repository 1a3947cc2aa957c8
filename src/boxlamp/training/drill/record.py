"""What is kept of a drill: one JSON object, versioned. Old lines are read, newer ones are left."""

from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from boxlamp.model.entry import Instant

SCHEMA: Literal[1] = 1

Name = Annotated[str, Field(max_length=500)]
Rules = Annotated[tuple[Name, ...], Field(max_length=200)]
Count = Annotated[int, Field(ge=0, le=10_000)]


class Answered(BaseModel):
    """One rise to call or go. ``minutes`` is late, negative early, missing when never."""

    model_config = ConfigDict(frozen=True, extra="ignore")

    rule: Name
    level: Literal["call", "go"]
    minutes: float | None


class Held(BaseModel):
    """A rule at the level at which an answer was right, or wrong."""

    model_config = ConfigDict(frozen=True, extra="ignore")

    rule: Name
    level: Name


class Result(BaseModel):
    """One drill of one person.

    ``night`` is what the night is known by (see :class:`Shelf`), ``right`` and ``wrong`` the
    rules behind the answers; a rule that was both is ``wrong``. ``well`` and ``poorly`` tell the
    level as well, once for each answer: ``well`` only where the rule stood at that level.
    ``finished`` is false when the person left before the last stop; then, and where no level was
    asked, there is no ``score``.
    """

    model_config = ConfigDict(frozen=True, extra="ignore", populate_by_name=True)

    schema_: Annotated[Literal[1], Field(alias="schema")] = SCHEMA
    trainee: Name
    at: Instant
    night: Name
    dam: Name
    troubled: bool
    finished: bool
    score: Annotated[int, Field(ge=0, le=100)] | None
    passed: bool
    stops: Count
    calm: Count
    calm_held: Count
    acts: Count
    acts_right: Count
    lines: Count
    lines_right: Count
    right: Rules = ()
    wrong: Rules = ()
    well: Annotated[tuple[Held, ...], Field(max_length=200)] = ()
    poorly: Annotated[tuple[Held, ...], Field(max_length=200)] = ()
    caught: Annotated[tuple[Answered, ...], Field(max_length=200)] = ()


def result_json(result: Result) -> dict[str, Any]:
    """A result as it is kept, and as ``--progress --json`` prints it."""
    return result.model_dump(mode="json", by_alias=True)
