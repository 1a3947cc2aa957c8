"""The sheet for the night the computer fails: room for a pen, and the limits in force.

A page for the pups, one for the limits, and as many for the log as are asked for. What is written
in the log can be typed in afterwards, line by line.
"""

from typing import Literal, NamedTuple

from boxlamp.model.happenings import Details
from boxlamp.paper.blank_limits import limit_blocks
from boxlamp.paper.document import Block, Cell, Column, Document, Points, Section, Table
from boxlamp.paper.reader import Reader
from boxlamp.protocol.book import Book
from boxlamp.view.words import CAUTION


class Size(NamedTuple):
    """How big the sheet is to be: the paper that its tables fill, and the pages of its log."""

    page: Literal["a4", "letter"] = "a4"
    log_pages: int = 2
    """At least one. Two hold some fifty lines, which is a night of labour (our choice)."""


class _Room(NamedTuple):
    """How many rows for a pen a page of one size has; measured on the finished pages."""

    front: int
    """On the first page, for the pups and the dam's temperatures together."""
    first: int
    """On the first page of the log, where it has more than one."""
    more: int
    """On a page between the first and the last."""
    last: int
    """On the last page of the log, above the words that explain how to write."""

    def log(self, pages: int) -> int:
        """How many lines so many pages of log hold."""
        return self.last if pages == 1 else self.first + (pages - 2) * self.more + self.last


_ROOM: dict[Literal["a4", "letter"], _Room] = {
    "a4": _Room(front=21, first=31, more=32, last=24),
    "letter": _Room(front=19, first=29, more=30, last=22),
}
# Our choice: more pups than in most litters. Temperatures have what they leave, a row at least.
_PUP_ROWS = 12
_TEMPERATURES_ACROSS = 4
_USUAL = Size()
_PURPOSE = "To fill in with a pen, when the computer fails. Use one clock for all times."

_PUP_COLUMNS = (
    Column("No.", 0.7, "right"), Column("Born", 1.2), Column("Interval", 1.1),
    Column("Sex", 0.8), Column("Weight", 1.1), Column("Presented", 1.3), Column("Alive?", 1),
    Column("Mark", 1.2), Column("Viability", 1.1), Column("Afterbirth", 1.3),
    Column("First milk", 1.2),
)  # fmt: skip


_MEANING = (
    Cell(
        "Interval: the time since the pup before. Presented: what came first, head, feet or rump. "
        "Afterbirth: when it was seen, or eaten. First milk: when it first drank at the dam."
    ),
    Cell(
        "Viability: heart rate, breathing, reflex, movement, colour, each 0 to 2; in all 0 to 10, "
        "7 and more is normal. 0: under 180 beats a minute, no cry and under 6 breaths, no answer "
        "to a pinch, limp, blue gums. 1: 180 to 220 beats, a weak cry and 6 to 15 breaths, a "
        "grimace, bends its legs, pale gums. 2: more than that, and pink."
    ),
)
"""What a column asks for. The points are those of the rule ``viability``."""


def blank_sheet(
    book: Book,
    details: Details,
    reader: Reader,
    *,
    expected: int | None = None,
    size: Size = _USUAL,
) -> Document:
    """A sheet to print before the night, with the limits of this book and the vet's numbers.

    What nobody has written down of the dam or the vet is left empty for a pen.
    """
    dam, room = details.dam, _ROOM[size.page]
    pups = min(max(_PUP_ROWS, (expected or 0) + 1), room.front - 1)
    return Document(
        title=f"Whelping sheet: {dam}" if dam else "Whelping sheet",
        subtitle=_PURPOSE + _tightened(book),
        sections=(
            Section("The dam and the vet", (_people(details, expected),)),
            Section("Pups", _pups(pups)),
            Section("The dam's temperature", (_temperatures(reader, room.front - pups),)),
            Section("When to look, ring and leave", limit_blocks(book, reader), new_page=True),
            Section("Log", (_log(room.log(size.log_pages)),), new_page=True),
            Section("How to write, and to type it in afterwards", (_how(reader),)),
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


def _pups(rows: int) -> tuple[Block, ...]:
    table = Table(
        _PUP_COLUMNS,
        tuple(
            (Cell(str(place)), *(Cell("") for _ in _PUP_COLUMNS[1:]))
            for place in range(1, rows + 1)
        ),
        ruled=True,
    )
    return table, Points(_MEANING)


def _empty(columns: tuple[Column, ...], rows: int) -> Table:
    return Table(columns, (tuple(Cell("") for _ in columns),) * rows, ruled=True)


def _log(rows: int) -> Table:
    columns = (
        Column("Time", 1),
        Column("About?", 0.7),
        Column("What you saw", 7),
        Column("Who", 1),
    )
    return _empty(columns, rows)


def _temperatures(reader: Reader, rows: int) -> Table:
    unit = f"°{reader.temperatures}"
    columns = (Column("Day, time", 1.6), Column(unit, 1)) * _TEMPERATURES_ACROSS
    return _empty(columns, rows)


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
    typed = f"2026-03-02 02:14 {pup[0]}"
    items += [
        Cell(
            "Tick About? when you did not look at the clock; it is typed as ~ before the date. "
            "Pups are numbered as they come. Write the date where a new day begins."
        ),
        Cell(f'Afterwards, line by line, each with its date: boxlamp log "{typed}"'),
        Cell(
            "Or all at once: write such lines into a text file, each with its date, in the order "
            "of the night, and type: boxlamp log - < night.txt"
        ),
        Cell("No room left in the log? Print this page again, or with --log-pages 4."),
    ]
    return Points(tuple(items))
