"""What a reader of one word may lean on: the context, and places for remarks and doubts."""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime
from typing import TYPE_CHECKING, TypeVar

from boxlamp.language import sentences
from boxlamp.language.behind import like_a_time, time_first
from boxlamp.language.clock import Spoken
from boxlamp.language.context import Context, Doubt, NotUnderstood
from boxlamp.language.moments import resolve
from boxlamp.language.tokens import Words
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import What

if TYPE_CHECKING:
    from boxlamp.language.word import Word


W = TypeVar("W", bound=What)


@dataclass(eq=False, repr=False)
class Ear:
    """One reading of one line.

    ``remarks`` go into the echo and ``doubts`` are asked. A reader may take the free ``note``
    for itself (what the vet said). ``spoken`` is the time in the line; a reader of corrections
    may find another inside. ``again`` reads an inner line; ``behind`` tells that the time stood
    behind the words. ``amending`` is the entry to correct, as it now reads.
    """

    context: Context
    note: str = ""
    remarks: list[str] = field(default_factory=list)
    doubts: list[Doubt] = field(default_factory=list)
    spoken: Spoken | None = None
    inner: Spoken | None = None
    behind: bool = False
    inside: bool = False
    amending: Entry | None = None
    again: "Callable[[str, Ear], tuple[What, Word]] | None" = None

    def take_note(self) -> str:
        """The free note, which then belongs to what the reader makes of it."""
        note, self.note = self.note, ""
        return note

    def before(self, kind: type[W]) -> W | None:
        """What the entry that is being corrected says now, if it is of this kind."""
        what = self.amending.what if self.amending is not None else None
        return what if isinstance(what, kind) else None

    def moment(self) -> datetime:
        """When the line says it happened."""
        return resolve(self.spoken or self.inner, self.context).at

    def timed(self, line: str) -> str:
        """A line to offer, with the time as it was typed: a clock without it starts too late."""
        spoken = self.spoken or self.inner
        return f"{spoken.typed} {line}" if spoken is not None else line

    def doubt(self, code: str, sentence: str, fix: str) -> None:
        """Ask something before the line is taken."""
        self.doubts.append(Doubt(code, sentence, fix))


def finish(words: Words) -> None:
    """Refuse words that nobody has read."""
    token = words.peek()
    if token is not None:
        refuse_a_time(words)
        raise NotUnderstood(sentences.LEFT_OVER.format(token.raw))


def refuse_a_time(words: Words) -> None:
    """Refuse a time that nobody could read, with the place where it is always read."""
    place = words.place
    if place < len(words.tokens) and not words.tokens[place].quoted:
        keys = [token.key for token in words.tokens[place : place + 4]]
        if like_a_time(keys[0], " ".join(keys[1:])):
            raws = [token.raw for token in words.tokens]
            nearest = time_first(raws, place) or sentences.TIME_FIRST_FIX.format(raws[0])
            raise NotUnderstood(sentences.TIME_FIRST, nearest)
