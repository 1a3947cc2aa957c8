"""Reading a night file: header, entries, directives, expected alerts; all problems at once."""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime
from typing import Any, Literal

from pydantic import ValidationError

from boxlamp.language import directive, sentences
from boxlamp.language.clock import Spoken, cut_when
from boxlamp.language.context import Context, NotUnderstood
from boxlamp.language.line import understand
from boxlamp.language.moments import resolve
from boxlamp.language.night import MAX_BYTES, MAX_LINES, Expected, Night, NightError
from boxlamp.language.night_header import (
    header_day,
    header_drafts,
    header_zone,
    midnight,
    split_header,
)
from boxlamp.language.text import MAX_LINE, cleaned, visible
from boxlamp.language.tokens import Words, table
from boxlamp.model.entry import Draft, Entry
from boxlamp.model.happenings import Amend, Birth, Death, Happening, Step, Strike
from boxlamp.model.levels import DAM, LITTER, Level, pup_subject
from boxlamp.model.litter import Litter, fold, take
from boxlamp.model.order import canonical, corrected
from boxlamp.model.story import Story

_LONG_BEFORE = datetime(1990, 1, 1, tzinfo=UTC)
_LEVELS = {level.word: level.word for level in Level}
# A real litter needs a few dozen; a hostile file must not make each line cost more than the last.
_MOST_NAMES = 1_000
_MOST_CORRECTIONS = 1_000
_NO_BRACKETS = str.maketrans("[]", "  ")
_SUBJECTS = table({DAM: "", LITTER: ""})


def read_night(
    text: str, *, litter: str | None = None, zone: str = "UTC", source: str = "<file>"
) -> Night:
    """Read a night file. ``litter`` overrides the one the file names; ``zone`` is the fallback.

    Raises :class:`NightError` with every problem in the file.
    """
    lines = text.removeprefix("\ufeff").split("\n")
    if len(lines) > MAX_LINES + 1 or len(text.encode("utf-8", "replace")) > MAX_BYTES:
        raise NightError((f"{source}:1: {sentences.TOO_LARGE}",))
    reader = NightReader(litter=litter or "night", zone=zone, fixed_litter=litter is not None)
    reader.read_file(lines)
    if reader.problems:
        places = sorted(reader.problems)
        raise NightError(tuple(f"{source}:{number}: {why}" for number, why in places))
    return Night(tuple(reader.entries), tuple(reader.expected), reader.header)


@dataclass(eq=False, repr=False)
class Names:
    """The pups of the entries read so far: numbers, marks, who is dead; and nothing else.

    Kept apart so that each line need not fold the whole file again.
    """

    litter: Litter = field(default_factory=Litter)
    _naming: dict[int, Entry] = field(default_factory=dict)

    def learn(self, entry: Entry, entries: dict[int, Entry]) -> None:
        """Take in one entry, if it says anything about who the pups are."""
        what = entry.what
        if len(self._naming) >= _MOST_NAMES:
            raise NotUnderstood(sentences.TOO_MANY_NAMES)
        if isinstance(what, Amend | Strike):
            names = what.target in self._naming or (
                isinstance(what, Amend) and what.what is not None and _is_name(what.what)
            )
            if names and what.target in entries:
                self._naming.setdefault(what.target, entries[what.target])
                self._naming[entry.id] = entry
                self.litter = fold(Story(self._naming.values()))
        elif _is_name(what):
            last = next(reversed(self._naming.values()), None)
            self._naming[entry.id] = entry
            if last is None or canonical(last) <= canonical(entry):
                take(self.litter, entry)
            else:
                self.litter = fold(Story(self._naming.values()))


def _is_name(what: Happening) -> bool:
    """Whether it names a pup, or says that one is dead: then ``alive`` may be said of it."""
    return isinstance(what, Birth | Death) or (isinstance(what, Step) and what.step == "marked")


@dataclass(eq=False, repr=False)
class Read:
    """One entry line, read but not yet taken in, and where it leaves the clock."""

    entry: Entry
    last: datetime | None


@dataclass(eq=False, repr=False)
class NightReader:
    """The state of a file while it is read from top to bottom."""

    litter: str = "night"
    zone: str = "UTC"
    by: str = ""
    text_mode: directive.Mode = directive.LINE
    fixed_litter: bool = False
    entries: list[Entry] = field(default_factory=list)
    by_number: dict[int, Entry] = field(default_factory=dict)
    expected: list[Expected] = field(default_factory=list)
    header: dict[str, str] = field(default_factory=dict)
    problems: list[tuple[int, str]] = field(default_factory=list)
    current: dict[int, Entry] = field(default_factory=dict)
    """The entries as they now read, for corrections that change only a part."""
    homes: dict[int, int] = field(default_factory=dict)
    """The line that each correction is about in the end."""
    families: dict[int, list[Entry]] = field(default_factory=dict)
    """Each corrected line with everything that corrects it, corrections of corrections too."""
    names: Names = field(default_factory=Names)
    last: datetime | None = None
    """The time of the last entry line: a clock time comes at or after it."""
    seen: datetime | None = None
    next_number: int = 1
    pending: tuple[int, dict[str, Any]] | None = None

    def read_file(self, lines: list[str]) -> None:
        """Read every line; what is wrong goes into ``problems``."""
        start = self._read_header(lines)
        for number, line in enumerate(lines, start=1):
            body = line.strip()
            if not body or (number <= start and not body.startswith(directive.MARK)):
                continue
            read = next((read for mark, read in _KINDS if body.startswith(mark)), _entry_line)
            try:
                read(self, number, body)
            except (NotUnderstood, directive.DirectiveError) as wrong:
                self.problems.append((number, str(wrong)))
            except (ValueError, OverflowError):
                self.problems.append((number, sentences.OUT_OF_RANGE))
        if self.pending is not None:
            self.problems.append((self.pending[0], sentences.DIRECTIVE_ALONE))

    def _read_header(self, lines: list[str]) -> int:
        header = split_header(lines)
        self.header = header.values
        try:
            self.zone = header_zone(header, self.zone)
            day = header_day(header, lines)
            # Without a heading, only a date in a line itself may begin the night.
            start = None if day is None else midnight(day, self.zone)
            self.last = self.seen = start if "date" in header.values else None
            drafts, problems = header_drafts(header, start, self.zone)
        except (NotUnderstood, OverflowError) as wrong:
            self.problems.append((header.lines[0][0] if header.lines else 1, str(wrong)))
            return header.length
        except ValidationError:
            self.problems.append((header.lines[0][0], sentences.OUT_OF_RANGE))
            return header.length
        self.problems += problems
        for draft in drafts:
            self.take(Read(draft.numbered(self.next_number, self.litter, draft.at), self.last))
        return header.length

    def context(self, zone: str | None = None) -> Context:
        """What the next line may refer to."""
        after = self.last or _LONG_BEFORE
        return Context(
            after, zone or self.zone, self.names.litter, self.by_number, self.current, after
        )

    def read_entry(self, line: str, given: dict[str, Any]) -> Read:
        """Read one entry line with its directive, without taking it in."""
        if len(line) > MAX_LINE:
            raise NotUnderstood(sentences.TOO_LONG.format(len(line), MAX_LINE))
        context = self.context(given.get("zone"))
        if "what" in given:
            draft, spoken, said, leads = _given_what(line, context, given["what"])
        else:
            reading = understand(line, context)
            draft, spoken, leads = reading.draft, reading.spoken, reading.leads
            said = reading.said.at
        if self.last is None and "at" not in given and (spoken is None or spoken.day is None):
            raise NotUnderstood(sentences.NEEDS_DATE)
        values = self._values(draft, said, line, given)
        return Read(Entry.model_validate(values), self._clock_after(said, spoken, leads=leads))

    def _values(
        self, draft: Draft, said: datetime, line: str, given: dict[str, Any]
    ) -> dict[str, Any]:
        values: dict[str, Any] = {
            "id": self.next_number, "litter": self.litter, "at": draft.at, "zone": draft.zone,
            "certainty": draft.certainty, "by": self.by, "text": self.text_mode,
            "note": draft.note, "what": draft.what,
            **{key: value for key, value in given.items() if key != "what"},
        }  # fmt: skip
        # Typed when it happened, unless the file says later; a correction, when it was said.
        values.setdefault("recorded", values["at"] if "at" in given else said)
        if self.fixed_litter:
            values["litter"] = self.litter
        if isinstance(values["text"], directive.Mode):
            values["text"] = raw_text(line, values["text"])
        return values

    def _clock_after(
        self, said: datetime, spoken: Spoken | None, *, leads: bool
    ) -> datetime | None:
        """A day without a clock time, and a date among the words, do not move the night on."""
        if spoken is None or not leads or spoken.day_only:
            return self.last
        return said if self.last is None or spoken.day is not None else max(self.last, said)

    def _correct(self, entry: Entry) -> None:
        """Keep ``current`` true. Only the line that is corrected is read anew, not the file."""
        what, home = entry.what, entry.id
        if isinstance(what, Amend | Strike):
            home = self.homes.get(what.target, what.target)
            self.homes[entry.id] = home
            first = self.by_number.get(home)
            family = self.families.setdefault(home, [first] if first is not None else [])
            if len(family) >= _MOST_CORRECTIONS:
                raise NotUnderstood(sentences.TOO_MANY_CORRECTIONS.format(home))
            family.append(entry)
        elif home in self.families:
            self.families[home].append(entry)
        self.current.pop(home, None)
        for one in corrected(self.families.get(home, [entry])):
            self.current[one.id] = one

    def take(self, read: Read) -> None:
        """Take in an entry that was read."""
        entry = read.entry
        if entry.id in self.by_number:
            raise NotUnderstood(sentences.SAME_NUMBER.format(entry.id))
        self.entries.append(entry)
        self.by_number[entry.id] = entry
        self._correct(entry)
        self.names.learn(entry, self.by_number)
        self.next_number = entry.id + 1
        self.last = read.last
        self.seen = read.last


def raw_text(line: str, mode: directive.Mode) -> str:
    """The raw text an entry line stands for."""
    return visible(cut_when(line)[1] if mode == directive.WORDS else line)


def _given_what(
    line: str, context: Context, what: dict[str, Any]
) -> tuple[Draft, Spoken | None, datetime, bool]:
    """A line whose directive says what happened: only its time is read."""
    spoken, _words = cut_when(cleaned(line))
    moment = resolve(spoken, context)
    draft = Draft(
        at=moment.at, zone=context.zone, certainty=moment.certainty, what=directive.happening(what)
    )
    return draft, spoken, moment.at, spoken is not None


def _entry_line(reader: NightReader, _number: int, line: str) -> None:
    given = reader.pending[1] if reader.pending else {}
    reader.pending = None
    try:
        reader.take(reader.read_entry(line, given))
    except Exception:
        reader.next_number += 1
        raise


def _directive_line(reader: NightReader, number: int, line: str) -> None:
    for_all, values = directive.parse(line)
    if not for_all:
        if reader.pending is not None:
            reader.problems.append((reader.pending[0], sentences.DIRECTIVE_ALONE))
        reader.pending = number, values
        return
    reader.zone = values.get("zone", reader.zone)
    reader.by = values.get("by", reader.by)
    reader.text_mode = values.get("text", reader.text_mode)
    if not reader.fixed_litter:
        reader.litter = values.get("litter", reader.litter)


def _expectation_line(reader: NightReader, number: int, line: str) -> None:
    """``#= 02:31 go contraction-no-pup [pup 3]``: beside the lines it belongs to, in order."""
    wrong = NotUnderstood(sentences.EXPECTATION.format(line[2:].strip()[:80]))
    spoken, rest = cut_when(line[2:])
    words = Words(rest.translate(_NO_BRACKETS))
    if spoken is None:
        reader.expected.append(_nothing(words, number, wrong))
        return
    if reader.seen is None and spoken.day is None:
        raise NotUnderstood(sentences.NEEDS_DATE)
    after = reader.seen or _LONG_BEFORE
    at = resolve(spoken, Context(after, reader.zone, after=after)).at
    cleared = words.key() == "cleared"
    level = None if cleared else words.phrase(_LEVELS)
    if cleared:
        words.pop()
    rule = words.peek()
    if (level is None and not cleared) or rule is None:
        raise wrong
    words.pop()
    subject = _subject(words, wrong)
    change: Literal["raised", "cleared"] = "cleared" if cleared else "raised"
    reader.expected.append(Expected(at, level, rule.key, subject, change, number))
    reader.seen = at


def _nothing(words: Words, number: int, wrong: NotUnderstood) -> Expected:
    """``#= none go [RULE]``."""
    level = words.phrase({f"none {name}": level for name, level in _LEVELS.items()})
    rule = None if words.peek() is None else words.pop().key
    if level is None or words.peek() is not None:
        raise wrong
    return Expected(None, level, rule, change="none", line=number)


def _subject(words: Words, wrong: NotUnderstood) -> str | None:
    if words.peek() is None:
        return None
    subject = words.phrase(_SUBJECTS)
    if subject is None and words.key() == "pup" and words.key(1).isdigit():
        words.pop()
        subject = pup_subject(int(words.pop().key))
    if subject is None or words.peek() is not None:
        raise wrong
    return subject


def _comment_line(_reader: NightReader, _number: int, _line: str) -> None:
    """A comment says nothing to the program."""


_KINDS: tuple[tuple[str, Callable[[NightReader, int, str], None]], ...] = (
    (directive.MARK, _directive_line), ("#=", _expectation_line), ("#", _comment_line),
)  # fmt: skip
