"""Facts that were measured, and what the alerts rest on: limits, changes, sources, the digest."""

from decimal import Decimal
from typing import Annotated, Literal

from pydantic import Field, PlainSerializer

from boxlamp.model.entry import Instant
from boxlamp.model.quantities import Celsius, Grams
from boxlamp.model.seen import Colour, DamSign
from boxlamp.paper.account.base import Fact, LevelWord, Span

Edge = Annotated[Decimal, PlainSerializer(float, return_type=float, when_used="json")]
"""Where a band begins, in the unit beside it. A loss is below zero."""


class Weighed(Fact):
    """A weight and when it was taken."""

    at: Instant
    grams: Grams


class PupWeights(Fact):
    """One pup's weights, oldest first, in grams."""

    pup: int
    weights: tuple[Weighed, ...]


class Measured(Fact):
    """One temperature, in °C: of the dam, of one pup, or of the box."""

    entry: int
    at: Instant
    celsius: Celsius
    where: Literal["dam", "pup", "box"]
    pup: int | None = None


class DischargeSeen(Fact):
    """Discharge as it was written down once: colour, amount, whether it smelt foul."""

    entry: int
    at: Instant
    estimated: bool
    colour: Colour
    amount: Literal["streak", "some", "heavy", "clots", "none"]
    foul: bool


class DamSeen(Fact):
    """How the dam looked when it was written down."""

    entry: int
    at: Instant
    estimated: bool
    signs: tuple[DamSign, ...]


class LimitAccount(Fact):
    """One limit or band that was in force. A limit has ``span``, a band ``when`` and ``value``."""

    rule: str
    title: str
    clock: str
    level: Literal["prompt", "watch", "call", "go"]
    span: Span | None = Field(default=None, serialization_alias="span_s")
    own: Span | None = Field(default=None, serialization_alias="protocol_span_s")
    """The protocol's own limit, where the one in force differs."""
    when: str = ""
    value: Edge | None = None
    unit: str = ""
    source: str = ""
    """The key of its source; empty when it has none."""
    seen: str = ""
    """How far it was verified, in words: the protocol's own, where the one in force differs."""


class LimitChange(Fact):
    """A limit changed for this litter, on whose word and why."""

    entry: int
    at: Instant
    rule: str
    clock: str
    level: LevelWord
    span: Span = Field(serialization_alias="span_s")
    by: str
    why: str
    refused: bool
    """It would have loosened a rule that is never relaxed, and has no effect."""


class SourceAccount(Fact):
    """A source of the limits in force."""

    key: str
    title: str
    where: str


class Digest(Fact):
    """The hash at the end of the litter's chain of entries, and how many entries it covers."""

    sha256: str
    entries: int
