"""The header of a night file: facts about the dam, and what was known before the night."""

import re
from dataclasses import dataclass, field
from datetime import date, datetime, time

from boxlamp.language import sentences
from boxlamp.language.clock import a_day
from boxlamp.language.context import Context, NotUnderstood
from boxlamp.language.details import FIELDS, KEYS, read_value
from boxlamp.language.line import understand
from boxlamp.language.text import cleaned
from boxlamp.language.zones import as_if_unchanged, instants
from boxlamp.model.entry import Draft
from boxlamp.model.happenings import Details
from boxlamp.model.zones import known_zone, zone_named

_LINE = re.compile(r"([A-Za-z][A-Za-z -]{0,40}):(?:\s+(.*))?\Z")
_DATED_LINE = re.compile(r"\s*~?\s*(\d{4}-\d\d-\d\d)")
# Headings that are facts with a date of their own, and the word each is read with.
_DATED = {
    "mated": "mated", "mating": "mated", "ovulation": "ovulation", "lh": "lh",
    "dioestrus": "dioestrus", "diestrus": "dioestrus", "progesterone": "progesterone",
    "scan": "scan", "xray": "xray", "x-ray": "xray",
}  # fmt: skip
_EXPECTED = frozenset(("expected", "expect"))
# Headings about the file, not about the dam: they make no entry.
_OF_THE_FILE = frozenset(("date", "lesson"))


@dataclass(eq=False, repr=False)
class Header:
    """The header lines of a file and what they come to."""

    values: dict[str, str] = field(default_factory=dict)
    lines: list[tuple[int, str, str, str]] = field(default_factory=list)
    """Number, key, value and the line itself, without terminal codes."""
    length: int = 0
    """How many lines of the file belong to the header, comments and blanks included."""


def split_header(lines: list[str]) -> Header:
    """The header at the top of a file: ``key: value`` lines up to the first other line."""
    header = Header()
    for number, line in enumerate(lines, start=1):
        # As an entry line is: a terminal code is no part of a name.
        body = cleaned(line).strip()
        if not body and header.lines:
            header.length = number
            return header
        if not body or body.startswith("#"):
            continue
        found = _LINE.match(body)
        if found is None:
            return header
        key, value = found[1].casefold().replace(" ", "-"), (found[2] or "").strip()
        header.lines.append((number, key, value, body))
        told, joint = header.values.get(key), " " if key == "lesson" else ", "
        header.values[key] = value if told is None else f"{told}{joint}{value}"
        header.length = number
    return header


def header_zone(header: Header, usual: str) -> str:
    """The zone the file's clocks are in."""
    zone = header.values.get("zone", usual)
    if known_zone(zone) is None:
        raise NotUnderstood(sentences.NO_ZONE.format(zone))
    return zone


def header_day(header: Header, lines: list[str]) -> date | None:
    """The day the file begins: its ``date``, else the first date in front of a line."""
    if "date" in header.values:
        return a_day(header.values["date"])
    for line in lines[header.length :]:
        found = _DATED_LINE.match(line)
        if found:
            return a_day(found[1])
    return None


def midnight(day: date, zone_name: str) -> datetime:
    """The instant a day begins in this zone."""
    zone, wall = zone_named(zone_name), datetime.combine(day, time())
    found = instants(wall, zone)
    return found[0] if found else as_if_unchanged(wall, zone)


def header_drafts(
    header: Header, start: datetime | None, zone: str
) -> tuple[list[Draft], list[tuple[int, str]]]:
    """The entries a header stands for, and what is wrong with it, by line number."""
    facts: dict[str, object] = {}
    said: list[str] = []
    later: list[Draft] = []
    problems: list[tuple[int, str]] = []
    for number, key, value, line in header.lines:
        try:
            if key in _DATED or key in _EXPECTED:
                later.append(_dated(key, value, line, start, zone))
            elif key not in _OF_THE_FILE:
                _fact(key, value, facts)
                said.append(line)
        except NotUnderstood as wrong:
            problems.append((number, wrong.why))
    first: list[Draft] = []
    if facts and start is not None:
        details = Details.model_validate(facts)
        text = "\n".join(said)
        first = [Draft(at=start, zone=zone, certainty="day", text=text, what=details)]
    if header.lines and start is None and not problems:
        problems.append((header.lines[0][0], sentences.NEEDS_DATE))
    return first + later, problems


def _fact(key: str, value: str, facts: dict[str, object]) -> None:
    known = KEYS.get(key.replace("-", " "))
    if known is None:
        every = ", ".join((*FIELDS, "date", "lesson", "expected", *_DATED))
        raise NotUnderstood(sentences.HEADER_KEY.format(key, every))
    change = read_value(known, value)
    if change.keys() & facts.keys():
        raise NotUnderstood(sentences.HEADER_ONCE.format(key))
    facts.update(change)


def _dated(key: str, value: str, line: str, start: datetime | None, zone: str) -> Draft:
    """A heading such as ``mated: 2026-01-01``, read as the line ``mated 2026-01-01``."""
    base = start or datetime.fromisoformat("2000-01-01T00:00:00Z")
    word = "expect" if key in _EXPECTED else _DATED[key]
    reading = understand(f"{word} {value}", Context(base, zone, after=base))
    if reading.spoken is None and key not in _EXPECTED:
        raise NotUnderstood(sentences.HEADER_DAY.format(key))
    certainty = "day" if reading.spoken is None else reading.draft.certainty
    return reading.draft.model_copy(update={"text": line, "certainty": certainty})
