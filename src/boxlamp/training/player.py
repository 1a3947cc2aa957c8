"""Where in a night a person is who watches it again: playing, paused, or at its end.

A player never changes: every key and every tick makes another one. It knows neither a clock nor
a terminal. Lengths are in seconds; ``place`` and ``stops`` count from the beginning of the night.

Nothing is ever run past. A tick goes no further than the next stop, and every stop is looked at
for a while, so that no line and no alert flashes by however fast the night is played. A quiet
stretch is cut short between two stops, never across one.
"""

from bisect import bisect_left, bisect_right
from datetime import datetime, timedelta
from typing import NamedTuple

from boxlamp.training.screening import Screening

SPEEDS = (1, 2, 5, 10, 20, 60, 120, 300, 600, 1800, 3600)
"""The speeds that `+` and `-` go through."""
USUAL_SPEED = 60
"""A minute of the night in a second."""

# All our choice. A stretch is quiet when it is long in the night and long to watch.
QUIET = 10 * 60
_LONG_TO_WATCH = 4.0
_LEAD, _RUN = 1.0, 1.5
"""How long a cut stretch is shown as it was at each end, and run through between."""
_LOOK, _LOOK_AT_ALERT = 0.5, 2.5
"""How long at least everything is looked at."""


class Reel(NamedTuple):
    """What there is to play: how long it is, where something happens, where an alert comes."""

    length: float
    stops: tuple[float, ...]
    alerts: tuple[float, ...]


class Quiet(NamedTuple):
    """A quiet stretch that is cut short: where it lies, and the part that is run through."""

    start: float
    end: float
    run_from: float
    run_to: float

    @property
    def length(self) -> float:
        """How long it was in the night."""
        return self.end - self.start


class Player(NamedTuple):
    """One moment of watching."""

    reel: Reel
    speed: float = USUAL_SPEED
    playing: bool = True
    place: float = 0.0
    look: float = _LOOK_AT_ALERT
    """How many seconds the person still looks at what is here."""

    @property
    def ended(self) -> bool:
        """Whether the night is over."""
        return self.place >= self.reel.length

    @property
    def next_stop(self) -> float:
        """Where something happens next, or the end."""
        return _after(self.reel.stops, self.place, self.reel.length)

    @property
    def quiet(self) -> Quiet | None:
        """The quiet stretch the player is in, if it is one that is cut short."""
        found = bisect_right(self.reel.stops, self.place)
        start = self.reel.stops[found - 1] if found else 0.0
        end = self.next_stop
        lead = _LEAD * self.speed
        if end - start < QUIET or (end - start) / self.speed <= max(_LONG_TO_WATCH, 2 * _LEAD):
            return None
        return Quiet(start, end, start + lead, end - lead)

    @property
    def runs(self) -> bool:
        """Whether a quiet stretch is being run through just now."""
        quiet = self.quiet
        return self.playing and quiet is not None and quiet.run_from <= self.place < quiet.run_to

    def tick(self, seconds: float) -> "Player":
        """So many seconds of watching later: at the next stop at the furthest."""
        if not self.playing or self.ended:
            return self
        if self.look > 0:
            return self._replace(look=max(0.0, self.look - seconds))
        quiet = self.quiet
        pace, bounds = self.speed, [self.next_stop]
        if quiet is not None:
            bounds += [quiet.run_from, quiet.run_to]
            if quiet.run_from <= self.place < quiet.run_to:
                pace = (quiet.run_to - quiet.run_from) / _RUN
        bound = min(one for one in bounds if one > self.place)
        place = self.place + seconds * pace
        if place < bound:
            return self._replace(place=place)
        return self._at(bound) if bound == self.next_stop else self._replace(place=bound)

    def toggle(self) -> "Player":
        """Pause, or go on; at the end, play it again from the beginning."""
        if self.ended:
            return self._at(0.0)._replace(playing=True)
        return self._replace(playing=not self.playing, look=0.0)

    def next_event(self) -> "Player":
        """Stop where something happens next, or at the end."""
        return self._stopped(self.next_stop)

    def last_event(self) -> "Player":
        """Stop where something happened before, or at the beginning."""
        return self._stopped(_before(self.reel.stops, self.place))

    def next_alert(self) -> "Player":
        """Stop where the next alert comes, or at the end when none does."""
        return self._stopped(_after(self.reel.alerts, self.place, self.reel.length))

    def last_alert(self) -> "Player":
        """Stop where the alert before came, or at the beginning when there was none."""
        return self._stopped(_before(self.reel.alerts, self.place))

    def to_begin(self) -> "Player":
        """Stop at the beginning."""
        return self._stopped(0.0)

    def to_end(self) -> "Player":
        """Stop at the end."""
        return self._stopped(self.reel.length)

    def faster(self) -> "Player":
        """The next faster speed; at the fastest it stays."""
        return self._replace(speed=min((s for s in SPEEDS if s > self.speed), default=self.speed))

    def slower(self) -> "Player":
        """The next slower speed; slower than it was there is none."""
        return self._replace(speed=max((s for s in SPEEDS if s < self.speed), default=self.speed))

    def _stopped(self, place: float) -> "Player":
        return self._at(place)._replace(playing=False)

    def _at(self, place: float) -> "Player":
        """At a stop: there is something to look at."""
        look = _LOOK_AT_ALERT if place in self.reel.alerts or not place else _LOOK
        ended = place >= self.reel.length
        return self._replace(place=place, look=look, playing=self.playing and not ended)


def player_of(screening: Screening, speed: float = USUAL_SPEED, *, step: bool = False) -> Player:
    """A player at the beginning of a night; with ``step`` it waits for a key at every moment."""
    began = screening.began

    def places(moments: list[datetime]) -> tuple[float, ...]:
        return tuple((one - began).total_seconds() for one in sorted(set(moments)))

    stops = places([moment.at for moment in screening.moments])
    reel = Reel(
        # What happens at the last second of all is seen before the end is said.
        length=max([(screening.ended - began).total_seconds(), *(stop + 1 for stop in stops[-1:])]),
        stops=stops,
        alerts=places([at for at, _ in screening.alerts]),
    )
    return Player(reel, speed=speed, playing=not step)


def moment_at(screening: Screening, player: Player) -> datetime:
    """The second of the night that is shown."""
    return min(screening.began + timedelta(seconds=int(player.place)), screening.ended)


def _after(places: tuple[float, ...], place: float, end: float) -> float:
    found = bisect_right(places, place)
    return places[found] if found < len(places) else end


def _before(places: tuple[float, ...], place: float) -> float:
    found = bisect_left(places, place)
    return places[found - 1] if found else 0.0
