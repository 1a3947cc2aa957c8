"""Writing entries as a night file that reads back as exactly the same entries.

Nothing here knows the language: a line is tried, read with the reader itself, and whatever
came out differently is said in a directive above it.
"""

from collections import Counter
from collections.abc import Iterable, Iterator
from datetime import datetime

from boxlamp.language.clock import cut_when
from boxlamp.language.context import NotUnderstood
from boxlamp.language.directive import LINE, WORDS, Mode, as_json, differences, written
from boxlamp.language.night_read import NightReader, Read, raw_text
from boxlamp.language.say import free, say
from boxlamp.language.text import MAX_LINE, shortened, visible
from boxlamp.language.zones import wall_of
from boxlamp.model.entry import Entry
from boxlamp.model.zones import zone_named

_UNREADABLE = (NotUnderstood, ValueError, OverflowError)
_SHOWN = 200


def write_night(entries: Iterable[Entry]) -> str:
    """The night file of these entries, in the order given."""
    every = tuple(entries)
    timed = sum(_has_time(entry.text) for entry in every)
    return _written(every, LINE if 2 * timed > len(every) else WORDS)


def _has_time(text: str) -> bool:
    """Whether a raw line carries a time of its own."""
    try:
        return cut_when(text)[0] is not None
    except NotUnderstood:
        return False


def _written(entries: tuple[Entry, ...], mode: Mode) -> str:
    if not entries:
        return ""
    usual: dict[str, object] = {
        name: Counter(getattr(entry, name) for entry in entries).most_common(1)[0][0]
        for name in ("litter", "zone", "by")
    }
    plain = NightReader()
    changed = {name: value for name, value in usual.items() if value != getattr(plain, name)}
    if mode != plain.text_mode:
        changed["text"] = mode
    reader = NightReader(
        litter=str(usual["litter"]), zone=str(usual["zone"]), by=str(usual["by"]), text_mode=mode
    )
    lines = [written(changed, for_all=True), ""] if changed else []
    for entry in entries:
        lines += _lines(entry, reader)
    return "\n".join((*lines, ""))


def _lines(entry: Entry, reader: NightReader) -> list[str]:
    """The line of one entry, with a directive above it where one is needed."""
    zone: dict[str, object] = {} if entry.zone == reader.zone else {"zone": entry.zone}
    line, given, read = _best(entry, reader, zone)
    directives: dict[str, object] = {**given, **differences(entry, read.entry)}
    if "text" in directives:
        directives |= _shorter_text(entry, line)
    reader.take(Read(entry, read.last))
    return [written(directives), line] if directives else [line]


def _shorter_text(entry: Entry, line: str) -> dict[str, object]:
    """The raw text as ``line`` or ``words`` where that is what it is."""
    modes = (mode for mode in (LINE, WORDS) if entry.text == raw_text(line, mode))
    return {"text": next(modes, entry.text)}


def _best(
    entry: Entry, reader: NightReader, given: dict[str, object]
) -> tuple[str, dict[str, object], Read]:
    """The most readable line that says what the entry says."""
    for line in _candidates(entry, reader):
        read = _tried(line, given, reader)
        if read is not None and _says(entry, read.entry):
            return line, given, read
    # No words come back as this: the directive says it, and the line is for the eye.
    words = shortened(visible(say(entry.what)).replace("\n", " "), _SHOWN)
    told = {**given, "what": entry.what}
    for when in (*_whens(entry, reader), ""):
        line = f"{when} {words}".strip()
        read = _tried(line, {**given, "what": _as_value(entry)}, reader)
        if read is not None and read.entry.at == entry.at:
            return line, told, read
    exact = {**told, "at": entry.at}
    read = reader.read_entry(words, {**given, "what": _as_value(entry), "at": entry.at})
    return words, exact, read


def _as_value(entry: Entry) -> object:
    import json

    return json.loads(as_json(entry.what))


def _tried(line: str, given: dict[str, object], reader: NightReader) -> Read | None:
    if not line or line != visible(line).strip() or line.startswith("#"):
        return None
    try:
        return reader.read_entry(line, given)
    except _UNREADABLE:
        return None


def _says(entry: Entry, read: Entry) -> bool:
    """Whether a line says what matters; a directive can say the rest."""
    return (entry.at, entry.what) == (read.at, read.what)


def _candidates(entry: Entry, reader: NightReader) -> Iterator[str]:
    """Lines to try, the most readable first: as typed, as typed with its time, in our words."""
    if reader.text_mode == LINE:
        yield entry.text
    said = say(entry.what)
    note = f"; {free(entry.note, noted=True)}" if entry.note else ""
    typed = "" if _has_time(entry.text) else entry.text
    for when in _whens(entry, reader):
        for words in (typed, f"{said}{note}", said):
            if words and len(when) + len(words) < MAX_LINE:
                yield f"{when} {words}"


def _whens(entry: Entry, reader: NightReader) -> list[str]:
    """Ways to write the entry's time, the shortest first; a new day is written out."""
    zone = zone_named(entry.zone)
    wall = wall_of(entry.at, zone)
    last = None if reader.last is None else wall_of(reader.last, zone)
    tilde = "~" if entry.certainty == "estimated" else ""
    clock = wall.strftime("%H:%M:%S" if wall.second else "%H:%M")
    dated = f"{wall:%Y-%m-%d} {clock}"
    whole = entry.at.astimezone(zone).isoformat()
    forms = [clock, dated] if _same_day(wall, last) else [dated, clock]
    if entry.certainty == "day":
        forms.insert(0, f"{wall:%Y-%m-%d}")
    return [f"{tilde}{form}" for form in (*forms, whole)]


def _same_day(wall: datetime, last: datetime | None) -> bool:
    return last is not None and wall.date() == last.date()
