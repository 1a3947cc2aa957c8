"""What is known when a line is read, and what the reading gives back."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import NamedTuple

from boxlamp.model.entry import Draft, Entry
from boxlamp.model.litter import Litter, fold
from boxlamp.model.order import corrected
from boxlamp.model.story import Story


@dataclass(frozen=True)
class Context:
    """Everything a line may refer to. Nothing here is read from a clock or a file.

    ``entries`` holds the record by number; without it, numbers in corrections go unchecked.
    ``current`` holds the same entries as they now read, those struck left out.
    ``after`` is set while a night file is read: a clock time then means the first such time not
    before it, and neither the past nor the future is questioned.
    """

    now: datetime
    zone: str = "UTC"
    litter: Litter = field(default_factory=Litter)
    entries: Mapping[int, Entry] | None = None
    current: Mapping[int, Entry] | None = None
    after: datetime | None = None

    @classmethod
    def of(cls, entries: Iterable[Entry], now: datetime, zone: str = "UTC") -> "Context":
        """The context of a record at this moment."""
        known = tuple(entries)
        return cls(
            now, zone, fold(Story(known)), {entry.id: entry for entry in known},
            {entry.id: entry for entry in corrected(known)},
        )  # fmt: skip

    @property
    def next_pup(self) -> int:
        """The number the next birth will get."""
        return max(self.litter.pups, default=0) + 1


class Doubt(NamedTuple):
    """A question to ask before a line is taken as it was read, and how to type it surely.

    Codes: ``future``, ``old``, ``ambiguous-clock``, ``nonexistent-clock``, ``implausible``,
    ``mark``, ``far``, ``far-day``, ``mark-taken``, ``pup-number``, ``birth-or-part``,
    ``another-pup``, ``tail-first``, ``finished``, ``no-birth``, ``kind``, ``two-colours``,
    ``two-states``, ``finished-before``, ``empty-note``, ``gone``, ``several``,
    ``unborn``.
    """

    code: str
    sentence: str
    fix: str


class Heard(NamedTuple):
    """What a line means, how to say so, and what should be asked first."""

    draft: Draft
    echo: str
    doubts: tuple[Doubt, ...] = ()


class NotUnderstood(Exception):  # noqa: N818 - it is what a person is told, not a failure
    """A line that cannot be read: why, and the nearest line that would have worked.

    ``nearest`` may be several lines. What it claims and the line did not is left open, unless it
    is ``recorded``: then it tells an entry of the record that the line is about, or mends a mark or
    a time as it was typed.
    """

    exit_code = 2

    def __init__(self, why: str, nearest: str = "", *, recorded: bool = False) -> None:
        super().__init__(why)
        self.why = why
        self.nearest = nearest
        self.recorded = recorded

    def __str__(self) -> str:
        return f"{self.why} Try: {self.on_one_line}" if self.nearest else self.why

    @property
    def on_one_line(self) -> str:
        """The nearest line, or one or the other of several."""
        return self.nearest.replace("\n", " or ")
