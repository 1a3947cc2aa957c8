"""The numbers of the protocol, and what tightens or changes them for one litter.

A number is data and not a decision: the judge takes it from the same file as the program. What a
risk factor or a vet does to it is decided here afresh, from the catalogue.
"""

from datetime import timedelta
from decimal import Decimal

from boxlamp.model.happenings import Details, Expect, Limit, Scan
from boxlamp.model.levels import Level
from judge.counts.told import Then, every, once
from support.nights import DEFAULT

NEVER_RELAXED = {
    "contraction-no-pup", "part-showing", "green-before-first-pup", "foul-discharge",
    "dam-collapse", "dam-tremor", "not-breathing",
}  # fmt: skip
_TRUST = {"guess": 1, "scan": 2, "xray": 3}


def number(rule: str, name: str) -> Decimal:
    """A setting in its own unit, times in seconds."""
    return DEFAULT.numbers[rule, name]


def span(rule: str, name: str) -> timedelta:
    """A setting that is a length of time."""
    return timedelta(seconds=int(number(rule, name)))


def limit(then: Then, rule: str, clock: str, level: Level) -> timedelta:
    """A limit as it stands at this instant for this litter."""
    record = next(
        one for one in DEFAULT.limit
        if (one.rule, one.clock, one.level) == (rule, clock, level.word)
    )  # fmt: skip
    if record.follows:
        return limit(then, record.follows, "main", level)
    own = tightened(record.span, level) if at_risk(then, rule) else record.span
    for said in every(then, Limit):
        change = said.what
        if (change.rule, change.clock, change.level) == (rule, clock, level.word):
            own = timedelta(seconds=change.seconds)
    return own


def plain_limit(rule: str, clock: str, level: Level) -> timedelta:
    """A limit of a rule that no risk tightens."""
    return DEFAULT.spans[rule, clock][level]


def reached(rule: str, clock: str, elapsed: timedelta) -> Level | None:
    """The highest level, not counting reminders, that so long a time of a clock has reached."""
    limits = DEFAULT.spans[rule, clock].items()
    return max((level for level, span in limits if level and elapsed >= span), default=None)


def banded(rule: str, clock: str, value: Decimal) -> Level | None:
    """The highest level whose band holds this value."""
    bands = DEFAULT.bands.get((rule, clock), ())
    return max((Level[band.level.upper()] for band in bands if band.holds(value)), default=None)


@once
def expected(then: Then) -> tuple[int, str] | None:
    """The best count of the pups: by x-ray, then by scan, then a guess; of the same, the latest."""
    counts = [(said.place, said.what.count, said.what.method) for said in every(then, Expect)] + [
        (said.place, said.what.count, "xray" if said.what.method == "xray" else "scan")
        for said in every(then, Scan)
        if said.what.count is not None
    ]
    best = max(counts, key=lambda one: (_TRUST[one[2]], one[0]), default=None)
    return None if best is None else (best[1], best[2])


@once
def details(then: Then) -> Details:
    """What is known of the dam: of each fact the newest word."""
    facts: dict[str, object] = {}
    for said in every(then, Details):
        facts |= {name: value for name, value in said.what if value is not None}
    return Details.model_validate(facts)


def at_risk(then: Then, rule: str) -> bool:
    """Whether a risk factor tightens this rule: catalogue, under "Labour"."""
    risk = DEFAULT.risk
    if rule not in risk.rules:
        return False
    dam, count = details(then), expected(then)
    breed = (dam.breed or "").strip().lower()
    return any(
        (
            breed in risk.flat_faced_breeds if dam.flat_faced is None else dam.flat_faced,
            breed in risk.toy_breeds if dam.toy is None else dam.toy,
            count is not None and 1 <= count[0] <= risk.few_pups,
            count is not None and count[0] > risk.many_pups,
            dam.first_litter and (dam.age_years or 0) > risk.old_first_litter_years,
            dam.earlier_dystocia,
            dam.earlier_caesarean,
            dam.weight is not None and not risk.light_grams <= dam.weight <= risk.heavy_grams,
        )
    )


def tightened(own: timedelta, level: Level) -> timedelta:
    """Watch times 0.5, call and go times 0.75, down to whole 5 minutes and not below 5."""
    step = DEFAULT.risk.round_down_to
    factor = DEFAULT.risk.watch_factor if level is Level.WATCH else DEFAULT.risk.call_factor
    shorter = int(int(own.total_seconds()) * factor) // step * step
    return min(own, timedelta(seconds=max(step, shorter)))
