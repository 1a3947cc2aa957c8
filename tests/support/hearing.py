"""A plain model of the alarm: which of a few alerts stand, who has heard them, what sounds now."""

from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import NamedTuple

from boxlamp.model.levels import Level

Key = tuple[str, str]
"""A rule and whom its alert is about."""

MINUTES: dict[str, dict[Level, float]] = {
    "contraction-no-pup": {Level.WATCH: 15, Level.CALL: 20, Level.GO: 30},
    "part-showing": {Level.CALL: 0, Level.GO: 5},
    "dam-collapse": {Level.GO: 0},
    "not-breathing": {Level.WATCH: 0, Level.CALL: 1, Level.GO: 5},
}
"""The limits of four rules, as the catalogue of rules states them."""

REPEAT = {Level.CALL: timedelta(minutes=2), Level.GO: timedelta(seconds=30)}
GO_AGAIN = timedelta(minutes=5)


class Running(NamedTuple):
    """A clock that runs: from where it counts, since when it runs, and the line that began it."""

    since: datetime
    start: datetime
    line: int


class Heard(NamedTuple):
    """An acknowledgement: its line, the moment it is for, and the one rule it names, if any."""

    line: int
    at: datetime
    rule: str | None


@dataclass
class Hearing:
    """What stands at the box, what was heard, and what has sounded."""

    running: dict[Key, Running] = field(default_factory=dict)
    heard: list[Heard] = field(default_factory=list)
    announced: dict[tuple[Key, Level], datetime] = field(default_factory=dict)
    """When each level that stands last sounded, or was first seen in silence."""

    def reached(self, key: Key, now: datetime) -> tuple[Level, datetime] | None:
        """The level an alert has reached, and when it did."""
        clock = self.running[key]
        limits = MINUTES[key[0]].items()
        dues = [(level, clock.since + timedelta(minutes=limit)) for level, limit in limits]
        come = [(level, max(due, clock.start)) for level, due in dues if due <= now]
        return max(come, default=None)

    def stands(self, now: datetime) -> dict[Key, Level]:
        """Every alert that stands, with its level."""
        found = ((key, self.reached(key, now)) for key in self.running)
        return {key: reached[0] for key, reached in found if reached is not None}

    def heard_at(self, key: Key, now: datetime) -> datetime | None:
        """When somebody last took notice of an alert at the level at which it stands."""
        reached = self.reached(key, now)
        if reached is None:
            return None
        fitting = (
            one.at
            for one in self.heard
            if one.rule in {None, key[0]}
            and reached[1] <= one.at <= now
            and one.line > self.running[key].line
        )
        return max(fitting, default=None)

    def quiet(self, key: Key, level: Level, now: datetime) -> bool:
        """Heard; but a go that still stands is asked about again after a while."""
        heard = self.heard_at(key, now)
        return heard is not None and (level < Level.GO or now < heard + GO_AGAIN)

    def repeats(self) -> list[datetime]:
        """Moments at which what stands may sound again."""
        sounded = (
            at + REPEAT[level] for (_, level), at in self.announced.items() if level in REPEAT
        )
        return sorted({*sounded, *(one.at + GO_AGAIN for one in self.heard)})

    def sounds(self, now: datetime) -> Level | None:
        """A second has come: the worst of what has to sound in it."""
        stands = self.stands(now)
        self.announced = {
            known: at for known, at in self.announced.items() if stands.get(known[0]) == known[1]
        }
        loud = []
        for key, level in stands.items():
            last = self.announced.get((key, level))
            wait = REPEAT.get(level)
            again = last is not None and wait is not None and not last <= now < last + wait
            quiet = self.quiet(key, level, now)
            if last is None or (again and not quiet):
                self.announced[key, level] = now
                loud += [] if quiet else [level]
        return max(loud, default=None)
