"""The shapes of the answers about dates, weights and practice; see :mod:`scribe.shapes`."""

from typing import Any, Literal

from typing_extensions import TypedDict

from scribe.shapes import Level, Schema, Source

Basis = TypedDict(
    "Basis",
    {
        "clock": str, "kind": str, "from": str, "on": str, "day_0": str, "due": str,
        "earliest": str, "latest": str, "rank": int, "drives": bool, "why": str, "accuracy": str,
        "accuracy_seen": str, "from_memory": bool, "born_on_day": int | None,
        "entries": list[int], "source": Source,
    },
)  # fmt: skip
Basis.__doc__ = "One date to count from, the window it gives, and whether it drives the alarms."

Unused = TypedDict("Unused", {"from": str, "on": str, "why": str, "entries": list[int]})
Unused.__doc__ = "A date that was written down and is not counted from, with the reason."


class Planned(TypedDict):
    """Something to do from one day to another."""

    id: str
    title: str
    first: str
    last: str
    state: str
    note: str
    source: Source


class Dates(TypedDict):
    """`boxlamp due --json`: the dates, the plan, what follows; days where she lives."""

    schema: Schema
    litter: str
    today: str
    due: str | None
    earliest: str | None
    latest: str | None
    day: int | None
    disagreement: str | None
    bases: list[Basis]
    unused: list[Unused]
    notes: list[str]
    plan: list[Planned]
    born: str | None
    follow: list[Planned]


class Item(TypedDict):
    """One thing to have ready."""

    id: str
    group: str
    what: str
    why: str
    ready: bool
    by: str | None
    days_before: int
    source: str


class Kit(TypedDict):
    """`boxlamp kit --json`: what to have ready, and what is."""

    schema: Schema
    litter: str
    ready: int
    of: int
    items: list[Item]


class Stands(TypedDict):
    """An alert about weight."""

    rule: str
    level: Level
    words: str
    message: str


class Gain(TypedDict):
    """A gain over a span, as grams and per cent a day; ``since`` is the entry it begins with."""

    g: float
    percent: float
    since: int
    span_s: int


class Weight(TypedDict):
    """One weight of a pup."""

    at: str
    g: float
    since_birth_percent: float | None
    entry: int


class Pup(TypedDict):
    """One pup on the scale."""

    pup: int
    mark: str | None
    sex: str | None
    born: str
    days: int
    alive: bool
    gone: str | None
    birth_g: float | None
    birth_class: dict[str, Any] | None
    newest_g: float | None
    since_birth_percent: float | None
    late_first_weight: bool
    per_day: Gain | None
    last_day: Gain | None
    weights: list[Weight]
    alerts: list[Stands]


class Round(TypedDict):
    """One weighing round, by pup."""

    start: str
    end: str
    days: int
    weights: dict[str, float]
    mean_g: float | None
    total_g: float | None


class Weights(TypedDict):
    """`boxlamp weights --json`: every pup on the scale; ``feeding`` only with --feeding."""

    schema: Schema
    at: str
    litter: str
    pups: list[Pup]
    rounds: list[Round]
    alerts: list[Stands]
    coarse_scale: bool
    feeding: dict[str, Any] | None
    sources: list[Source]


class Figure(TypedDict):
    """A figure with its 95 % interval."""

    value: float
    low: float | None
    high: float | None


class Compared(TypedDict):
    """A figure of each side; ``apart`` is the second less the first, over the same nights."""

    sides: list[Figure]
    apart: Figure | None
    same: bool


class Quartiles(TypedDict):
    """The middle and the quartiles, in minutes."""

    low: float
    middle: float
    high: float


class First(TypedDict):
    """In how many nights a rule was the first to flag it."""

    rule: str
    nights: int


class Caught(TypedDict):
    """What one side caught; ``already``: only a call or go from before still stood."""

    flagged: int
    already: int
    missed: int
    watched: int
    after_min: Quartiles | None
    before_min: Quartiles | None
    first: list[First]


class Trouble(TypedDict):
    """One trouble; the first of the list is ``all``."""

    trouble: str
    nights: int
    flagged: Compared
    missed: Compared
    sooner_min: Figure | None
    sides: list[Caught]


class Side(TypedDict):
    """One set of limits."""

    name: str
    version: str
    limits: list[dict[str, Any]]


class LevelRow(TypedDict):
    """How often a level came in normal nights, and in which share of them."""

    level: Level
    per_night: Compared
    nights: Compared


class RuleRow(TypedDict):
    """How often a rule reached a level in normal nights."""

    rule: str
    level: Level
    per_night: Compared


class Missed(TypedDict):
    """A troubled night in which no call or go stood; ``side`` counts from 0."""

    side: int
    trouble: str
    seed: int


class Trial(TypedDict):
    """`boxlamp protocol trial --json`: what limits cost and catch, over imagined nights."""

    schema: Schema
    seed: int
    planned: int
    nights: int
    partial: bool
    normal: int
    troubled: int
    sides: list[Side]
    levels: list[LevelRow]
    rules: list[RuleRow]
    never: list[str]
    troubles: list[Trouble]
    missed: list[Missed]


class Night(TypedDict):
    """One night of the library; ``last`` is its newest result."""

    number: int
    dam: str
    breed: str
    pups: int | None
    minutes: int
    last: dict[str, Any] | None


class Nights(TypedDict):
    """`boxlamp drill --list --json`: the nights that come with the program."""

    schema: Schema
    nights: list[Night]


class Progress(TypedDict):
    """`boxlamp drill --progress --json`: the drills of one person, as the results file has them."""

    schema: Schema
    trainee: str
    drills: list[dict[str, Any]]


class Stop(TypedDict):
    """One decision: what was chosen, what was right, how many levels off."""

    at: str
    chosen: Literal["carry on", "watch", "call", "go"]
    right: Literal["carry on", "watch", "call", "go"]
    off: int
    calm: bool
    rules: list[str]


class Drill(TypedDict):
    """`boxlamp drill --json`: the report. Without a score the six before ``result`` are null."""

    schema: Schema
    kept: bool
    verdict: str | None
    failed: bool | None
    missed: bool | None
    late: bool | None
    nervous: bool | None
    restless: bool | None
    result: dict[str, Any]
    stops: list[Stop]
    lesson: str
