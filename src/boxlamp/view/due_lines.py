"""When she is due and what is to be done when, as lines of styled text for a tired person.

The first line is the answer. Then what it rests on, then the plan day by day, then the caution.
"""

from collections.abc import Iterator

from boxlamp.planning.dates import DueDate
from boxlamp.planning.items import PlanItem
from boxlamp.planning.outlook import Outlook
from boxlamp.protocol.records import SEEN_WORDS, FormulaRecord, Record
from boxlamp.view.layout import Line
from boxlamp.view.text import away_text, clean, counted, date_text, dates_text, fit, width_of, wrap
from boxlamp.view.words import CAUTION

_NARROW = 70
_BESIDE_TOLD = 52
_AWAY = 14
_DATE = 16
_EXAMPLES = (
    ("dioestrus 2026-01-08", "its first day, from smears"),
    ("lh 2026-01-01", "day of the LH peak"),
    ("progesterone 2.1 ng rise 2026-01-01", "first rise of progesterone"),
    ("ovulation 2026-01-03", "day of ovulation"),
    ("progesterone 6.2 ng 2026-01-03", "one value, with its unit"),
    ("scan icc 30mm 2026-02-08", "measured, or bpd 22mm"),
    ("mated 2026-01-02", "first mating: least exact"),
)


def due_lines(view: Outlook, width: int, *, why: bool = False) -> Iterator[Line]:
    """The whole answer. With ``why``, what every day rests on."""
    yield from _answer(view, width)
    if view.dates.bases or view.dates.unused:
        yield []
        yield from _bases(view, width)
        yield from _remarks(view, width)
    if view.ahead:
        yield []
        yield from _plan(view, width)
    if why:
        yield []
        yield from _evidence(view, width)
    yield from _text("dim", CAUTION, width)


def dam_of(view: Outlook) -> str:
    """What she is called."""
    return clean(view.litter.details.dam or "The dam")


def headline(view: Outlook) -> str:
    """The answer in one sentence."""
    driver, today = view.dates.driver, view.today
    if view.born is not None:
        days = (today - view.born).days
        old = view.litter.alive and days > 0
        age = f"; the litter is {counted(days, 'day', 'days')} old" if old else ""
        word = "Born" if view.litter.born else "Over since"
        return f"{dam_of(view)}: {word.lower()} {date_text(view.born, year=True)}{age}."
    if driver is None:
        return f"Nobody can say yet when {dam_of(view)} is due: there is no date to count from."
    away = away_text(driver.due, today)
    verb = "is" if driver.due >= today else "was"
    day = date_text(driver.due, year=True)
    said = f"{dam_of(view)} {verb} due {day}, {away} ({window_text(driver)})"
    trusted = view.dates.clash.trusted if view.dates.clash is not None else driver
    # When the alarms keep to the earlier of two days, the better one belongs beside it at once.
    return f"{said}{'' if trusted is driver else f'; by {trusted.told} {date_text(trusted.due)}'}."


def _answer(view: Outlook, width: int) -> Iterator[Line]:
    yield from _text("name", headline(view), width)
    driver = view.dates.driver
    if view.born is None and driver is not None:
        count = driver.day_on(view.today)
        said = f"Today, {date_text(view.today)}, is day {count} from {driver.counted_from}."
        yield from _text("text", said, width)
    elif view.born is None:
        yield from _text("text", "Write down what you know, the most exact first:", width)
        for line, means in _EXAMPLES:
            yield (
                [("do", f"  boxlamp log {line:<35}  "), ("dim", means)]
                if width >= _NARROW
                else [("do", f"  boxlamp log {line}")]
            )


def _bases(view: Outlook, width: int) -> Iterator[Line]:
    shown = [one for one in view.dates.bases if not one.remembered]
    if width < _NARROW:
        for one in shown:
            mark = "> " if one.drives else "  "
            yield from _text("text", f"{mark}{basis_sentence(one, view)}", width)
        return
    told = max([12, *(width_of(one.told) for one in shown)])
    told = min(told, width - _BESIDE_TOLD)
    last = "differs" if view.born is None else "born on"
    if shown:
        head = f"  {'counted from':<{told}}  {'on':<6}  {'due':<10}  {'window':<14}  {last}"
        yield [("dim", head)]
    for one in shown:
        row = (
            f"{'>' if one.drives else ' '} {fit(one.told, told)}  {dates_text(one.day, one.day):<6}"
            f"  {date_text(one.due):<10}  {window_text(one):<14}  "
            f"{_beside(one, view)}"
        )
        yield [("do" if one.drives else "text", row.rstrip())]


def window_text(one: DueDate) -> str:
    """The window of a basis; a star marks one that is from memory."""
    star = "*" if one.window_seen == "M" else ""
    return f"{dates_text(one.earliest, one.latest)}{star}"


def _beside(one: DueDate, view: Outlook) -> str:
    """What the last column says: the day of the birth, or how far it is from the driver."""
    if view.born is not None:
        return f"day {one.day_on(view.born)}"
    driver = view.dates.driver
    if one.drives or driver is None:
        return ""
    return apart_words((one.due - driver.due).days)


def apart_words(days: int) -> str:
    """``same day``, ``3 d earlier``, ``1 d later``."""
    if not days:
        return "same day"
    return f"{abs(days)} d {'later' if days > 0 else 'earlier'}"


def basis_sentence(one: DueDate, view: Outlook) -> str:
    """One basis as a sentence, for narrow screens and for what is shown beside the table."""
    said = (
        f"{one.told}, {dates_text(one.day, one.day)}: due {date_text(one.due)} ({window_text(one)})"
    )
    beside = _beside(one, view)
    return f"{said}, {beside}" if beside else said


def disagreement(view: Outlook) -> str:
    """What to say when two ways of counting contradict each other; nothing when they agree."""
    clash = view.dates.clash
    if clash is None:
        return ""
    one, other = (f"by {due.told} {date_text(due.due)}" for due in clash)
    apart = counted(abs(clash.days), "day", "days")
    if clash.days > 0:
        return (
            f"{one[:1].upper()}{one[1:]}, {other}: {apart} earlier. The first is trusted more, but "
            "the alarms keep to the earlier day, so that nothing is missed. Ask the vet which one "
            "to believe."
        )
    return (
        f"{one[:1].upper()}{one[1:]}, {other}: {apart} later. The alarms count from the first, "
        "which is trusted more. Tell the vet of both."
    )


def _remarks(view: Outlook, width: int) -> Iterator[Line]:
    driver, dates = view.dates.driver, view.dates
    if any(one.window_seen == "M" for one in dates.bases):
        yield from _text("dim", "* This window is from memory.", width)
    if view.born is not None:
        return
    said = disagreement(view)
    if said:
        yield from _text("do", said, width)
    elif driver is not None:
        yield from _text("dim", f"> drives the alarms: {driver.why}.", width)
    for one in dates.bases:
        if one.remembered and isinstance(one.record, FormulaRecord):
            said = f"From memory, drives no alarm: {basis_sentence(one, view)}"
            yield from _text("dim", f"{said}, by a formula for {one.record.dogs}.", width)
    for unused in dates.unused:
        day = dates_text(unused.day, unused.day)
        yield from _text("text", f"Not used: {unused.told}, {day}: {unused.why}.", width)
    for note in dates.notes:
        yield from _text("dim", note, width)


def _plan(view: Outlook, width: int) -> Iterator[Line]:
    for item in view.ahead:
        if item.state != "off":
            yield from _item(item, view, width)


def _item(item: PlanItem, view: Outlook, width: int) -> Iterator[Line]:
    away = when_words(item, view)
    role = "dim" if item.over(view.today) or item.state == "done" else "text"
    role = "do" if role == "text" and item.first <= view.today else role
    day = date_text(item.first) if item.first == item.last else dates_text(item.first, item.last)
    if width < _NARROW:
        yield from _text(role, f"{day}, {away}: {item.title}", width)
        return
    lead = f"  {fit(day, _DATE)}{fit(away, _AWAY)}"
    for number, line in enumerate(wrap(item.title, width - width_of(lead))):
        yield [(role, (lead if not number else " " * width_of(lead)) + line)]


def when_words(item: PlanItem, view: Outlook) -> str:
    """``in 5 days``; ``now`` while its days last; ``3 days ago``; ``done`` once it is."""
    if item.state == "done":
        return "done"
    if item.first <= view.today <= item.last and item.first != item.last:
        return "now"
    return away_text(item.last if item.over(view.today) else item.first, view.today)


def _evidence(view: Outlook, width: int) -> Iterator[Line]:
    """What every day rests on: how exact it is, its source, and how far that was verified."""
    for one in view.dates.bases:
        yield from _text("name", f"{one.told}: {one.why}", width)
        yield from _indented(f"{one.accuracy} {source_words(one.record, view)}", width)
    for item in view.ahead:
        if item.state != "off":
            yield from _text("name", item.title, width)
            yield from _indented(f"{item.note} {item.record.says}", width)
            yield from _indented(source_words(item.record, view), width)
    yield []


def source_words(record: Record, view: Outlook) -> str:
    """Who says so, and how far that was verified."""
    seen = f"[{SEEN_WORDS[record.seen]}]"
    if not record.source:
        return seen
    return f"{seen} Source: {view.book.protocol.sources[record.source].title}."


def _indented(text: str, width: int) -> Iterator[Line]:
    return ([("dim", f"  {line}")] for line in wrap(text, width - 2))


def _text(role: str, text: str, width: int) -> Iterator[Line]:
    return ([(role, line)] for line in wrap(text, width))
