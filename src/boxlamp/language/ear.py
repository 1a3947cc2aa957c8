"""What a reader of one word may lean on: the context, and places for remarks and doubts."""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from boxlamp.language import sentences
from boxlamp.language.clock import Spoken
from boxlamp.language.context import Context, Doubt, NotUnderstood
from boxlamp.language.tokens import Words
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import What

if TYPE_CHECKING:
    from boxlamp.language.word import Word


@dataclass
class Ear:
    """One reading of one line.

    ``remarks`` go into the echo and ``doubts`` are asked. A reader may take the free ``note``
    for itself (what the vet said). ``spoken`` is the time in the line; a reader of corrections
    may find another inside. ``again`` reads an inner line.
    """

    context: Context
    note: str = ""
    remarks: list[str] = field(default_factory=list)
    doubts: list[Doubt] = field(default_factory=list)
    spoken: Spoken | None = None
    inner: Spoken | None = None
    amending: Entry | None = None
    again: "Callable[[str, Ear], tuple[What, Word]] | None" = None

    def take_note(self) -> str:
        """The free note, which then belongs to what the reader makes of it."""
        note, self.note = self.note, ""
        return note

    def doubt(self, code: str, sentence: str, fix: str) -> None:
        """Ask something before the line is taken."""
        self.doubts.append(Doubt(code, sentence, fix))


def finish(words: Words) -> None:
    """Refuse words that nobody has read."""
    token = words.peek()
    if token is not None:
        raise NotUnderstood(sentences.LEFT_OVER.format(token.raw))
