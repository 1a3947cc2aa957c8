"""The day she is due, by every basis that is known, and which of them drives the alarms.

What the alarms count from is decided in :mod:`boxlamp.rules.term`; here the same evidence is
told to a person, with how exact it is and who says so.
"""

from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from typing import NamedTuple

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Caesarean, Mating, Ovulation, Scan
from boxlamp.model.quantities import plain, rounded
from boxlamp.model.story import Story
from boxlamp.planning.items import length_of, setting
from boxlamp.protocol.book import Book
from boxlamp.protocol.records import FormulaRecord, Record, Seen
from boxlamp.rules.measured import Measured
from boxlamp.rules.term import CLOCKS, KINDS, OWNER, WORDS, Basis, Evidence, local_day

_TOLD = {
    "dioestrus": "first day of dioestrus",
    "lh": "LH peak",
    "progesterone-rise": "progesterone rise",
    "ovulation": "ovulation",
    "progesterone": "progesterone",
    "mating": "first mating",
}
_MEASURES = {"icc": "ICC", "bpd": "BPD"}


class DueDate(NamedTuple):
    """The day she is due by one basis.

    ``day`` is the day of the evidence and ``zero`` day 0 of its count; a scan counts from the LH
    peak. ``earliest`` to ``latest`` is the window its source gives. ``record`` is that source's
    record. ``drives`` marks the one that the alarms count from.
    """

    kind: str
    clock: str
    told: str
    day: date
    zero: date
    due: date
    earliest: date
    latest: date
    accuracy: str
    window_seen: Seen
    """How far the window was verified; for a scan that is not the source of the formula."""
    record: Record
    remembered: bool
    """From memory, not confirmed: shown, and never what the alarms count from."""
    entries: tuple[int, ...]
    drives: bool = False
    why: str = ""

    @property
    def rank(self) -> int:
        """The place of its clock in the order of trust, from 1."""
        return CLOCKS.index(self.clock) + 1

    def day_on(self, today: date) -> int:
        """Which day of the count a date is."""
        return (today - self.zero).days

    @property
    def counted_from(self) -> str:
        """What day 0 is, in words."""
        names = {"lh": "the LH peak", "progesterone-rise": "the first progesterone rise"}
        return names.get(self.kind, WORDS[self.clock])


class Unused(NamedTuple):
    """Evidence that no day is counted from, and why."""

    told: str
    day: date
    why: str
    entries: tuple[int, ...]


class Clash(NamedTuple):
    """Two bases that contradict each other: the most trusted one and the one furthest from it."""

    trusted: DueDate
    other: DueDate

    @property
    def days(self) -> int:
        """How much earlier the other is due; negative when it is later."""
        return (self.trusted.due - self.other.due).days


class Dates(NamedTuple):
    """Every basis in the order of trust, and what is to be said about them together."""

    bases: tuple[DueDate, ...]
    unused: tuple[Unused, ...]
    clash: Clash | None = None
    notes: tuple[str, ...] = ()

    @property
    def driver(self) -> DueDate | None:
        """The basis that the alarms count from."""
        return next((one for one in self.bases if one.drives), None)

    @property
    def trusted(self) -> DueDate | None:
        """The most trusted basis: by it, labour is judged to be early or not."""
        return next((one for one in self.bases if not one.remembered), None)


def due_dates(story: Story, book: Book) -> Dates:
    """Every day she may be due, from what was known before the birth."""
    evidence = Evidence(book)
    known = list(_before_birth(story))
    for entry in known:
        evidence.take(entry)
    found = sorted(_all(evidence, book, known), key=lambda one: (one.rank, one.remembered, one.due))
    bases = tuple(_judged(found, evidence))
    return Dates(
        bases,
        tuple(_unused(evidence, known)),
        _clash(bases, evidence),
        tuple(_notes(bases, evidence, known)),
    )


def _before_birth(story: Story) -> Iterator[Entry]:
    for entry in story.of(*KINDS, Birth, Caesarean):
        if not isinstance(entry.what, KINDS):
            return
        yield entry


def _all(evidence: Evidence, book: Book, known: Sequence[Entry]) -> Iterator[DueDate]:
    for basis in evidence.found:
        yield _by_scan(basis, basis.measured) if basis.measured else _dated(basis, book, known)
    for measured in evidence.scans.tried():
        if measured.holds and not measured.formula.drives:
            yield _by_scan(evidence.by_scan(measured), measured)


def _dated(basis: Basis, book: Book, known: Sequence[Entry]) -> DueDate:
    kind, told = _kind(basis.entry)
    first, last = (setting(book, OWNER, f"{side}-{kind}") for side in ("earliest", "latest"))
    ends = basis.zero
    if kind == "mating":
        # Any of them may have taken: the window ends as long after the last.
        ends = max(local_day(entry) for entry in known if isinstance(entry.what, Mating))
    return DueDate(
        kind, basis.clock, told, basis.zero, basis.zero, basis.due,
        basis.zero + length_of(first), ends + length_of(last), last.says, last.seen, last,
        remembered=False,
        entries=basis.entries,
    )  # fmt: skip


def _kind(entry: Entry) -> tuple[str, str]:
    match entry.what:
        case Ovulation(basis=basis, value=value):
            amount = f" {plain(value)} ng/mL" if value is not None else ""
            return basis, f"{_TOLD[basis]}{amount}"
        case _:
            return "mating", _TOLD["mating"]


def _by_scan(basis: Basis, measured: Measured) -> DueDate:
    formula = measured.formula
    if not isinstance(formula, FormulaRecord):
        raise TypeError(f"{formula.name} is no record of a protocol")
    within = timedelta(days=formula.within)
    return DueDate(
        formula.measure, basis.clock, scan_words(measured), measured.day, basis.zero, basis.due,
        basis.due - within, basis.due + within, formula.accuracy, formula.within_seen, formula,
        remembered=not formula.drives, entries=basis.entries,
    )  # fmt: skip


def scan_words(measured: Measured) -> str:
    """``scan ICC 30 mm``; ``scan BPD 21.5 mm (mean of 2)``."""
    size = plain(rounded(measured.millimetres))
    several = f" (mean of {len(measured.entries)})" if len(measured.entries) > 1 else ""
    return f"scan {_MEASURES[measured.formula.measure]} {size} mm{several}"


def _judged(found: list[DueDate], evidence: Evidence) -> Iterator[DueDate]:
    """Each basis with why it drives the alarms, or why it does not."""
    best, trusted = evidence.best, evidence.trusted
    for one in found:
        drives = (
            best is not None
            and not one.remembered
            and (one.clock, one.entries, one.due) == (best.clock, best.entries, best.due)
        )
        if one.remembered:
            why = "the formula is from memory, so no alarm counts from it"
        elif not drives:
            why = "another one drives the alarms"
        elif best == trusted:
            alone = len(evidence.found) == 1
            why = "the only one known" if alone else "the most trusted one known"
        else:
            why = "due so much earlier that the alarms keep to it"
        yield one._replace(drives=drives, why=why)


def _clash(bases: Sequence[DueDate], evidence: Evidence) -> Clash | None:
    """The contradiction that a person should know of, if there is one.

    One that is due too early drives the alarms and is the one to name, whatever else is late.
    """
    sure = [one for one in bases if not one.remembered]
    if not sure:
        return None
    trusted = sure[0]
    driver = next(one for one in sure if one.drives)
    if driver is not trusted:
        return Clash(trusted, driver)
    latest = max(sure, key=lambda one: one.due)
    return Clash(trusted, latest) if evidence.apart(latest.due, trusted.due) else None


def _unused(evidence: Evidence, known: Sequence[Entry]) -> Iterator[Unused]:
    used = {number for basis in evidence.found for number in basis.entries}
    for measured in evidence.scans.tried():
        entries = tuple(entry.id for entry in measured.entries)
        if not measured.holds and not used & set(entries):
            used |= set(entries)  # one reason is enough: that of the formula tried first
            yield Unused(scan_words(measured), measured.day, _beyond(measured), entries)
    for entry in known:
        match entry.what:
            case Ovulation(basis="progesterone", value=value) if entry.id not in used:
                told = f"progesterone {plain(value)} ng/mL" if value is not None else "progesterone"
                yield Unused(told, local_day(entry), "too low to be ovulation", (entry.id,))
            case Scan(measure=str() as measure) if not _measures(entry):
                told = f"{entry.what.method} {_MEASURES[measure]}"
                yield Unused(told, local_day(entry), "no measurement of a scan", (entry.id,))
            case _:
                pass


def _measures(entry: Entry) -> bool:
    what = entry.what
    return isinstance(what, Scan) and what.method == "ultrasound" and bool(what.millimetres)


def _beyond(measured: Measured) -> str:
    """Why a formula's result is not believed."""
    days = plain(rounded(measured.days_left))
    if measured.days_left < 0:
        return f"the formula gives {days} days left, which cannot be"
    return f"the formula gives {days} days left, and is not published for that"


def _notes(bases: Sequence[DueDate], evidence: Evidence, known: Sequence[Entry]) -> Iterator[str]:
    """What a reader of the table should know besides."""
    days = sorted({local_day(entry) for entry in known if isinstance(entry.what, Mating)})
    if len(days) > 1:
        yield (
            f"Several matings, {len(days)} days known: the first counts for the alarms, and the "
            "window runs to the last."
        )
    read = [one.record for one in bases if isinstance(one.record, FormulaRecord)]
    if evidence.scans.kilos is None and any(record.unweighed for record in read):
        yield (
            "Her weight is not written down, so the scan is read as for dogs of 9 to 40 kg: "
            "`set weight 12kg`."
        )
