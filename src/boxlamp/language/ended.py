"""Asking about an end before what is written down, and about a whelping long after its end."""

from datetime import datetime, timedelta

from boxlamp.language import sentences
from boxlamp.language.ear import Ear
from boxlamp.language.moments import shown
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Afterbirth,
    Amend,
    Birth,
    Contraction,
    Finished,
    Part,
    Rest,
    Sac,
    Waters,
    What,
)
from boxlamp.model.spans import in_words

_OF_A_WHELPING = (Contraction, Rest, Waters, Sac, Part, Birth, Afterbirth)
_LONG_AFTER = timedelta(days=7)
_NAMED = 3
"""So many births are named one by one (our choice: one line on a screen)."""


def question_long_after(what: What, at: datetime, ear: Ear) -> None:
    """Ask about a line of a whelping that comes weeks after one: a slip of a key, most likely."""
    last = ear.context.litter.last_birth
    if ear.amending is None and isinstance(what, _OF_A_WHELPING) and last is not None:
        gone = at - last
        if gone > _LONG_AFTER:
            ear.doubt("long-after", sentences.LONG_AFTER.format(in_words(gone)),
                      sentences.LONG_AFTER_FIX)  # fmt: skip


def question_the_end(what: What, at: datetime, ear: Ear) -> None:
    """Ask when something that shows it was not over is written down later than the end.

    A clock time still to come is read as yesterday's, and an end that lies before a birth ends
    nothing. In a night file nobody can be asked.
    """
    ended = _ended(what, at, ear)
    if ended is None or ear.context.after is not None:
        return
    known = ear.context.current if ear.context.current is not None else ear.context.entries
    later = sorted(
        (entry for entry in (known or {}).values() if entry.at > ended),
        key=lambda entry: entry.at,
    )
    said = " ".join(_said(later, ear))
    if said:
        ear.doubt("finished-before", said, sentences.FINISHED_BEFORE_FIX)


def _ended(what: What, at: datetime, ear: Ear) -> datetime | None:
    """When the line says that it was over; a correction may give the time, the words, or both."""
    if isinstance(what, Finished):
        return at
    if not isinstance(what, Amend) or ear.amending is None:
        return None
    now_reads = what.what or ear.amending.what
    if not isinstance(now_reads, Finished):
        return None
    return at if what.retimed else ear.amending.at


def _said(later: list[Entry], ear: Ear) -> list[str]:
    """A sentence for each kind of thing that came after the end."""

    def last_of(*kinds: type[What]) -> str:
        times = [entry for entry in later if isinstance(entry.what, kinds)]
        return _shown(times[-1], ear) if times else ""

    pushed, showed = last_of(Contraction), last_of(Sac, Part)
    found = [_births(later, ear)]
    found += [sentences.SHOWED_AFTER.format(showed)] if showed else []
    found += [sentences.PUSHED_AFTER.format(pushed)] if pushed else []
    return [sentence for sentence in found if sentence]


def _births(later: list[Entry], ear: Ear) -> str:
    born = [
        sentences.BORN_AT.format(entry.what.pup, _shown(entry, ear))
        for entry in later
        if isinstance(entry.what, Birth)
    ]
    if not born:
        return ""
    if len(born) == 1:
        return sentences.BORN_AFTER.format(born[0])
    if len(born) > _NAMED:
        return sentences.MANY_BORN_AFTER.format(len(born), born[-1])
    return sentences.SEVERAL_BORN_AFTER.format(", ".join(born))


def _shown(entry: Entry, ear: Ear) -> str:
    return shown(entry.at, entry.certainty, ear.context)
