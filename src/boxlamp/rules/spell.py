"""A spell: a stretch of time in which something has been true, and the tools to note one."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from decimal import Decimal
from typing import NamedTuple, Protocol

from boxlamp.model.entry import Entry
from boxlamp.model.levels import DAM, Level


class Spell(NamedTuple):
    """Something true of ``subject`` in ``[start, end)``; ``end`` is None while it still is.

    ``since`` is where the clock counts from. It is usually ``start``, and earlier when the
    clock only came to matter later: a rest that turned out to be short, or afterbirths that
    are owed once the whelping is called finished. A clock never raises anything before
    ``start``. ``opened`` and ``closed`` are the numbers of the entries that began and ended it.

    A spell with a ``level`` needs no clock: a reading out of band stands for that level from
    its start. Otherwise the protocol's limits for ``(rule, clock)`` say when levels are reached.

    A ``held`` clock counted up to ``start`` and counts no further: the level it had reached by
    then stands until ``end``, and no other follows.
    """

    rule: str
    subject: str
    clock: str
    since: datetime
    start: datetime
    end: datetime | None
    opened: tuple[int, ...]
    closed: tuple[int, ...] = ()
    detail: str = ""
    level: Level | None = None
    held: bool = False


class Formula(Protocol):
    """A published way from one measurement to the days that are left."""

    @property
    def name(self) -> str:
        """What it is called in the protocol."""

    @property
    def measure(self) -> str:
        """Which measurement it is for."""

    @property
    def drives(self) -> bool:
        """Whether alarms may rest on it."""

    def suits(self, breed: str, kilos: Decimal | None) -> bool:
        """Whether it was made for such a dog; ``kilos`` is None while nobody has weighed her."""

    def days_left(self, millimetres: Decimal) -> Decimal:
        """The days that are left, not rounded."""

    def holds(self, days: Decimal) -> bool:
        """Whether it is published for so many days left."""


class Yardstick(Protocol):
    """What a rule may ask of the protocol. Numbers stay on the other side of this wall."""

    def levels_at(self, rule: str, clock: str, value: Decimal, at: datetime) -> tuple[Level, ...]:
        """The levels whose band a reading falls in, as the limits stood at that moment."""

    def number(self, rule: str, name: str) -> Decimal:
        """A named setting of a rule: seconds for times, otherwise in its own unit."""

    def length(self, rule: str, name: str) -> timedelta:
        """A named setting of a rule that is a length of time."""

    def edge(self, rule: str, clock: str, level: Level) -> Decimal:
        """The value at which a band begins, to be said in a sentence; it decides nothing."""

    def has(self, rule: str, name: str) -> bool:
        """Whether the protocol holds bands or a setting of this rule under this name."""

    def formulas(self, rule: str) -> Sequence[Formula]:
        """The formulas of a rule, in the order in which they are to be tried."""


def span(yardstick: Yardstick, rule: str, name: str) -> timedelta:
    """A setting that is a length of time."""
    return yardstick.length(rule, name)


@dataclass(eq=False, repr=False)
class Stopwatch:
    """One clock of one subject: opened by one entry, closed by another, noting each spell."""

    rule: str
    subject: str = DAM
    clock: str = "main"
    level: Level | None = None
    held: bool = False
    spells: list[Spell] = field(default_factory=list)
    since: datetime | None = None
    """Where the open clock counts from; None while it is stopped."""
    opened: tuple[int, ...] = ()
    """The entries that opened it."""
    _start: datetime | None = None
    _detail: str = ""

    @property
    def running(self) -> bool:
        """Whether a spell is open."""
        return self._start is not None

    @property
    def detail(self) -> str:
        """What the open spell says beyond its length; empty while the clock is stopped."""
        return self._detail if self.running else ""

    def open(
        self,
        entry: Entry,
        *,
        at: datetime | None = None,
        since: datetime | None = None,
        also: tuple[int, ...] = (),
        detail: str = "",
    ) -> None:
        """Start the clock at this entry (or at a moment it implies), unless it already runs.

        ``since`` sets an earlier zero; ``also`` names further entries that are the reason.
        """
        if self._start is None:
            self._start = at or entry.at
            self.since = since or self._start
            self.opened, self._detail = (*also, entry.id), detail

    def retell(self, entry: Entry, detail: str) -> None:
        """Let the newest entry say how things are; a clock that runs goes on from its zero."""
        since, opened = self.since, self.opened if self.running else ()
        if self._start == entry.at:
            self.opened, self._detail = (*opened, entry.id), detail  # still the same instant
            return
        self.close(entry)
        self.open(entry, since=since, also=opened, detail=detail)

    def close(self, entry: Entry, *, at: datetime | None = None) -> None:
        """Stop the clock at this entry (or at a moment it implies), if it runs."""
        self._note(at or entry.at, (entry.id,))

    def stop(self, at: datetime) -> None:
        """Let the clock run out at a moment that no entry marks."""
        self._note(at, ())

    def finish(self) -> Iterator[Spell]:
        """All spells noted, the one still open included."""
        self._note(None, ())
        yield from self.spells

    def _note(self, end: datetime | None, closed: tuple[int, ...]) -> None:
        if self._start is None or self.since is None:
            return
        if end is not None and end <= self._start and self.level is None:
            self._start = self.since = None  # over in the instant it began: it never was
            return
        self.spells.append(
            Spell(
                self.rule,
                self.subject,
                self.clock,
                self.since,
                self._start,
                end,
                self.opened,
                closed,
                self._detail,
                self.level,
                self.held,
            )
        )
        self._start = self.since = None


@dataclass(eq=False, repr=False)
class Band:
    """Readings of one kind: a spell per level opens out of band and closes back in it."""

    rule: str
    yardstick: Yardstick
    subject: str = DAM
    _watches: dict[Level, Stopwatch] = field(default_factory=dict)

    @property
    def running(self) -> bool:
        """Whether some reading stands out of band."""
        return any(watch.running for watch in self._watches.values())

    def read(
        self, entry: Entry, clock: str, value: Decimal, detail: str | Callable[[], str]
    ) -> None:
        """Take in one reading, judged by the bands of ``clock``.

        Words that take some working out may come as a function: most readings are in order, and
        then nothing is said.
        """
        reached = self.yardstick.levels_at(self.rule, clock, value, entry.at)
        if not reached and not self._watches:
            return
        said = "" if not reached else detail if isinstance(detail, str) else detail()
        for level, watch in self._watches.items():
            if level not in reached:
                watch.close(entry)
        for level in reached:
            watch = self._watches.setdefault(
                level, Stopwatch(self.rule, self.subject, clock, level)
            )
            if watch.running:
                watch.close(entry)  # a new reading: the detail should speak of the newest
            watch.clock = clock
            watch.open(entry, since=entry.at, detail=said)

    def close(self, entry: Entry) -> None:
        """End every open spell: the readings no longer apply."""
        for watch in self._watches.values():
            watch.close(entry)

    def stop(self, at: datetime) -> None:
        """Let the readings run out at a moment that no entry marks."""
        for watch in self._watches.values():
            watch.stop(at)

    def finish(self) -> Iterator[Spell]:
        """All spells noted."""
        for watch in self._watches.values():
            yield from watch.finish()
