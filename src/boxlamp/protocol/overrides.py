"""A vet's own limits: which changes are allowed, and what is wrong with the others."""

from collections.abc import Iterable
from datetime import timedelta
from decimal import Decimal
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from boxlamp.model.happenings import Limit
from boxlamp.protocol.records import (
    Protocol,
    ProtocolError,
    Unit,
    level_of,
    problems_of,
    seconds_in,
    toml,
)


class OwnLimit(BaseModel):
    """One limit in a vet's own file."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    rule: str
    clock: str = "main"
    level: Literal["watch", "call", "go"]
    value: Annotated[Decimal, Field(ge=0)]
    unit: Unit


class OwnLimits(BaseModel):
    """A vet's own limits for one litter: on whose word, why, and which."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    by: Annotated[str, Field(min_length=1)]
    why: Annotated[str, Field(min_length=1)]
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
                seconds=int(own.value * seconds_in(own.unit)),
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


def loosens(limit: Limit, protocol: Protocol) -> bool:
    """Whether this change lets a clock run longer than the protocol does before that level."""
    standing = protocol.spans.get((limit.rule, limit.clock), {}).get(level_of(limit.level))
    return standing is None or timedelta(seconds=limit.seconds) > standing


def objections(
    limits: Iterable[Limit], protocol: Protocol, never_relaxed: frozenset[str]
) -> list[str]:
    """What is wrong with these changes, one sentence each; empty when they may be used."""
    found: list[str] = []
    merged = {key: dict(levels) for key, levels in protocol.spans.items()}
    for limit in limits:
        key = limit.rule, limit.clock
        if key not in merged:
            clocks = sorted(clock for rule, clock in merged if rule == limit.rule)
            found.append(
                f"{limit.rule}: it has no clock {limit.clock!r}, only {', '.join(clocks)}."
                if clocks
                else f"{limit.rule}: no rule of that name has a clock. See `boxlamp rules`."
            )
            continue
        if limit.rule in never_relaxed and loosens(limit, protocol):
            found.append(
                f"{limit.rule}: this rule is never relaxed; {limit.level} may only come sooner."
            )
            continue
        merged[key][level_of(limit.level)] = timedelta(seconds=limit.seconds)
    for (rule, clock), levels in merged.items():
        if [levels[level] for level in sorted(levels)] != sorted(levels.values()):
            found.append(f"{rule} {clock}: a higher level would come before a lower one.")
    return found
