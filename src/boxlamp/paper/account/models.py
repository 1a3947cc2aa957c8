"""The facts of one litter at one moment, typed. The JSON export is these models and no other.

Stored units throughout: grams, degrees Celsius, seconds, UTC. What is not known is ``None`` and
never a guess. Everything is said as the record now reads, corrections applied; the timeline
keeps each line as it was typed beside it.
"""

from datetime import date
from typing import Literal

from pydantic import Field

from boxlamp.model.entry import Entry, Instant
from boxlamp.model.quantities import Amount, Celsius, Grams
from boxlamp.model.seen import MilestoneName
from boxlamp.paper.account.base import Fact, LevelWord, Span
from boxlamp.paper.account.evidence import (
    DamSeen,
    Digest,
    DischargeSeen,
    LimitAccount,
    LimitChange,
    Measured,
    PupWeights,
    SourceAccount,
)

SCHEMA: Literal[1] = 1


class Dam(Fact):
    """The dam and the people around her. Yes-or-no facts nobody has given are ``None``."""

    name: str | None = None
    breed: str | None = None
    age_years: Amount | None = None
    weight_g: Grams | None = None
    first_litter: bool | None = None
    flat_faced: bool | None = None
    toy: bool | None = None
    earlier_dystocia: bool | None = None
    earlier_caesarean: bool | None = None
    vet: str | None = None
    vet_phone: str | None = None
    night_phone: str | None = None
    travel_minutes: int | None = None
    risks: tuple[str, ...] = ()
    """Risk factors that tighten the labour limits, in words."""


class Expected(Fact):
    """How many pups were expected, and how that was known."""

    count: int
    by: Literal["xray", "scan", "guess"]


class DueBasis(Fact):
    """The day she was due by one basis, in the order of trust."""

    basis: str
    """What it counts from, in words: ``LH peak``, ``first mating``, ``scan ICC 30 mm``."""
    day: date
    due: date
    earliest: date
    latest: date
    accuracy: str
    drives: bool
    """Whether the alarms count from it."""
    remembered: bool
    """Its formula is from memory: shown, and no alarm counts from it."""
    counted_from: str
    """What day 0 of its count is, in words; a scan counts from the LH peak."""
    day_of_count: int | None = None
    """The day of its count on which the first pup came; before that, today."""


class Stage(Fact):
    """One stage of labour. Stages two and three overlap: afterbirths come between pups.

    Stage 1: from the first sign to the first waters, sac, part, push or birth. Stage 2: from
    there to the last pup. Stage 3: from the first afterbirth to the last one, or to the end.
    """

    number: Literal[1, 2, 3]
    start: Instant | None
    end: Instant | None
    """``None`` while it goes on, or when its end was never written down."""
    length: Span | None = Field(default=None, serialization_alias="length_s")
    """To its end, or so far."""
    running: bool = False
    start_estimated: bool = False
    end_estimated: bool = False
    """Whether that time was an estimate, or only the day is known."""
    starts_with: str = ""
    """The first thing that was written down of it, in a few words."""
    ends_with: str = ""


class Pushing(Fact):
    """How long she pushed, as far as it was written down.

    A bout runs from its first push to the rest, the birth or the caesarean written down next,
    and to its last push when none came. Whether she pushed all the while is not known.
    """

    strong: Span = Field(serialization_alias="strong_s")
    weak: Span = Field(serialization_alias="weak_s")
    strong_pushes: int
    weak_pushes: int
    of_no_strength: int
    """Pushes counted as strong because nobody said how strong they were."""
    longest_strong: Span | None = Field(default=None, serialization_alias="longest_strong_s")
    longest_strong_from: Instant | None = None


class Interval(Fact):
    """The time between two births that followed one another."""

    after: int
    before: int
    """Numbers of the two pups."""
    length: Span = Field(serialization_alias="length_s")
    estimated: bool = False


class Viability(Fact):
    """A viability score: the sum, and of how many items; each item 0 to 2."""

    total: int
    items_taken: int
    at: Instant
    items: tuple[int | None, int | None, int | None, int | None, int | None]
    """Heart rate, breathing, reflex, movement, colour."""


class StepDone(Fact):
    """Something done for, or seen in, a newborn pup."""

    step: str
    at: Instant
    finding: str = ""


class Reaching(Fact):
    """A milestone of a pup, or something done for it, and when that was last written down."""

    milestone: MilestoneName
    at: Instant
    number: str = ""
    """Of a transponder, as it was read."""


class PupNote(Fact):
    """What somebody wrote behind a line about a pup, in the words it was typed in."""

    entry: int
    at: Instant
    words: str


class PupAccount(Fact):
    """One pup. ``order`` is its place by time of birth, ``number`` the name it goes by."""

    order: int
    number: int
    born: Instant
    estimated: bool = False
    """Whether the time of birth is an estimate or only a day."""
    interval: Span | None = Field(default=None, serialization_alias="interval_s")
    """Since the pup before it; ``None`` for the first."""
    sex: Literal["dog", "bitch"] | None = None
    birth_weight_g: Grams | None = None
    weight_g: Grams | None = None
    weighed: Instant | None = None
    presentation: str | None = None
    state_at_birth: str | None = None
    state: str = ""
    """As of now: ``well``, ``dead``, ``left home``, or its signs; empty when nothing was said."""
    standing: tuple[str, ...] = ()
    """What stands of it beyond its signs, by the alerts about it, the gravest first: ``cold``."""
    celsius: Celsius | None = None
    """Its newest temperature, as long as one says anything of how it is now."""
    measured: Instant | None = None
    notes: tuple[PupNote, ...] = ()
    mark: str | None = None
    chip: str | None = None
    by_caesarean: bool = False
    viability: Viability | None = None
    afterbirth: Literal["owed", "seen", "eaten", "not-seen", "caesarean"] = "owed"
    afterbirth_at: Instant | None = None
    first_milk: Instant | None = None
    steps: tuple[StepDone, ...] = ()
    milestones: tuple[Reaching, ...] = ()
    died: Instant | None = None
    died_of: str = ""
    left_home: Instant | None = None


class Afterbirths(Fact):
    """The balance of births and afterbirths."""

    pups: int
    passed: int
    """Seen or eaten."""
    owed_by: tuple[int, ...]
    """Pups whose afterbirth nobody has answered for."""
    not_seen_of: tuple[int, ...]
    """Pups whose afterbirth was looked for and not seen."""
    with_caesarean: tuple[int, ...] = ()
    surplus: int = 0


class Done(Fact):
    """Something that was done while an alert stood."""

    entry: int
    at: Instant
    words: str


class Heard(Fact):
    """When a person took notice of an alert, at which level it then stood, and who it was."""

    level: LevelWord
    at: Instant
    by: str


class Reached(Fact):
    """A level and when it was reached."""

    level: LevelWord
    at: Instant


class AlertAccount(Fact):
    """One alert from its first level to its end, as the record now reads."""

    rule: str
    title: str
    subject: str
    """``dam``, ``litter`` or ``pup 3``."""
    level: LevelWord
    """The highest it reached."""
    message: str
    """Its sentence as it reached its highest level; as of now while that still stands.

    What had only just begun when that level was reached is told as it was when the level ended.
    """
    since: Instant
    """Where the clock behind that sentence counts from. Another clock may have raised it."""
    limit: Span = Field(serialization_alias="limit_s")
    """The limit it reached with that; 0 for at once."""
    raised: Instant
    levels: tuple[Reached, ...]
    typed: Instant
    """When the line that it rests on was typed: before this no screen could show it."""
    ended: Instant | None = None
    """``None`` while it stands."""
    ended_by: tuple[Done, ...] = ()
    """The entries that ended it."""
    acknowledged: Instant | None = None
    """When a person first took notice of its highest level."""
    acknowledged_by: str = ""
    heard: tuple[Heard, ...] = ()
    """The first notice that was taken of it at each level, as far as there was one."""
    done: tuple[Done, ...] = ()
    """Calls to the vet, treatments and the like while it stood."""
    entries: tuple[int, ...] = ()
    """The entries that its clock rests on."""


class Given(Fact):
    """A treatment that was given, recorded in the words it was typed in."""

    entry: int
    at: Instant
    estimated: bool
    what: str
    by: str
    """Who gave it; empty when nobody said."""


class Contact(Fact):
    """Something between the vet and this house: rung, advised, left for, arrived, seen."""

    entry: int
    at: Instant
    estimated: bool
    contact: Literal["called", "advised", "arrived", "seen", "left-for"]
    said: str


class OpenPoint(Fact):
    """Something still open, and when to look again."""

    kind: Literal["alert", "afterbirth", "reminder", "next", "finish"]
    words: str
    level: LevelWord | None = None
    """The level that stands; of a clock that only runs, the level it will reach next."""
    do: str = ""
    """What comes first at this level; only where the vet is to be rung or driven to."""
    when: Instant | None = None
    """When the next level is reached unless what ends the clock is written down before."""
    becomes: LevelWord | None = None
    """That level."""


class Correction(Fact):
    """An entry that changed or withdrew another. ``before`` is what it read until then."""

    entry: Entry
    stands: bool
    """Whether it counts: a correction may itself be struck."""
    before: Entry | None = None
    withdrawn_by: int | None = None


class Line(Fact):
    """One line of the timeline: as typed, as it now reads, and who changed it when."""

    typed: Entry
    reads: Entry | None
    """``None`` when it was struck."""
    corrections: tuple[Correction, ...] = ()

    @property
    def at(self) -> Instant:
        """When it happened, as it now reads."""
        return (self.reads or self.typed).at


class Account(Fact):
    """Everything the paper says of one litter, as known at ``at``."""

    version: Literal[1] = Field(default=SCHEMA, serialization_alias="schema")
    litter: str
    at: Instant
    zone: str
    protocol: str
    """The version of the protocol that judged it."""
    phase: Literal["waiting", "first stage", "labour", "after whelping"]
    finished: Instant | None = None
    caesarean: Instant | None = None
    dam: Dam
    expected: Expected | None = None
    due: tuple[DueBasis, ...] = ()
    stages: tuple[Stage, ...] = ()
    pushing: Pushing | None = None
    """``None`` when no push was written down."""
    longest_interval: Interval | None = None
    pups: tuple[PupAccount, ...] = ()
    """In order of birth."""
    afterbirths: Afterbirths
    alerts: tuple[AlertAccount, ...] = ()
    """In the order in which they were raised."""
    given: tuple[Given, ...] = ()
    contacts: tuple[Contact, ...] = ()
    open: tuple[OpenPoint, ...] = ()
    timeline: tuple[Line, ...] = ()
    """In order of time as the record now reads."""
    weights: tuple[PupWeights, ...] = ()
    temperatures: tuple[Measured, ...] = ()
    discharges: tuple[DischargeSeen, ...] = ()
    dam_seen: tuple[DamSeen, ...] = ()
    limits: tuple[LimitAccount, ...] = ()
    """Of the rules that had anything to watch in this litter."""
    changes: tuple[LimitChange, ...] = ()
    sources: tuple[SourceAccount, ...] = ()
    cautions: tuple[str, ...] = ()
    digest: Digest

    @property
    def born(self) -> int:
        """Pups born, alive or dead."""
        return len(self.pups)

    @property
    def alive(self) -> int:
        """Pups not written down as dead."""
        return sum(pup.died is None for pup in self.pups)
