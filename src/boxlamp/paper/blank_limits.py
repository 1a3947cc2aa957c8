"""The limits of the night as they stand on the blank sheet: in words, from the book in force.

With the computer off nobody counts the minutes, so the paper says when to look, ring and leave.
"""

from collections.abc import Iterator
from datetime import timedelta

from boxlamp.model.levels import ALERTS, Level
from boxlamp.model.quantities import plain
from boxlamp.model.spans import in_words
from boxlamp.paper.document import Block, Cell, Column, Points, Table
from boxlamp.paper.reader import Reader
from boxlamp.protocol.book import Book
from boxlamp.protocol.records import BandRecord, level_of
from boxlamp.rules.registry import BY_ID, RULES

_WHOLE = ("labour", "afterbirths")
"""Groups whose every clock belongs to the night."""
_NOT_ON_PAPER = frozenset({("log-quiet", "main")})
"""It watches the keyboard, and there is none tonight."""

_OTHERS = (
    ("dam-collapse", "main"),
    ("dam-tremor", "main"),
    ("dam-vomiting", "main"),
    ("dam-vomiting", "dull"),
    ("sac-on-pup", "main"),
    ("not-breathing", "main"),
    ("cord-bleeding", "main"),
    ("first-milk", "main"),
    ("nursing-gap", "main"),
    ("pup-sign", "gasping"),
    ("pup-sign", "blue"),
    ("pup-sign", "fits"),
)
"""Of the dam and the pups: what runs in the minutes and hours of the night."""

_BANDS = (
    ("dam-hot", "labour", "Her temperature while she whelps"),
    ("dam-cold", "main", "Her temperature low"),
    ("pup-cold", "hour 1-24", "A pup's temperature on its first day"),
)

_SAID = {
    ("bleeding", "some"): "fresh blood, more than a streak",
    ("bleeding", "heavy"): "heavy bleeding",
    ("foul-discharge", "main"): "foul, pus-like or yellow discharge",
    ("foul-discharge", "ill"): "foul or pus-like discharge while she is ill or has a fever",
    ("litter-short", "finished"): "whelping over with fewer pups than the x-ray counted",
    ("litter-short", "finished-scan"): "whelping over with fewer pups than the scan counted",
    ("litter-short", "calm"): "calm, fewer pups than the x-ray counted",
    ("afterbirths-behind", "main"): "several afterbirths owed at once",
    ("afterbirth-missing-at-end", "main"): "whelping over, an afterbirth missing",
    ("afterbirth-missing-at-end", "ill"): "an afterbirth missing while she is ill or has a fever",
    ("gap-more-expected", "main"): "since the last pup, when more are expected",
    ("gap-count-unknown", "main"): "since the last pup, when the number is not known",
    ("second-stage-long", "main"): "since her first push or pup, in all",
    ("dam-collapse", "main"): "she collapses, has a fit, cannot stand or does not respond, or her "
    "gums are pale or blue",
    ("dam-tremor", "main"): "she is stiff, staring or unsteady after whelping",
    ("dam-vomiting", "main"): "she vomits again and again",
    ("dam-vomiting", "dull"): "she vomits and is dull",
    ("nursing-gap", "main"): "a pup has not fed",
    ("first-milk", "main"): "a pup has had no first milk since birth",
    ("pup-sign", "gasping"): "a pup gasps",
    ("pup-sign", "blue"): "a pup is blue",
    ("pup-sign", "fits"): "a pup has fits",
}

_LEVEL_WORDS = {
    Level.WATCH: "LOOK CLOSELY",
    Level.CALL: "RING THE VET AT ONCE",
    Level.GO: "LEAVE FOR THE VET AT ONCE and ring on the way",
}


def limit_blocks(book: Book, reader: Reader) -> tuple[Block, ...]:
    """The limits in force: what runs for a while as a table, what cannot wait as sentences."""
    columns = (
        Column("What you see", 3.4),
        Column("Look closely (watch)", 1.6),
        Column("Ring the vet (call)", 1.6),
        Column("Leave for the vet now (go)", 1.6),
    )
    rows = [_row(book, *key) for key in clocks(book) if not _at_once(book, key)]
    rows += [_band_row(book, rule, clock, words, reader) for rule, clock, words in _BANDS]
    table = Table(columns, tuple(rows))
    return Points(tuple(_urgent(book))), table


def clocks(book: Book) -> Iterator[tuple[str, str]]:
    """The clocks that stand on the sheet, in the order of the catalogue."""
    for rule in RULES:
        for key, spans in book.now.spans.items():
            if key[0] != rule.id or key in _NOT_ON_PAPER:
                continue
            if (rule.group in _WHOLE or key in _OTHERS) and any(level in spans for level in ALERTS):
                yield key


def _at_once(book: Book, key: tuple[str, str]) -> bool:
    """Whether every level of a clock is reached without any waiting."""
    return not any(span for level, span in book.now.spans[key].items() if level in ALERTS)


def _words(rule: str, clock: str) -> str:
    if (rule, clock) in _SAID:
        return _SAID[rule, clock]
    title = BY_ID[rule].title
    title = title[:1].lower() + title[1:]
    return title if clock == "main" else f"{title} ({clock.replace('-', ' ')})"


def _begun(words: str) -> str:
    """The words as they begin a line."""
    return words[:1].upper() + words[1:]


def _row(book: Book, rule: str, clock: str) -> tuple[Cell, ...]:
    return (
        Cell(_begun(_words(rule, clock))),
        *(Cell(_limit(book, rule, clock, level)) for level in ALERTS),
    )


def _limit(book: Book, rule: str, clock: str, level: Level) -> str:
    """``20 min``; with the person on whose word it was changed."""
    span = book.now.spans[rule, clock].get(level)
    if span is None:
        return ""
    told = _span(span)
    for change in reversed(book.changes):
        limit = change.limit
        same = (limit.rule, limit.clock, limit.level) == (rule, clock, level.word)
        if same and not change.refused and timedelta(seconds=limit.seconds) == span:
            return f"{told} (word of {limit.by})"
    return told


def _span(span: timedelta) -> str:
    return in_words(span).removesuffix(" 00 min") if span else "at once"


def _urgent(book: Book) -> Iterator[Cell]:
    """What is done at once, the worst first, each level in one sentence."""
    for level in reversed(ALERTS):
        seen = [
            _words(*key)
            for key in clocks(book)
            if _at_once(book, key) and max(book.now.spans[key]) is level
        ]
        if seen:
            yield Cell(f"{level.mark} {_LEVEL_WORDS[level]}: {'; '.join(seen)}.")


def _band_row(book: Book, rule: str, clock: str, words: str, reader: Reader) -> tuple[Cell, ...]:
    bands = book.protocol.bands.get((rule, clock), ())
    by_level = {level_of(band.level): _band(band, reader) for band in bands}
    return (Cell(words), *(Cell(by_level.get(level, "")) for level in ALERTS))


def _band(band: BandRecord, reader: Reader) -> str:
    value = reader.sentence(f"{plain(band.value)} {band.unit}")
    return f"{value} or more" if band.when == "at or above" else f"{band.when} {value}"
