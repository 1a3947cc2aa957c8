"""The sheet for the night the computer fails: room for a pen, and the limits in force.

The front is for the pups and the limits, the back for the log. What is written in the log can be
typed in afterwards, line by line.
"""

from boxlamp.model.happenings import Details
from boxlamp.paper.blank_limits import limit_blocks
from boxlamp.paper.document import Cell, Column, Document, Points, Section, Table
from boxlamp.paper.reader import Reader
from boxlamp.protocol.book import Book
from boxlamp.view.board import CAUTION

_PUP_ROWS = 8  # our choice: most litters, and still one page together with the limits
_MOST_PUP_ROWS = 20
_LOG_ROWS = 20  # our choice: what a page holds in either size
_PURPOSE = "To fill in with a pen, when the computer fails. Use one clock for all times."
_TEMPERATURE_ROWS, _TEMPERATURES_ACROSS = 2, 5

_PUP_COLUMNS = (
    Column("No.", 0.7, "right"), Column("Born", 1.2), Column("Interval", 1.1),
    Column("Sex", 0.8), Column("Weight", 1.1), Column("Presented", 1.3), Column("Alive?", 1),
    Column("Mark", 1.2), Column("Viability", 1.1), Column("Afterbirth", 1.3),
    Column("First milk", 1.2),
)  # fmt: skip


def blank_sheet(
    book: Book, details: Details, reader: Reader, *, expected: int | None = None
) -> Document:
    """A sheet to print before the night, with the limits of this book and the vet's numbers.

    What nobody has written down of the dam or the vet is left empty for a pen.
    """
    dam = details.dam
    return Document(
        title=f"Whelping sheet: {dam}" if dam else "Whelping sheet",
        subtitle=_PURPOSE + _tightened(book),
        sections=(
            Section("The dam and the vet", (_people(details, expected),)),
            Section("Pups", (_pups(expected),)),
            Section("When to look, ring and leave", limit_blocks(book, reader)),
            Section("Log", (_log(),), new_page=True),
            Section("The dam's temperature", (_temperatures(reader),)),
            Section("What to write", (_how(reader),)),
        ),
        foot=(f"{dam}. " if dam else "") + CAUTION,
    )


def _tightened(book: Book) -> str:
    return f" Limits tightened: {', '.join(book.now.risks)}." if book.now.risks else ""


def _known(text: str | None) -> Cell:
    return Cell(text or "")


def _people(details: Details, expected: int | None) -> Table:
    columns = (
        Column("Dam", 1.6), Column("Date", 1.1), Column("Expected", 0.9),
        Column("Vet", 1.5), Column("Telephone", 1.5), Column("At night", 1.5),
        Column("Drive, min", 0.9),
    )  # fmt: skip
    away = details.travel_minutes
    row = (
        _known(details.dam),
        Cell(""),
        Cell("" if expected is None else str(expected)),
        _known(details.vet),
        _known(details.vet_phone),
        _known(details.night_phone),
        Cell("" if away is None else str(away)),
    )
    return Table(columns, (row,), ruled=True)


def _pups(expected: int | None) -> Table:
    rows = min(max(_PUP_ROWS, (expected or 0) + 1), _MOST_PUP_ROWS)
    return Table(
        _PUP_COLUMNS,
        tuple(
            (Cell(str(place)), *(Cell("") for _ in _PUP_COLUMNS[1:]))
            for place in range(1, rows + 1)
        ),
        ruled=True,
    )


def _empty(columns: tuple[Column, ...], rows: int) -> Table:
    return Table(columns, (tuple(Cell("") for _ in columns),) * rows, ruled=True)


def _log() -> Table:
    columns = (
        Column("Time", 1),
        Column("About?", 0.7),
        Column("What you saw", 7),
        Column("Who", 1),
    )
    return _empty(columns, _LOG_ROWS)


def _temperatures(reader: Reader) -> Table:
    unit = f"°{reader.temperatures}"
    columns = (Column("Time", 1), Column(unit, 1)) * _TEMPERATURES_ACROSS
    return _empty(columns, _TEMPERATURE_ROWS)


def examples(reader: Reader) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """What a person sees, and lines for it that the program reads, in the reader's units."""
    weight = "312g" if reader.weights == "g" else "11oz"
    temperature = "37.1" if reader.temperatures == "C" else "98.8"
    return (
        ("She pushes, rests, the waters, what shows", (
            "contraction strong", "contraction weak", "rest", "waters clear", "sac", "part head",
        )),
        ("A pup", (f"pup dog {weight} red head first", "pup bitch limp", "pup dead")),
        ("For a pup", ("breathing 3", "milk 3", f"weigh 3 {weight}", "score 3 2 2 1 2 2",
                       "died 3")),
        ("Afterbirths, discharge", ("afterbirth of 3", "afterbirth of 3 not seen",
                                    "discharge green")),
        ("The dam, the vet, the end", (f"temp {temperature}", "dam ate", "vet called",
                                       "finished")),
    )  # fmt: skip


def _how(reader: Reader) -> Points:
    items = [Cell(f"{seen}: {'; '.join(lines)}.") for seen, lines in examples(reader)]
    [(_, pup)] = [each for each in examples(reader) if each[0] == "A pup"]
    items += [
        Cell(
            "Tick About? when you did not look at the clock; it is typed as ~ before the time. "
            "Pups are numbered as they come. Interval: the time since the pup before."
        ),
        Cell(f'Afterwards, line by line: boxlamp log "2026-03-02 02:14 {pup[0]}"'),
    ]
    return Points(tuple(items))
