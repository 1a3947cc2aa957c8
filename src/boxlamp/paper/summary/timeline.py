"""The full timeline, every correction visible: who changed what, and when."""

from collections.abc import Iterator
from datetime import timedelta

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Amend, Note, Strike
from boxlamp.paper.account.models import Account, Correction, Line
from boxlamp.paper.document import Cell, Column, Role, Section, Table, Words
from boxlamp.paper.reader import Reader
from boxlamp.paper.summary.words import day, names
from boxlamp.paper.telling import told_entry

# What was typed within some minutes of the event counts as typed at once (our choice).
_LATE = timedelta(minutes=10)
_LEAD = (
    "As the record reads now, oldest first. A corrected line says what it read before; a line "
    "that was withdrawn stays, marked so. The number is that of the entry in the journal."
)


def timeline_section(account: Account, reader: Reader) -> Section:
    """Everything that was written down."""
    signed = any(line.typed.by for line in account.timeline)
    called = names(account)
    columns = [Column("No.", 0.7, "right"), Column("When", 2.2), Column("What", 5.2)]
    columns += [Column("By", 1.2)] if signed else []
    columns.append(Column("Remarks", 3.6))
    rows = tuple(_row(line, reader, called, signed=signed) for line in account.timeline)
    return Section("Timeline", (Words(_LEAD, "dim"), Table(tuple(columns), rows)), new_page=True)


def _row(line: Line, reader: Reader, called: dict[int, str], *, signed: bool) -> tuple[Cell, ...]:
    shown = line.reads or line.typed
    role: Role = "struck" if line.reads is None else ""
    cells = [
        Cell(str(line.typed.id)),
        Cell(when(shown, reader), role),
        Cell(told_entry(shown, reader, called), role),
    ]
    if signed:
        cells.append(Cell(line.typed.by))
    cells.append(Cell("; ".join(_remarks(line, reader, called))))
    return tuple(cells)


def when(entry: Entry, reader: Reader) -> str:
    """When it happened, as exactly as that is known."""
    if entry.certainty == "day":
        return day(entry.at.astimezone(reader.zone).date())
    about = "about " if entry.certainty == "estimated" else ""
    return f"{about}{reader.moment(entry.at)}"


def _remarks(line: Line, reader: Reader, called: dict[int, str]) -> Iterator[str]:
    typed = line.typed
    if isinstance(typed.what, Note) and typed.what.unread:
        yield "the program could not read this line"
    if typed.certainty != "day" and typed.recorded - typed.at >= _LATE:
        yield f"typed {reader.beside(typed.recorded, line.at)}"
    for correction in line.corrections:
        yield _corrected(correction, line, reader, called)


def _corrected(correction: Correction, line: Line, reader: Reader, called: dict[int, str]) -> str:
    entry = correction.entry
    by = f" by {entry.by}" if entry.by else ""
    done = f"{reader.beside(entry.recorded, line.at)}{by}"
    undone = "" if correction.stands else "; that was taken back"
    if isinstance(entry.what, Strike):
        why = f": {entry.what.why}" if entry.what.why else ""
        return f"withdrawn {done}{why}{undone}"
    before = _before(correction, reader, called)
    note = f" ({entry.note})" if entry.note else ""
    return f"corrected {done}{note}{before}{undone}"


def _before(correction: Correction, reader: Reader, called: dict[int, str]) -> str:
    """What the line read before, as far as the correction changed it."""
    before, amend = correction.before, correction.entry.what
    if before is None or not isinstance(amend, Amend):
        return ""
    was = [when(before, reader)] if amend.retimed else []
    was += [told_entry(before, reader, called)] if amend.what is not None else []
    return f"; it read: {', '.join(was)}" if was else ""
