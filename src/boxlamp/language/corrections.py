"""Reading corrections: an entry that says what an earlier entry should have said."""

from boxlamp.language import amounts, sentences
from boxlamp.language.clock import cut_when
from boxlamp.language.context import NotUnderstood
from boxlamp.language.ear import Ear
from boxlamp.language.tokens import Words
from boxlamp.language.word import Word
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Amend, Strike

_MOST = 999_999_999
_OWN_TIME = "time"


def _target(words: Words, ear: Ear) -> tuple[int, Entry | None]:
    token = words.peek()
    if token is not None and token.key in {"entry", "number"}:
        words.pop()
    token = words.peek()
    if token is None or not token.key.lstrip("#"):
        raise NotUnderstood(sentences.ENTRY_NUMBER, "strike 12 typed twice")
    number = amounts.whole(Words(token.key.lstrip("#")), _MOST)
    if not number:
        raise NotUnderstood(sentences.ENTRY_NUMBER, "strike 12 typed twice")
    words.pop()
    entries = ear.context.entries
    if entries is not None and number not in entries:
        raise NotUnderstood(sentences.NO_SUCH_ENTRY.format(number))
    return number, entries.get(number) if entries is not None else None


def strike(words: Words, ear: Ear) -> Strike:
    """``strike N why``."""
    number, entry = _target(words, ear)
    _remind(entry, ear)
    return Strike(target=number, why=words.free() or ear.take_note())


def amend(words: Words, ear: Ear) -> Amend:
    """``amend N [when] [words]``: a new time, new words, or both.

    ``amend N time`` takes the time at the front of the line as the new time.
    """
    number, entry = _target(words, ear)
    ear.amending = entry
    _remind(entry, ear)
    retimed = words.key() == _OWN_TIME and not words.tokens[words.place].quoted
    if retimed:
        words.pop()
    ear.inner, rest = cut_when(words.free())
    retimed = retimed or ear.inner is not None
    if not rest.strip(" ;"):
        if not retimed:
            raise NotUnderstood(sentences.AMEND_WHAT.format(number), f"amend {number} 02:14")
        return Amend(target=number, retimed=True)
    if ear.again is None:
        raise NotUnderstood(sentences.AMEND_FACT, f"strike {number}")
    what, _word = ear.again(rest, ear)
    if isinstance(what, Amend | Strike):
        raise NotUnderstood(sentences.AMEND_FACT, f"strike {number}")
    return Amend.model_validate({"target": number, "what": what, "retimed": retimed})


def _remind(entry: Entry | None, ear: Ear) -> None:
    if entry is not None:
        from boxlamp.language.say import say

        ear.remarks.append(f"entry {entry.id} was: {say(entry.what)}")


WORDS = (
    Word("amend", "amend N [WHEN] [WORDS]", "A correction: a new time, new words, or both.",
         ("amend 1 02:10", "amend 1 temp 37.2", "amend 1 02:10 pup m 312g"), amend,
         synonyms=("correct", "correction", "change"), whole=True, any_age=True),
    Word("strike", "strike N why", "An entry is withdrawn. It stays visible.",
         ("strike 1 typed twice",), strike, synonyms=("delete", "remove", "withdraw")),
)  # fmt: skip
