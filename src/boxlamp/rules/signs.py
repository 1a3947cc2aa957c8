"""Signs of the dam that stand until another line ends them, and a clock that follows them."""

from collections.abc import Iterable, Mapping
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, field
from datetime import datetime

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import DamState
from boxlamp.rules.spell import Stopwatch

WELL = frozenset({"bright", "recovered"})
"""What ends a sign of illness."""


@dataclass(eq=False, repr=False)
class Signs:
    """Which of some signs stand, each with the entry that showed it first.

    ``words`` gives the phrase for each sign. What is in ``over`` ends them all, ``bright`` and
    ``recovered`` unless it is said otherwise; ``cures`` names what else ends one.
    """

    words: Mapping[str, str]
    cures: Mapping[str, AbstractSet[str]] = field(default_factory=dict[str, AbstractSet[str]])
    standing: dict[str, Entry] = field(default_factory=dict)
    over: AbstractSet[str] = WELL

    @property
    def said(self) -> str:
        """The signs that stand, as one phrase; empty when none does."""
        return " and ".join(words for sign, words in self.words.items() if sign in self.standing)

    @property
    def entries(self) -> tuple[int, ...]:
        """The numbers of the entries that showed them."""
        return tuple(entry.id for entry in self.standing.values())

    def take(self, entry: Entry, *, but: AbstractSet[str] = frozenset()) -> None:
        """Let a line about the dam end signs, then show those it names, except ``but``."""
        if not isinstance(entry.what, DamState):
            return
        now = set(entry.what.signs)
        for sign in tuple(self.standing):
            if (self.over | self.cures.get(sign, frozenset())) & now:
                self.set(sign, entry, shown=False)
        for sign in self.words.keys() & now - but:
            self.set(sign, entry, shown=True)

    def set(self, sign: str, entry: Entry, *, shown: bool) -> None:
        """Let one entry show a sign, or end it."""
        if shown:
            self.standing.setdefault(sign, entry)
        else:
            self.standing.pop(sign, None)


def follow(
    clock: Stopwatch,
    entry: Entry,
    detail: str,
    reasons: Iterable[int] = (),
    since: datetime | None = None,
) -> None:
    """Run a clock while there is something to say, from its first zero; say what is true now."""
    if detail == clock.detail:
        return
    zero = clock.since or since
    clock.close(entry)
    if detail:
        also = tuple(sorted({*reasons} - {entry.id}))
        clock.open(entry, since=zero, also=also, detail=detail)
