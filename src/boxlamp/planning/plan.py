"""From now to the birth: the days by which things are ready, and the days that mean something.

Every number is a record of the protocol. Limits are those in force for this litter: a vet may
have changed one.
"""

from collections.abc import Iterator
from datetime import date, timedelta

from boxlamp.model.levels import Level
from boxlamp.model.litter import Litter
from boxlamp.model.quantities import plain
from boxlamp.planning.dates import DueDate
from boxlamp.planning.items import PlanItem, length_of, limit, setting
from boxlamp.planning.kit import missing
from boxlamp.protocol.book import Book
from boxlamp.protocol.records import LimitRecord
from boxlamp.rules.temperature_due import ID as TEMPERATURES
from boxlamp.rules.term import OWNER

_EARLY = "labour-early"
_DAY = timedelta(days=1)


def plan(
    driver: DueDate, trusted: DueDate, litter: Litter, book: Book, born: date | None = None
) -> list[PlanItem]:
    """Every line of the plan in order of its days; after the birth what had not come is off.

    ``driver`` is the basis that drives the alarms. Whether labour is early is judged by the most
    ``trusted`` one, which may be due later.
    """
    items = [
        *_preparing(driver, litter, book),
        *_measuring(driver, book),
        _not_early(trusted, book, disputed=trusted != driver),
        *_meaning(driver, book),
    ]
    if born is not None:
        items = [item._replace(state="off") if item.first > born else item for item in items]
    return sorted(items, key=lambda item: (item.first, item.last))


def _preparing(driver: DueDate, litter: Litter, book: Book) -> Iterator[PlanItem]:
    risks = ", ".join(book.now.risks)
    tell = setting(book, OWNER, "tell-vet-before")
    yield PlanItem(
        "tell-vet", "Tell the vet when she is due",
        *_one_day(driver.due - length_of(tell)),
        "Ask whom to ring at night, and what your vet wants to hear of."
        + (f" Say that limits are tightened for her: {risks}." if risks else ""),
        tell,
    )  # fmt: skip
    first, last = (setting(book, OWNER, name) for name in ("xray-from", "xray-until"))
    yield PlanItem(
        "xray", "X-ray to count the pups",
        driver.due - length_of(first), driver.due - length_of(last),
        "Ask the vet whether and when. With the count you know when she may be done: it is the "
        "least number there is, and there may be one more.",
        first, "done" if litter.expected_by == "xray" else "",
    )  # fmt: skip
    ready, open_ = setting(book, OWNER, "kit-ready-before"), missing(litter)
    yield PlanItem(
        "kit", "Everything on the kit list ready",
        *_one_day(driver.due - length_of(ready)),
        "`boxlamp kit` shows the list.", ready, "" if open_ else "done",
    )  # fmt: skip


def _measuring(driver: DueDate, book: Book) -> Iterator[PlanItem]:
    week, days = (setting(book, TEMPERATURES, name) for name in ("last-week", "last-days"))
    seldom, often = (limit(book, TEMPERATURES, name) for name in ("last-week", "last-days"))
    begin, closer = driver.due - length_of(week), driver.due - length_of(days)
    yield PlanItem(
        "temperature", f"Take her temperature every {_every(seldom)}",
        begin, closer - _DAY,
        "At the same hours, before she eats or goes out, and write it down: `temp 38.1`.", week,
    )  # fmt: skip
    yield PlanItem(
        "temperature-often", f"Take her temperature every {_every(often)}",
        closer, driver.due,
        "A fall tells that labour is near; not every dam shows one.", days,
    )  # fmt: skip


def _not_early(trusted: DueDate, book: Book, *, disputed: bool) -> PlanItem:
    title = "From this day on labour is not early"
    if disputed:
        title = f"By {trusted.told}: labour no longer early"
    early = next(
        record
        for record in book.protocol.bands[_EARLY, trusted.clock]
        if record.level == Level.WATCH.word
    )
    return PlanItem(
        "not-early", title,
        *_one_day(trusted.zero + timedelta(days=int(early.value))),
        "Signs of labour before this day come too soon: ring the vet at once.", early,
    )  # fmt: skip


def _meaning(driver: DueDate, book: Book) -> Iterator[PlanItem]:
    yield PlanItem(
        "due", f"She is due, by {driver.told}",
        driver.due, driver.due,
        f"Give or take: from {driver.earliest.isoformat()} to {driver.latest.isoformat()}.",
        driver.record,
    )  # fmt: skip
    spans = book.now.spans[OWNER, driver.clock]
    for level, title, note in (
        (Level.WATCH, "No pup yet: tell the vet she is past her day",
         "Take her temperature three times a day."),
        (Level.CALL, "No pup yet: ring the vet now", "Give the day count and what it is from."),
    ):  # fmt: skip
        if level in spans:
            record = limit(book, OWNER, driver.clock, level)
            changed = "" if record.span == spans[level] else " Changed for her on a vet's word."
            yield PlanItem(
                f"overdue-{level.word}", title,
                *_one_day(driver.zero + timedelta(days=spans[level].days)), note + changed, record,
            )  # fmt: skip


def _every(record: LimitRecord) -> str:
    return f"{plain(record.value)} {record.unit}"


def _one_day(day: date) -> tuple[date, date]:
    return day, day
