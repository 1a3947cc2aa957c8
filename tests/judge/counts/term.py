"""The count of days: overdue, early, and when her temperature and the pups' milestones are due."""

from collections.abc import Iterable
from datetime import UTC, date, datetime, time, timedelta
from decimal import ROUND_HALF_DOWN, Decimal
from typing import NamedTuple
from zoneinfo import ZoneInfo

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Birth,
    Caesarean,
    Contraction,
    Finished,
    Mating,
    Milestone,
    Ovulation,
    Part,
    Sac,
    Scan,
    Settled,
    Sign,
    Temperature,
    Waters,
)
from boxlamp.model.levels import DAM, Level, pup_subject
from judge.counts.numbers import banded, details, number, plain_limit, reached, span
from judge.counts.told import Known, Levels, Then, births, every, here, once, whelped
from support.nights import DEFAULT

FOREVER = datetime.max.replace(tzinfo=UTC)
TRUST = ("dioestrus", "lh", "ovulation", "scan", "late-scan", "mating")
"""The bases, the most trusted first: catalogue, "Before labour"."""
DAY = timedelta(days=1)
SIGNS = (Sign, Waters, Sac, Contraction, Part, Birth)


class Basis(NamedTuple):
    """One way of counting: its name, and how many days after an entry day 0 lies."""

    name: str
    entry: Entry
    shift: int = 0

    @property
    def zero(self) -> datetime:
        """The instant at which day 0 begins."""
        return midnight(self.entry, self.shift)

    @property
    def due(self) -> date:
        """The day she is due."""
        name = "due-" + ("scan" if self.name == "late-scan" else self.name)
        return day(self.entry) + timedelta(days=self.shift) + span("overdue", name)

    def before_due(self, days: timedelta) -> datetime:
        """So many whole days of 24 hours before the day she is due begins."""
        return midnight(self.entry, (self.due - day(self.entry)) // DAY) - days


def day(entry: Entry) -> date:
    """The calendar day of an entry on the wall it was read from."""
    return entry.at.astimezone(ZoneInfo(entry.zone)).date()


def midnight(entry: Entry, days: int = 0) -> datetime:
    """Local midnight of the day of an entry, so many calendar days later."""
    zone = ZoneInfo(entry.zone)
    return datetime.combine(day(entry) + timedelta(days=days), time(), zone).astimezone(UTC)


@once
def bases(then: Then) -> list[Basis]:
    """Every basis there is evidence for now, the most trusted first, of equals the one due first.

    Of several matings the first counts.
    """
    found: list[Basis] = []
    for entry in then.known:
        what = entry.what
        if isinstance(what, Mating) and not any(one.name == "mating" for one in found):
            found.append(Basis("mating", entry))
        elif isinstance(what, Ovulation) and what.basis == "dioestrus":
            found.append(Basis("dioestrus", entry))
        elif isinstance(what, Ovulation) and what.basis in {"lh", "progesterone-rise"}:
            found.append(Basis("lh", entry))
        elif isinstance(what, Ovulation) and _shows_ovulation(what):
            found.append(Basis("ovulation", entry))
        elif isinstance(what, Scan):
            found += _scanned(then, entry, what)
    return sorted(found, key=lambda basis: (TRUST.index(basis.name), basis.due))


def _shows_ovulation(what: Ovulation) -> bool:
    least = number("overdue", "progesterone-at-ovulation")
    return what.basis == "ovulation" or (what.value is not None and what.value >= least)


def _scanned(then: Then, entry: Entry, what: Scan) -> list[Basis]:
    """Day 0 by a scan: measurements of one kind on one day count as their mean.

    Of half a day left the earlier day is taken (so say the rule's cases).
    """
    if what.method != "ultrasound" or what.measure is None or not what.millimetres:
        return []
    same = [
        other.what.millimetres
        for other in then.known
        if isinstance(other.what, Scan)
        and (other.what.method, other.what.measure) == (what.method, what.measure)
        and other.what.millimetres
        and midnight(other) == midnight(entry)
    ]
    left = days_left(then, what.measure, sum(same, Decimal()) / len(same))
    if left is None:
        return []
    days = int(left.quantize(Decimal(1), rounding=ROUND_HALF_DOWN))
    long = span("overdue", "due-scan") // DAY
    early = long - days <= span("overdue", "scan-early-until") // DAY
    return [Basis("scan" if early else "late-scan", entry, days - long)]


def days_left(then: Then, measure: str, millimetres: Decimal) -> Decimal | None:
    """By the first formula made for such a dog that holds for so many days and may drive."""
    dam = details(then)
    kilos = None if dam.weight is None else dam.weight / 1000
    for formula in DEFAULT.formula:
        if formula.measure != measure or not formula.drives:
            continue
        left = formula.days_left(millimetres)
        if formula.suits(dam.breed or "", kilos) and formula.holds(left):
            return left
    return None


@once
def driving(then: Then) -> Basis | None:
    """The most trusted, or the one due first when that is more than two days before it."""
    known = bases(then)
    if not known:
        return None
    first = min(known, key=lambda basis: basis.due)
    return first if known[0].due - first.due > span("overdue", "bases-apart") else known[0]


def overdue(then: Then) -> Levels:
    """The day count on what drives, until a birth, a caesarean or the end."""
    basis = driving(then)
    if basis is None or any(every(then, kind) for kind in (Birth, Caesarean, Finished)):
        return {}
    level = reached("overdue", basis.name, then.now - basis.zero)
    return {} if level is None else {DAM: level}


def labour_early(then: Then) -> Levels:
    """The whole days at the first sign of this labour, by the most trusted evidence."""
    begun = labour_began(then)
    known = bases(then)
    if begun is None or not known:
        return {}
    basis = known[0]
    days = (day(begun) - day(basis.entry)) // DAY - basis.shift
    level = banded("labour-early", basis.name, Decimal(days))
    return {} if level is None else {DAM: level}


@once
def labour_began(then: Then) -> Entry | None:
    """The first sign since she last settled; settling ends only what were signs and no more."""
    first: Entry | None = None
    further = False
    for entry in then.known:
        what = entry.what
        if isinstance(what, Caesarean | Finished):
            return None
        if isinstance(what, SIGNS):
            first = first or entry
            further = further or not isinstance(what, Sign)
        elif isinstance(what, Settled) and not further:
            first = None
    return first


def temperature_due(then: Then) -> Levels:
    """By the time since her last temperature, in the last week, the last days, and after it."""
    rule = "temperature-due"
    after = _after(then)
    taken = [said.at for said in every(then, Temperature) if said.what.where == "dam"]
    if after is not None:
        zero, until = after
        since = max([zero, *(at for at in taken if at >= zero)])
        due = then.now >= since + plain_limit(rule, "after-whelping", Level.PROMPT)
        on = due and then.now < until
        return {f"{DAM} after-whelping": Level.PROMPT} if on else {}
    basis = driving(then)
    begun = any(every(then, kind) for kind in (Birth, Waters, Contraction, Sac, Part, Caesarean))
    if basis is None or begun:
        return {}
    start = basis.before_due(span(rule, "last-week"))
    near = basis.before_due(span(rule, "last-days"))
    if then.now < start:
        return {}
    since = max([start, *(at for at in taken if at >= start)])
    clock = "last-days" if then.now >= near else "last-week"
    due = then.now >= since + plain_limit(rule, clock, Level.PROMPT)
    return {f"{DAM} {clock}": Level.PROMPT} if due else {}


def _after(then: Then) -> tuple[datetime, datetime] | None:
    """From when on she is asked for after the whelping, and until when."""
    ends = every(then, Finished)
    born = whelped(then)
    if born is None:
        return None
    came = [*every(then, Birth), *every(then, Caesarean)]
    last = max((said.place for said in came), default=-1)
    first_end = next((said.at for said in ends if said.place > last), born)
    return first_end, born + span("temperature-due", "until")


def milestone_due(then: Then) -> Levels:
    """By each pup's age; a worming again a fortnight after the last."""
    found: Levels = {}
    for pup in here(then):
        for clock in CLOCKS:
            if _milestone(then, pup, clock):
                found[f"{pup_subject(pup)} {clock}"] = Level.PROMPT
    return found


CLOCKS = (
    "cord-off", "eyes-open", "ears-open", "walking", "toilet", "wormed", "vaccinated", "chipped",
    "eyes-open-late", "ears-open-late", "walking-late",
)  # fmt: skip


def _milestone(then: Then, pup: int, clock: str) -> bool:
    rule, birth = "milestone-due", births(then)[pup]
    age, name = then.now - birth.at, clock.removesuffix("-late")
    done = [
        said.at
        for said in every(then, Milestone)
        if said.what.milestone == name and said.what.pup in {pup, None} and said.place > birth.place
    ]
    if age >= span(rule, f"{name}-until"):
        return False
    if clock != name:
        return not done and age >= span(rule, clock)
    late = (rule, f"{name}-late") in DEFAULT.numbers and age >= span(rule, f"{name}-late")
    limit = plain_limit(rule, name, Level.PROMPT)
    if name == "wormed" and done:
        return then.now >= done[-1] + limit
    return not done and not late and age >= limit


def midnights(entries: tuple[Entry, ...]) -> Iterable[datetime]:
    """Every instant at which a count of days may reach a limit."""
    moments: set[datetime] = set()
    limits = [record.span for record in DEFAULT.limit if record.rule == "overdue"]
    weeks = [span("temperature-due", name) for name in ("last-week", "last-days")]
    known = Then(Known(entries), FOREVER)
    for place in range(len(entries)):
        for basis in bases(known.before(place)):
            starts = [basis.before_due(days) for days in weeks]
            moments |= {basis.zero + limit for limit in limits}
            moments |= {start + timedelta(hours=hours) for start in starts for hours in (0, 8, 12)}
    return moments
