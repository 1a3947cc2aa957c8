"""The running clocks as a person reads them: what stands, since when, and what comes next.

A clock and the alert of its rule about the same subject speak of one thing. The alert stands at
the highest level that any clock or reading of the rule has reached, and has stood since the first
of them reached it; so a row says the level and the moment of the alert, and of the limits ahead
only what would raise it.
"""

import re
from collections.abc import Iterator
from datetime import datetime, timedelta, tzinfo
from typing import NamedTuple

from boxlamp.engine import Alert, Clock, Verdict
from boxlamp.model.levels import LITTER, Level
from boxlamp.model.spans import in_short
from boxlamp.view.text import clock_text

Limit = tuple[Level, datetime]

_OF_SEVERAL = re.compile(r"(?i)\b(litter|pups)\b")
"""A title that speaks of the whole litter already."""


class ClockLine(NamedTuple):
    """One running clock, or several of one rule told together by the most pressing."""

    title: str
    pups: tuple[int, ...]
    elapsed: str
    level: Level | None
    filled: float
    """How much of the bar is filled, 0 to 1; the bar's end is the last limit."""
    ticks: tuple[tuple[float, Level], ...]
    coming: str
    """The next level and when: ``call in 12 min (02:34)``."""
    subject: str
    """Whom it is about: ``dam``, ``litter``, ``pup 3`` or ``pup 3, 5``."""

    @property
    def name(self) -> tuple[str, ...]:
        """Its title and the pups it is about, in pieces that belong on one line each."""
        title, pups = self.title.split() or [""], [str(pup) for pup in self.pups]
        if pups:
            title[-1] += ","
            pups[0] = f"pup {pups[0]}"
            return (*title, *(f"{pup}," for pup in pups[:-1]), pups[-1])
        if self.subject == LITTER and not _OF_SEVERAL.search(self.title):
            title[-1] += ","
            return (*title, LITTER)
        return tuple(title)


class _Row(NamedTuple):
    """A running clock beside the alert of its rule about its subject, if one stands."""

    clock: Clock
    alert: Alert | None
    ahead: Limit | None
    """The next higher level that any clock of the rule will reach for this subject."""

    @property
    def level(self) -> Level | None:
        """The level that stands."""
        return self.clock.level if self.alert is None else self.alert.level

    @property
    def elapsed(self) -> timedelta:
        """How long the clock has run, or how long the alert has stood when that is longer."""
        clock, alert = self.clock, self.alert
        now = clock.spell.since + clock.elapsed
        return clock.elapsed if alert is None else max(clock.elapsed, now - alert.raised)

    @property
    def reached(self) -> Limit:
        """What was reached last, when nothing lies ahead."""
        alert = self.alert
        return self.clock.limits[-1] if alert is None else (alert.level, alert.raised)

    def pressing(self, now: datetime) -> tuple[int, datetime, bool, datetime]:
        """A key to sort by: the highest level, the soonest, the one the alert speaks of."""
        due = now if self.ahead is None else self.ahead[1]
        other = self.alert is not None and self.alert.spell is not self.clock.spell
        return -(self.level or 0), due, other, self.clock.spell.since


def clock_lines(verdict: Verdict, zone: tzinfo) -> Iterator[ClockLine]:
    """The running clocks, those of one rule together, the most pressing first."""
    groups: dict[tuple[str, bool], list[_Row]] = {}
    for row in sorted(_rows(verdict), key=lambda row: row.pressing(verdict.at)):
        # What is true of the whole litter is not true of any one pup in it.
        key = row.clock.rule.id, row.clock.spell.subject == LITTER
        groups.setdefault(key, []).append(row)
    for group in groups.values():
        yield _line(group, verdict.at, zone)


def _rows(verdict: Verdict) -> Iterator[_Row]:
    alerts = {(alert.rule.id, alert.subject): alert for alert in verdict.alerts}
    # A reminder has its own place; off the board its clock would only say the same again.
    clocks = [one for one in verdict.clocks if one.limits and (one.rule.on_board or one.level)]
    ahead: dict[tuple[str, str], list[Limit]] = {}
    for clock in clocks:
        key = clock.rule.id, clock.spell.subject
        stands = alerts[key].level if key in alerts else clock.level
        ahead.setdefault(key, []).extend(
            (level, due)
            for level, due in clock.limits
            if due > verdict.at and (stands is None or level > stands)
        )
    for clock in clocks:
        key = clock.rule.id, clock.spell.subject
        soonest = min(ahead[key], key=lambda limit: (limit[1], -limit[0]), default=None)
        yield _Row(clock, alerts.get(key), soonest)


def _line(group: list[_Row], now: datetime, zone: tzinfo) -> ClockLine:
    first = group[0]
    clock, rule = first.clock, first.clock.rule
    end = max(due for _, due in clock.limits) - clock.spell.since
    subjects = dict.fromkeys(row.clock.spell.subject for row in group)
    pups = tuple(int(name[4:]) for name in subjects if name.startswith("pup "))
    return ClockLine(
        title=rule.title if first.level else rule.running or rule.title,
        pups=pups,
        elapsed=in_short(first.elapsed),
        level=first.level,
        filled=min(1.0, clock.elapsed / end) if end else 1.0,
        ticks=tuple(
            ((due - clock.spell.since) / end if end else 1.0, level) for level, due in clock.limits
        ),
        coming=_coming(first, now, zone),
        subject=f"pup {', '.join(map(str, pups))}" if pups else clock.spell.subject,
    )


def _coming(row: _Row, now: datetime, zone: tzinfo) -> str:
    if row.ahead is not None:
        level, due = row.ahead
        word = "remind" if level is Level.PROMPT else level.word
        return f"{word} in {in_short(due - now)} ({clock_text(due, now, zone)})"
    level, due = row.reached
    return f"past {level.word} since {clock_text(due, now, zone)}"
