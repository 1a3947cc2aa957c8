"""The limits as they stand on the blank sheet: in words, from the book in force.

With the computer off nobody counts the minutes, so the paper says when to look, ring and leave.
"""

from collections.abc import Iterator
from datetime import timedelta

from boxlamp.model.levels import ALERTS, Level
from boxlamp.model.quantities import plain
from boxlamp.paper.blank_rows import GROUPS, ROWS, LimitRow, length, numbers
from boxlamp.paper.document import Block, Cell, Column, Table, Words
from boxlamp.paper.reader import Reader
from boxlamp.protocol.book import Book, Change
from boxlamp.protocol.records import BandRecord, level_of

_HOW = (
    "Find what you see and read across: at this reading, or when it has lasted so long, do what "
    "the column says. Look: look closely, and look again soon. Ring: telephone the vet. Leave: "
    "leave for the vet, and ring on the way."
)
_CHANGED = "*"

_Levels = dict[Level, str]
"""What the sheet says at each level."""


def limit_blocks(book: Book, reader: Reader) -> tuple[Block, ...]:
    """The limits in force, a part of the night after the other, what cannot wait at its top."""
    known = numbers(book, reader)
    columns = (
        Column("What you see", 5.0),
        Column("Look (watch)"),
        Column("Ring (call)"),
        Column("Leave (go)"),
    )
    rows = [line for group in GROUPS for line in _lines(group, book, reader, known)]
    names = dict.fromkeys(
        change.limit.by for row in ROWS for level in ALERTS
        if (change := _changed(row, book, level)) is not None
    )  # fmt: skip
    word = f" {_CHANGED} On the word of {' and '.join(names)}." if names else ""
    return Words(_HOW + word, "dim"), Table(columns, tuple(rows))


def _lines(
    group: str, book: Book, reader: Reader, known: dict[str, str]
) -> Iterator[tuple[Cell, ...]]:
    """What is done at once, the worst first and each level in one line; then what waits.

    What is only to be looked at stands last.
    """
    yield Cell(group.format(**known), "strong"), *(Cell("") for _ in ALERTS)
    rows = [row for row in ROWS if row.group == group]
    prompt = {row.key: _at_once(row, book) for row in rows}
    waiting, looking = dict[str, _Levels](), list[tuple[str, _Levels]]()
    for level in reversed(ALERTS):
        seen = "; ".join(row.words for row in rows if prompt[row.key] is level)
        line = seen, {level: length(timedelta())}
        if seen and level is Level.WATCH:
            looking = [line]
        elif seen:
            yield _line(*line, known)
    for row in rows:
        if prompt[row.key] is None:
            waiting.setdefault(row.words, {}).update(limits_of(row, book, reader))
    for words, told in (*waiting.items(), *looking):
        yield _line(words, told, known)


def _line(words: str, told: _Levels, known: dict[str, str]) -> tuple[Cell, ...]:
    said = words.format(**known)
    cells = (Cell(told.get(level, ""), "strong") for level in ALERTS)
    return Cell(said[:1].upper() + said[1:]), *cells


def _at_once(row: LimitRow, book: Book) -> Level | None:
    """The level that a clock reaches without any waiting, if it has no other."""
    spans = book.now.spans.get(row.key, {})
    levels = [level for level in ALERTS if level in spans]
    return levels[-1] if levels and not any(spans[level] for level in levels) else None


def limits_of(row: LimitRow, book: Book, reader: Reader) -> _Levels:
    """What the sheet says of one row at each level that it can reach."""
    bands = book.protocol.bands.get(row.key, ())
    if bands:
        return {level_of(band.level): _band(band, reader) for band in bands}
    spans = book.now.spans.get(row.key, {})
    return {level: _limit(row, book, level) for level in ALERTS if level in spans}


def _limit(row: LimitRow, book: Book, level: Level) -> str:
    """``20 min``; with a mark where it was changed on somebody's word."""
    told = length(book.now.spans[row.key][level])
    return told if _changed(row, book, level) is None else f"{told} {_CHANGED}"


def _changed(row: LimitRow, book: Book, level: Level) -> Change | None:
    """The change that made a limit what it is now."""
    span = book.now.spans.get(row.key, {}).get(level)
    for change in reversed(book.changes):
        limit = change.limit
        same = (limit.rule, limit.clock, limit.level) == (*row.key, level.word)
        if same and not change.refused and timedelta(seconds=limit.seconds) == span:
            return change
    return None


def _band(band: BandRecord, reader: Reader) -> str:
    value = reader.sentence(f"{plain(band.value)} {band.unit}")
    wordings = {"at or above": f"from {value}", "at or below": f"{value} or less"}
    return wordings.get(band.when, f"{band.when} {value}")
