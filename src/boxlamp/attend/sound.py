"""When to ring the bell. Pure: it is told what stands and what time it is."""

from dataclasses import dataclass, field
from datetime import datetime, timedelta

from boxlamp.engine import Verdict
from boxlamp.model.levels import Level

# How often an alert that nobody has heard sounds again. Our choice: alarm-management practice
# (ISA-18.2, IEC 62682) asks for a repeat and leaves the figure to the user.
AGAIN: dict[Level, timedelta] = {
    Level.CALL: timedelta(minutes=2),
    Level.GO: timedelta(seconds=30),
}
STROKES: dict[Level, int] = {Level.WATCH: 1, Level.CALL: 2, Level.GO: 3}


@dataclass
class Sound:
    """Remembers what has sounded, so that each level is announced once and repeated if unheard."""

    _rung: dict[tuple[str, str, Level], datetime] = field(default_factory=dict)

    def due(self, verdict: Verdict) -> Level | None:
        """The highest level that should sound now, or None for silence."""
        standing = {(alert.rule.id, alert.subject, alert.level): alert for alert in verdict.alerts}
        self._rung = {key: at for key, at in self._rung.items() if key in standing}
        loud: list[Level] = []
        for key, alert in standing.items():
            last = self._rung.get(key)
            if last is None or (not alert.quiet and _again(alert.level, last, verdict.at)):
                self._rung[key] = verdict.at
                if not alert.quiet:
                    loud.append(alert.level)
        return max(loud, default=None)


def _again(level: Level, last: datetime, now: datetime) -> bool:
    wait = AGAIN.get(level)
    # A clock set back must not silence an alarm for an hour.
    return wait is not None and (now - last >= wait or now < last)
