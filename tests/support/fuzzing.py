"""What a fuzzer may hand in, and what must hold of it: any typed line, any file to be read.

Both promises take bytes. They return quietly when they hold and raise when they do not, so the
fuzzer and an ordinary test ask the very same thing.
"""

import io
import re
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

from boxlamp.engine import FAILED, assess
from boxlamp.journal.errors import JournalError
from boxlamp.journal.exchange import MAX_DEPTH, depth, read_litter
from boxlamp.journal.repair import recover
from boxlamp.journal.verify import verify
from boxlamp.language import (
    Context,
    Heard,
    NightError,
    NotUnderstood,
    if_meant,
    kept_as_note,
    read_line,
    read_night,
    say,
    write_night,
)
from boxlamp.language.several import heard
from boxlamp.model.entry import Draft, Entry
from boxlamp.model.happenings import Birth, Details, Expect, Finished, Note, What
from boxlamp.model.story import Story
from boxlamp.protocol.overrides import objections
from boxlamp.protocol.own_file import read_own_limits
from boxlamp.protocol.records import ProtocolError, read_protocol
from boxlamp.rules.registry import NEVER_RELAXED
from boxlamp.view.text import clean
from support.happenings import NOW
from support.nights import DEFAULT

RAW = re.compile("[\x00-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff]")
"""What makes a terminal do something, or turns a line round."""

_ENOUGH = 40


def _box(*happened: tuple[int, What]) -> Context:
    """A litter in which this happened, so many minutes before now."""
    entries = [
        Draft(at=NOW - timedelta(minutes=ago), what=what, text="typed").numbered(
            number, "night", NOW - timedelta(minutes=ago)
        )
        for number, (ago, what) in enumerate(happened, start=1)
    ]
    return Context.of(entries, NOW, "Europe/Prague")


_THREE = (
    (90, Birth(pup=1, mark="red")),
    (60, Birth(pup=2, mark="light green", sex="dog")),
    (30, Birth(pup=3)),
)
BOXES: tuple[Context, ...] = (
    _box(),
    _box((100, Expect(count=6, method="xray")), *_THREE),
    _box((100, Details(dam="Bramble")), *_THREE, (5, Finished())),
    _box(*((20 * 1440 + ago, what) for ago, what in _THREE), (10, Note(words="well"))),
)
"""The litters a line may be typed in: none born yet, in labour, over, three weeks on."""


def line_of(content: bytes) -> tuple[Context, str]:
    """The litter and the line that some bytes stand for."""
    box = BOXES[content[0] % len(BOXES)] if content else BOXES[0]
    return box, content[1:].decode("utf-8", "surrogateescape")


def any_line(content: bytes) -> None:
    """A typed line gives an entry, or a reason and a note; nothing raw is echoed or kept."""
    box, line = line_of(content)
    if_meant(line, box)
    try:
        each = heard(line, box)
    except NotUnderstood as refused:
        told = refused
    else:
        for one in each:
            _understood(one, box)
        return
    assert told.why, "a refusal says why"
    assert not RAW.search(clean(str(told)))
    _kept(kept_as_note(line, box), box)


def _understood(told: Heard, box: Context) -> None:
    """The echo is harmless, and what is kept says the same again."""
    assert not RAW.search(told.echo), f"the echo holds a control code: {told.echo!r}"
    for doubt in told.doubts:
        assert not RAW.search(clean(f"{doubt.sentence} {doubt.fix}"))
    _kept(told.draft, box)
    _said_again(told, box)


def _kept(draft: Draft, box: Context) -> None:
    """What is kept holds nothing raw, and a night file carries it whole."""
    assert not RAW.search(draft.text + draft.note), "the record holds a control code"
    entry = draft.numbered(len(box.entries or ()) + 1, "night", NOW, "me")
    assert read_night(write_night([entry])).entries == (entry,)


def _said_again(told: Heard, box: Context) -> None:
    """Said in the language's own words, it reads back as the same."""
    what = told.draft.what
    said = say(what)
    try:
        again = read_line(said, box).draft.what
    except NotUnderstood as refused:
        raise AssertionError(f"{said!r} is not understood: {refused}") from refused
    assert again == what, f"{said!r} reads back as another: {again!r} for {what!r}"


def _night(content: bytes) -> None:
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return
    try:
        night = read_night(text, source="x.night")
    except NightError as error:
        told = error.problems
    else:
        _of_use(night.entries)
        assert read_night(write_night(night.entries)).entries == night.entries
        return
    assert told
    assert all(problem.startswith("x.night:") for problem in told)


def _litter(content: bytes) -> None:
    try:
        header, entries = read_litter(io.BytesIO(content), "x.jsonl")
    except JournalError:
        return
    assert header.entries in {None, len(entries)}
    _of_use(tuple(entries))


def _mirror(content: bytes) -> None:
    """A mirror out of somebody's hands is checked, and all that is whole in it comes back."""
    with TemporaryDirectory(dir=in_memory()) as folder:
        path = Path(folder) / "journal.db"
        path.with_suffix(".jsonl").write_bytes(content)
        verify(path)
        try:
            recover(path)
        except JournalError:
            return
        assert verify(path).ok


def in_memory() -> str | None:
    """A folder in memory, where there is one: no disk wears out for a fuzzer."""
    return "/dev/shm" if Path("/dev/shm").is_dir() else None  # noqa: S108 only whether it is there


def _own_limits(content: bytes) -> None:
    try:
        limits = read_own_limits(content.decode("utf-8-sig")).as_entries()
    except (ProtocolError, UnicodeDecodeError):
        return
    for sentence in objections(limits, DEFAULT.spans, NEVER_RELAXED, DEFAULT.following):
        assert not RAW.search(clean(sentence))


def _protocol(content: bytes) -> None:
    try:
        read_protocol(content.decode("utf-8-sig"))
    except (ProtocolError, UnicodeDecodeError):
        return


def _depth(content: bytes) -> None:
    """No line that counts as shallow breaks the reader by its brackets."""
    line = content.decode("utf-8", "replace")
    assert 0 <= depth(line) <= len(line)
    assert depth(line) == 0 or line.count("{") + line.count("[") > MAX_DEPTH


def _of_use(entries: tuple[Entry, ...]) -> None:
    """What was taken in can be judged: no rule and no other part breaks over it."""
    if not 0 < len(entries) <= _ENOUGH:
        return
    story = Story(entries)
    last = max(entry.at for entry in entries)
    judged = assess(story, DEFAULT)
    failed = [spell for spell in judged.spells if spell.clock == FAILED]
    assert not failed, f"a rule breaks: {failed[0].rule}: {failed[0].detail}"
    judged.verdict(last)


READERS: dict[bytes, Callable[[bytes], None]] = {
    b"n": _night, b"j": _litter, b"m": _mirror, b"l": _own_limits, b"p": _protocol, b"d": _depth,
}  # fmt: skip
"""Every reader of a file, by the letter that a fuzzed file begins with."""


def any_file(content: bytes) -> None:
    """A file gives entries or the error that its reader promises, and nothing else."""
    READERS.get(content[:1], _night)(content[1:])
