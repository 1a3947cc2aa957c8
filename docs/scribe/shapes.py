"""The shape of every ``--json`` answer. The tests hold real answers against each of them.

Times are RFC 3339 with an offset, lengths of time whole seconds (``_s``), weights grams,
temperatures degrees Celsius. A field is always there; what is not known is ``null``.
"""

from typing import Any, Literal

from typing_extensions import TypedDict

Level = Literal["watch", "call", "go"]
Schema = Literal[1]


class Source(TypedDict):
    """Where a limit comes from, and how far that was verified."""

    title: str | None
    where: str | None
    place: str | None
    says: str
    seen: str


class Alert(TypedDict):
    """One alert with its evidence: the clock, the limit, the entries, the sources.

    ``counted_s`` is how long its clock has counted, to be held beside ``limit_s``. It is less than
    ``elapsed_s``, the time since ``since``, where a rest has stopped the clock and the level stays.
    """

    rule: str
    level: Level
    subject: str
    raised: str
    since: str
    elapsed_s: int
    counted_s: int
    limit_s: int
    message: str
    do: list[str]
    entries: list[int]
    sources: list[Source]
    acknowledged: str | None


class Reminder(TypedDict):
    """One reminder, and since when it is shown."""

    rule: str
    subject: str
    since: str
    message: str


class Due(TypedDict):
    """One level that is coming."""

    rule: str
    level: Level
    subject: str
    due: str


class Counts(TypedDict):
    """What was counted; ``owed`` are afterbirths."""

    expected: int | None
    born: int
    alive: int
    afterbirths: int
    owed: int


class Check(TypedDict):
    """`boxlamp check --json` and `boxlamp board --json`: what stands, what comes next."""

    schema: Schema
    at: str
    litter: str
    phase: str
    alerts: list[Alert]
    prompts: list[Reminder]
    next: list[Due]
    counts: Counts


class Change(TypedDict):
    """One line of `boxlamp replay --json`: an alert that came, rose, was heard or ended."""

    at: str
    rule: str
    subject: str
    level: Level
    change: Literal["raised", "escalated", "cleared", "acknowledged"]
    since: str
    entries: list[int]


class Word(TypedDict):
    """One word of a line."""

    word: str
    synonyms: list[str]
    pattern: str
    examples: list[str]
    meaning: str


class Words(TypedDict):
    """`boxlamp words --json`: every word of a line, or the one that was asked for."""

    schema: Schema
    words: list[Word]


class LitterRow(TypedDict):
    """One litter of the journal."""

    litter: str
    name: str
    entries: int
    opened: str
    in_use: bool


class Litters(TypedDict):
    """`boxlamp litters --json`: every litter of the journal, and which one is in use."""

    schema: Schema
    litters: list[LitterRow]


class Finding(TypedDict):
    """Something that is not as it should be in the record."""

    kind: str
    litter: str | None
    entry: int | None
    sentence: str


class Verify(TypedDict):
    """`boxlamp verify --json`: whether the record is whole, and what was found."""

    schema: Schema
    journal: str
    litters: int
    entries: int
    ok: bool
    findings: list[Finding]


class Logged(TypedDict):
    """`boxlamp log --json`: the entry as it was kept, how it was understood, and what stands now.

    ``further`` are the entries after the first where a line spoke of several pups. ``if_meant``
    and ``nearest`` say what to type where the line was not understood; ``nearest`` may be several
    lines, and ``N``, ``HH:MM`` and ``...`` in it stand for what was not said.
    """

    schema: Schema
    entry: dict[str, Any]
    further: list[dict[str, Any]]
    echo: str
    understood: bool
    why: str | None
    if_meant: list[str]
    nearest: str | None
    prompts: list[str]
    notices: list[str]
    check: Check


class Fact(TypedDict):
    """One thing to say on the telephone, in the reader's clock and units."""

    label: str
    words: str


class Part(TypedDict):
    """One part of the telephone call."""

    part: Literal["dial", "situation", "background", "assessment", "request", "end"]
    facts: list[Fact]


class CallSheet(TypedDict):
    """`boxlamp call-sheet --json`: the parts in the order in which they are told."""

    schema: Schema
    at: str
    litter: str
    level: Level | None
    parts: list[Part]
    not_noted: list[str]
    caution: str


class InForce(TypedDict):
    """`boxlamp protocol show --json`: the limits of this litter, by rule and clock, in seconds."""

    schema: Schema
    litter: str
    version: str
    risks: list[str]
    limits_s: dict[str, dict[str, int]]
    changes: list[dict[str, Any]]


class Shipped(TypedDict):
    """`boxlamp protocol show --default --json`: every record of the shipped protocol."""

    schema: Schema
    limits: dict[str, Any]


class RulePage(TypedDict):
    """`boxlamp rules ID --json`: one rule; ``limits`` are its records with their sources."""

    schema: Schema
    rule: str
    group: str
    title: str
    never_relaxed: bool
    watches: str
    matters: str
    todo: str
    example: str
    limits: list[dict[str, Any]]


class Rules(TypedDict):
    """`boxlamp rules --json`: all the rules, each with its page."""

    schema: Schema
    rules: list[RulePage]
