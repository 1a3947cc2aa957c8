"""Her temperature is due. A reminder, and no alert.

What it watches: the time since the last rectal temperature of the dam that was written down. In
the last days before she is due, by the best evidence there is, it asks for one now and then, and
closer together when the day is near, until a birth, waters, a push, a sac or a part at the vulva,
a caesarean or `finished`. Without such evidence it does not know when, and is silent. After the
whelping it asks once a day for two weeks. A reading from before such a phase does not count in it.

Why it matters: one reading says little. The fall before labour and the rise of a womb that is
inflamed are seen against her readings of the days before.

What to do: take it at the same hours, before she eats or goes out, and write it down.

Example:
    lh: 2026-01-04

    2026-03-03 08:00 temp 38.1
    #= 2026-03-03 20:00 prompt temperature-due
    2026-03-03 21:00 temp 38.0
    2026-03-09 03:00 pup
    2026-03-09 03:30 finished
    #= 2026-03-10 03:30 prompt temperature-due
    2026-03-10 08:00 temp 38.6
    #= 2026-03-11 08:00 prompt temperature-due
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime, time, timedelta

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Birth,
    Caesarean,
    Contraction,
    Finished,
    Part,
    Sac,
    Temperature,
    Waters,
)
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.model.zones import zone_named
from boxlamp.rules import term
from boxlamp.rules.foreseen import Foreseen
from boxlamp.rules.rule import Rule
from boxlamp.rules.spell import Spell, Yardstick, span
from boxlamp.rules.term import Basis, Evidence

ID = "temperature-due"
_LABOUR = (Waters, Contraction, Sac, Part, Birth, Caesarean, Finished)
_LAST_WEEK, _LAST_DAYS, _AFTER = "last-week", "last-days", "after-whelping"


@dataclass(eq=False, repr=False)
class _Dam:
    """Her last reading, and which phase she is in."""

    yardstick: Yardstick
    evidence: Evidence
    clock: Foreseen = field(default_factory=lambda: Foreseen(ID))
    reading: Entry | None = None
    basis: Basis | None = None
    labour: bool = False
    zero: Entry | None = None
    """The last birth or the caesarean; the first `finished` when neither is written down."""
    over: Entry | None = None
    """The first `finished` after that, or else the last birth itself."""

    def take(self, entry: Entry) -> None:
        """Let one entry be a reading, or move her on, and foresee when the next one is due."""
        before = self._phase
        if isinstance(entry.what, Temperature) and entry.what.where == "dam":
            self.reading = entry
        elif isinstance(entry.what, term.KINDS):
            self.evidence.take(entry)
            self.basis = self.evidence.best
        else:
            self._move(entry)
        if self.reading is entry or self._phase != before:
            self._foresee(entry)

    @property
    def _phase(self) -> tuple[object, ...]:
        return self.basis, self.labour, self.over

    def _move(self, entry: Entry) -> None:
        """Let one entry begin her labour or end it."""
        self.labour = self.labour or isinstance(entry.what, _LABOUR)
        match entry.what:
            case Birth() | Caesarean():
                self.zero = self.over = entry
            case Finished() if self.over is None or not isinstance(self.over.what, Finished):
                self.zero, self.over = self.zero or entry, entry
            case _:
                pass

    def _foresee(self, entry: Entry) -> None:
        self.clock.cut(entry)
        if self.zero is not None and self.over is not None:
            end = self.zero.at + self._span("until")
            self._ask(entry, _AFTER, (self.over.id,), self.over.at, end=end)
        elif self.basis is not None and not self.labour:
            due = _midnight(self.basis)
            week, days = (due - self._span(name) for name in (_LAST_WEEK, _LAST_DAYS))
            self._ask(entry, _LAST_WEEK, self.basis.entries, week, end=days)
            self._ask(entry, _LAST_DAYS, self.basis.entries, week, start=days)

    def _ask(  # noqa: PLR0913 - a phase has that many sides
        self,
        entry: Entry,
        clock: str,
        also: tuple[int, ...],
        begins: datetime,
        *,
        start: datetime | None = None,
        end: datetime | None = None,
    ) -> None:
        """Count from the last reading, or from the beginning of the phase when that is later."""
        since = begins
        if self.reading is not None and self.reading.at > begins:
            since, also = self.reading.at, (*also, self.reading.id)
        start = max(start or since, since)
        self.clock.plan(entry, clock, since=since, start=start, end=end, also=also)

    def _span(self, name: str) -> timedelta:
        return span(self.yardstick, ID, name)


def _midnight(basis: Basis) -> datetime:
    """The instant at which the day she is due begins, where the evidence was written down."""
    zone = zone_named(basis.entry.zone)
    return datetime.combine(basis.due, time(), zone).astimezone(UTC)


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """From each reading, or the beginning of a phase, until the next reading."""
    dam = _Dam(yardstick, Evidence(yardstick))
    for entry in story.of(*term.KINDS, Temperature, *_LABOUR):
        dam.take(entry)
    return dam.clock.finish()


RULE = Rule(
    id=ID,
    group="the dam",
    title="Her temperature is due",
    watch=watch,
    says={
        _LAST_WEEK: "Her temperature is due. A fall tells that labour is near.",
        _LAST_DAYS: "Her temperature is due, several times a day now. A fall tells that labour is "
        "near.",
        _AFTER: "Her temperature is due. After whelping a rise may be the first sign of illness.",
    },
    do={Level.PROMPT: ("Take it and write it down, for instance `temp 38.1`.",)},
    page=__doc__,
    on_board=False,
)
