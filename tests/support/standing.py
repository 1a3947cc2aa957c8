"""A plain model of corrections: what stands now, kept up to date line by line.

It shares no thought with ``model/order``, which reads a whole record anew from its end: here
every strike wakes or silences what it names at the moment it is typed.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Amend, Birth, Step, Strike, What

Told = tuple[datetime, What]
"""When something happened, and what."""


@dataclass
class Version:
    """One telling of a line: the line itself, or a correction that gives a time, words or both."""

    number: int
    at: datetime | None
    what: What | None


@dataclass
class Standing:
    """Lines as they were typed, with their corrections hung on them."""

    facts: dict[int, list[Version]] = field(default_factory=dict)
    silent: set[int] = field(default_factory=set)
    """Numbers that are withdrawn."""
    _homes: dict[int, int | None] = field(default_factory=dict)
    _strikes: dict[int, int] = field(default_factory=dict)
    _against: dict[int, set[int]] = field(default_factory=dict)

    def type(self, entry: Entry) -> None:
        """Take in the next line."""
        number, what = entry.id, entry.what
        if isinstance(what, Strike):
            if what.target < number:
                self._strikes[number] = what.target
                self._wake(number)
        elif isinstance(what, Amend):
            home = self.home(what.target) if what.target < number else None
            self._homes[number] = home
            if home is not None:
                at = entry.at if what.retimed else None
                self.facts[home].append(Version(number, at, what.what))
        else:
            self.facts[number] = [Version(number, entry.at, what)]

    def home(self, number: int) -> int | None:
        """The line that a number is about in the end."""
        return number if number in self.facts else self._homes.get(number)

    def _wake(self, number: int) -> None:
        """A line counts (again). If it is a strike, what it names falls silent."""
        target = self._strikes.get(number)
        if target is not None:
            against = self._against.setdefault(target, set())
            against.add(number)
            if len(against) == 1:
                self._silence(target)

    def _silence(self, number: int) -> None:
        """A line counts no more. If it is a strike, what it names may count again."""
        self.silent.add(number)
        target = self._strikes.get(number)
        if target is not None:
            self._against[target].discard(number)
            if not self._against[target]:
                self.silent.discard(target)
                self._wake(target)

    def now(self) -> dict[int, Told]:
        """What stands: of each line that counts, its last time and its last words."""
        found: dict[int, Told] = {}
        for number, versions in self.facts.items():
            if number not in self.silent:
                counting = [one for one in versions if one.number not in self.silent]
                at = [one.at for one in counting if one.at is not None][-1]
                what = [one.what for one in counting if one.what is not None][-1]
                found[number] = at, what
        return found

    def corrected(self) -> set[int]:
        """The lines that stand and are told otherwise than they were typed."""
        return {
            number
            for number, versions in self.facts.items()
            if number not in self.silent
            and any(one.number not in self.silent for one in versions[1:])
        }


def marks_of(stands: Mapping[int, Told]) -> dict[int, str | None]:
    """The pups that are born in a story, each with its mark."""
    marks: dict[int, str | None] = {}
    for _, (_, what) in sorted(
        stands.items(), key=lambda one: (one[1][0], not isinstance(one[1][1], Birth), one[0])
    ):
        if isinstance(what, Birth):
            marks[what.pup] = what.mark
        elif isinstance(what, Step) and what.pup in marks and what.step == "marked":
            marks[what.pup] = what.finding or marks[what.pup]
    return marks
