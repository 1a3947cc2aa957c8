"""The records of a protocol file: limits, bands, settings, formulas, sources, risk factors."""

from datetime import date, timedelta
from decimal import Decimal, InvalidOperation
from functools import cached_property
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from boxlamp.model.levels import Level

# Every validator here is built when a file is first read: the shipped protocol comes packed.
CONFIG = ConfigDict(frozen=True, extra="forbid", defer_build=True)

Seen = Literal["A", "X", "2", "M", "C", "P", "T", "S", "L", "D"]
"""How far the value was verified at its source; :data:`SEEN_WORDS` says it in words."""

SEEN_WORDS: dict[str, str] = {
    "A": "abstract or criteria list read",
    "T": "complete published table read",
    "X": "excerpt of the source read",
    "S": "reported by another source",
    "2": "reported by another source",
    "L": "lay or clinic page, excerpt read",
    "M": "from memory, not confirmed",
    "P": "common practice",
    "D": "derived from published values",
    "C": "our choice, no published source",
}

Unit = Literal["s", "min", "h", "d"]
_SECONDS: dict[str, int] = {"s": 1, "min": 60, "h": 3600, "d": 86400}


def seconds_in(unit: str) -> int:
    """How many seconds one of this unit of time has; 1 for anything else."""
    return _SECONDS.get(unit, 1)


class ProtocolError(Exception):
    """A protocol file that cannot be used, with one sentence per problem."""

    exit_code = 2

    def __init__(self, problems: list[str]) -> None:
        super().__init__("\n".join(problems))
        self.problems = problems


class Source(BaseModel):
    """Where a value comes from: a title, and a DOI or address."""

    model_config = CONFIG

    title: str
    where: str = ""


class Record(BaseModel):
    """What every value carries: its source, the place in it, what it says, who checked when.

    ``says`` restates the source in our own words. ``checked`` is the day a person last checked
    that the value still stands.
    """

    model_config = CONFIG

    rule: str
    source: str = ""
    place: str = ""
    says: str
    seen: Seen
    checked: date


class LimitRecord(Record):
    """How long a clock may run before a level is reached. Zero means at once."""

    clock: str = "main"
    level: Literal["prompt", "watch", "call", "go"]
    value: Annotated[Decimal, Field(ge=0, le=100_000)]
    unit: Unit
    follows: str = ""
    """The rule whose limit of this level this one always equals, also when that one changes."""

    @property
    def span(self) -> timedelta:
        """The limit as a length of time."""
        return timedelta(seconds=float(self.value * seconds_in(self.unit)))


class BandRecord(Record):
    """Which readings reach a level: at or above, or below, a value in the unit given."""

    clock: str = "main"
    level: Literal["prompt", "watch", "call", "go"]
    when: Literal["at or above", "at or below", "above", "below"]
    value: Decimal
    unit: str

    @cached_property
    def reaches(self) -> Level:
        """The level, as a level and not as the file's word for it."""
        return level_of(self.level)

    def holds(self, reading: Decimal) -> bool:
        """Whether a reading falls in this band."""
        match self.when:
            case "at or above":
                return reading >= self.value
            case "at or below":
                return reading <= self.value
            case "above":
                return reading > self.value
            case "below":  # pragma: no branch - there is no fifth way
                return reading < self.value


class SettingRecord(Record):
    """A number a rule needs to recognise its spells. Times are given in seconds to the rule."""

    name: str
    value: Decimal
    unit: str

    @property
    def number(self) -> Decimal:
        """The value as a rule sees it: seconds for a time, otherwise in its own unit."""
        return self.value * seconds_in(self.unit)


class FormulaRecord(Record):
    """Days left until the birth from one ultrasound measurement, for some dogs.

    ``(constant - per_mm x millimetres) / divisor``. It holds from ``fewest_days`` to ``most_days``
    left; ``within`` and ``accuracy`` say how far it may be off.
    """

    name: str
    measure: Literal["icc", "bpd"]
    dogs: str
    breeds: tuple[str, ...] = ()
    at_least_kg: Decimal | None = None
    over_kg: Decimal | None = None
    at_most_kg: Decimal | None = None
    under_kg: Decimal | None = None
    unweighed: bool = False
    """Whether it is also the one to take while nobody has written down what she weighs."""
    constant: Decimal
    per_mm: Annotated[Decimal, Field(gt=0)]
    divisor: Annotated[Decimal, Field(gt=0)] = Decimal(1)
    fewest_days: Annotated[Decimal, Field(ge=0)] = Decimal(0)
    most_days: Decimal | None = None
    within: Annotated[int, Field(ge=0)]
    within_seen: Seen
    """How far ``within`` was verified, which is another source than that of the formula."""
    accuracy: str

    @property
    def drives(self) -> bool:
        """Whether alarms may rest on it. What is only remembered is shown and drives nothing."""
        return self.seen != "M"

    @property
    def written_out(self) -> str:
        """The formula as a reader would check it: ``44.76 - 0.434 x mm``."""
        line = f"{self.constant} - {self.per_mm} x mm"
        return line if self.divisor == 1 else f"({line}) / {self.divisor}"

    def suits(self, breed: str, kilos: Decimal | None) -> bool:
        """Whether it was made for such a dog. A formula for a breed asks for no weight."""
        if self.breeds:
            return breed.strip().casefold() in self.breeds
        if kilos is None:
            return self.unweighed
        return (
            (self.at_least_kg is None or kilos >= self.at_least_kg)
            and (self.over_kg is None or kilos > self.over_kg)
            and (self.at_most_kg is None or kilos <= self.at_most_kg)
            and (self.under_kg is None or kilos < self.under_kg)
        )

    def days_left(self, millimetres: Decimal) -> Decimal:
        """How many days she has left by this measurement, not rounded."""
        return (self.constant - self.per_mm * millimetres) / self.divisor

    def holds(self, days: Decimal) -> bool:
        """Whether the formula is published for so many days left."""
        return self.fewest_days <= days and (self.most_days is None or days <= self.most_days)


class Risk(BaseModel):
    """How risk factors tighten the labour limits, and which breeds carry one by name."""

    model_config = CONFIG

    rules: tuple[str, ...]
    watch_factor: Annotated[Decimal, Field(gt=0, le=1)]
    call_factor: Annotated[Decimal, Field(gt=0, le=1)]
    round_down_to: Annotated[int, Field(gt=0)]
    """Seconds; also the least a tightened limit may become."""
    few_pups: int
    many_pups: int
    old_first_litter_years: Decimal
    light_grams: Decimal
    heavy_grams: Decimal
    flat_faced_breeds: tuple[str, ...]
    toy_breeds: tuple[str, ...]
    source: str = ""
    says: str
    seen: Seen
    checked: date


class Protocol(BaseModel):
    """A whole rule set's numbers, versioned as one."""

    model_config = CONFIG

    version: str
    repeat_go_minutes: Annotated[Decimal, Field(gt=0)]
    """A ``go`` that is still true sounds again after this long, even if acknowledged."""
    sources: dict[str, Source]
    limit: tuple[LimitRecord, ...]
    band: tuple[BandRecord, ...]
    setting: tuple[SettingRecord, ...]
    formula: tuple[FormulaRecord, ...] = ()
    risk: Risk

    @property
    def repeat_go(self) -> timedelta:
        """How long a ``go`` may stay silenced."""
        return timedelta(minutes=float(self.repeat_go_minutes))

    @cached_property
    def spans(self) -> dict[tuple[str, str], dict[Level, timedelta]]:
        """The limits by rule and clock."""
        spans: dict[tuple[str, str], dict[Level, timedelta]] = {}
        for record in self.limit:
            spans.setdefault((record.rule, record.clock), {})[level_of(record.level)] = record.span
        return spans

    @cached_property
    def following(self) -> dict[tuple[str, str, Level], str]:
        """Each limit that always equals another rule's: that rule, by rule, clock and level."""
        return {
            (record.rule, record.clock, level_of(record.level)): record.follows
            for record in self.limit
            if record.follows
        }

    @cached_property
    def bands(self) -> dict[tuple[str, str], tuple[BandRecord, ...]]:
        """The bands by rule and clock."""
        bands: dict[tuple[str, str], tuple[BandRecord, ...]] = {}
        for record in self.band:
            key = record.rule, record.clock
            bands[key] = (*bands.get(key, ()), record)
        return bands

    @cached_property
    def numbers(self) -> dict[tuple[str, str], Decimal]:
        """The settings by rule and name."""
        return {(record.rule, record.name): record.number for record in self.setting}

    @cached_property
    def lengths(self) -> dict[tuple[str, str], timedelta]:
        """The settings that are lengths of time, by rule and name."""
        return {
            (record.rule, record.name): timedelta(seconds=float(record.number))
            for record in self.setting
            if record.unit in _SECONDS
        }

    def records_of(self, rule: str) -> list[Record]:
        """Every record of one rule: limits, bands, settings, formulas."""
        return [record for record in self.records if record.rule == rule]

    @property
    def records(self) -> tuple[Record, ...]:
        """Every record there is."""
        return (*self.limit, *self.band, *self.setting, *self.formula)


def level_of(word: str) -> Level:
    """The level a file's word names."""
    return Level[word.upper()]


def read_protocol(text: str) -> Protocol:
    """Read a whole protocol from the text of a TOML file, or raise :class:`ProtocolError`."""
    data = toml(text)
    try:
        protocol = Protocol.model_validate(data)
    except ValidationError as error:
        raise ProtocolError(problems_of(error)) from error
    problems = _inconsistencies(protocol)
    if problems:
        raise ProtocolError(problems)
    return protocol


_TOO_DEEP = "The file is nested too deeply to be a list of limits."
# A key of very many parts costs the parser memory by the square of their number.
_LONG_KEY = r"""(?<![\w-])(?:(?:[\w-]++|"[^"\n]*+"|'[^'\n]*+')[ \t]*+\.[ \t]*+){32}"""


def toml(text: str) -> dict[str, Any]:
    """Parse TOML, with a sentence instead of a traceback when it is not."""
    import re
    import tomllib

    if re.search(_LONG_KEY, text):
        raise ProtocolError([_TOO_DEEP])
    try:
        return tomllib.loads(text, parse_float=Decimal)
    except RecursionError as error:
        raise ProtocolError([_TOO_DEEP]) from error
    except tomllib.TOMLDecodeError as error:
        raise ProtocolError([f"The file is not valid TOML: {error}."]) from error
    except (ValueError, InvalidOperation) as error:
        # Thousands of digits, or an exponent that no number can have.
        raise ProtocolError(["The file holds a number beyond anything possible."]) from error


def problems_of(error: ValidationError) -> list[str]:
    """One sentence per thing that is wrong, naming the record and the field."""
    return [
        f"{' > '.join(str(part) for part in item['loc'])}: {item['msg']}."
        for item in error.errors()
    ]


def _inconsistencies(protocol: Protocol) -> list[str]:
    problems: list[str] = []
    named: set[tuple[str, ...]] = set()
    for record in protocol.records:
        if record.source and record.source not in protocol.sources:
            problems.append(f"{record.rule}: there is no source named {record.source!r}.")
        if not record.source and record.seen not in {"C", "P", "M"}:
            problems.append(f"{record.rule}: a value without a source must be marked C, P or M.")
        key = _key(record)
        if key in named:
            problems.append(f"{' '.join(key)}: stated twice.")
        named.add(key)
    for (rule, clock), spans in protocol.spans.items():
        if [spans[level] for level in sorted(spans)] != sorted(spans.values()):
            problems.append(f"{rule} {clock}: a higher level comes before a lower one.")
    return problems


def _key(record: Record) -> tuple[str, ...]:
    """What a record is about; two records about the same thing contradict each other."""
    if isinstance(record, LimitRecord | BandRecord):
        return record.rule, record.clock, record.level
    kind = "formula" if isinstance(record, FormulaRecord) else "setting"
    return record.rule, kind, getattr(record, "name", "")
