"""A past night made ready to be shown: what happened, and the board at any moment of it.

Nothing here knows the future. A moment is judged by what had been typed by then, or, as
corrected, by what had happened by then.
"""

from bisect import bisect_right
from collections import OrderedDict
from collections.abc import Sequence
from datetime import datetime, timedelta, tzinfo

from boxlamp.engine import Assessment, Transition, Verdict, assess
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Amend, Birth, Details, Happening, Strike
from boxlamp.model.levels import Level
from boxlamp.model.order import corrected
from boxlamp.model.revived import alive_after_all
from boxlamp.model.story import as_known
from boxlamp.model.zones import zone_named
from boxlamp.protocol.records import Protocol
from boxlamp.training.retelling import Moment, retell
from boxlamp.view.board import Board, board

AFTERGLOW = timedelta(hours=1)
"""How long a night is followed after its last line. Our choice: the last clocks still ring."""

_BEFORE = timedelta(seconds=1)
_LONG_AFTER = timedelta(minutes=15)
"""Our choice: a line typed so late was no news of its moment."""

# Enough for walking to and fro over a stretch of the night; an assessment is not small.
_KEPT = 32


class Screening:
    """One night, ready to be shown. Make one with :func:`screen`.

    ``moments`` is everything that is told, in order; ``steps`` are the changes of the board
    among them; ``before`` are the facts that were written down before the telling begins.
    """

    def __init__(
        self, entries: tuple[Entry, ...], protocol: Protocol, ended: datetime, *, corrected: bool
    ) -> None:
        self.entries, self.as_corrected, self.ended = entries, corrected, ended
        self.zone: tzinfo = zone_named(zone_name_of(entries))
        told, self.steps = retell(entries, protocol, ended)
        self.began = min((one.at for one in told if _begins(one)), default=ended)
        self.moments: tuple[Moment, ...] = tuple(one for one in told if one.at >= self.began)
        self.before: tuple[Entry, ...] = tuple(
            one.entry for one in told if one.entry is not None and one.at < self.began
        )
        self._protocol = protocol
        # What is known changes when a line is typed and when the time of one typed ahead comes.
        self._turns = sorted({moment for one in entries for moment in (one.recorded, one.at)})
        self._assessed: OrderedDict[int, Assessment] = OrderedDict()

    def verdict(self, at: datetime) -> Verdict:
        """What stood at a moment, by what was known at that moment."""
        return self._known(at).verdict(at)

    def typed(self, at: datetime) -> tuple[Entry, ...]:
        """The lines that had been typed by a moment."""
        return tuple(entry for entry in self.entries if entry.recorded <= at)

    def board(self, at: datetime, *, latest: int = 12) -> Board:
        """The very board of a moment."""
        return board(self.verdict(at), self.typed(at), self.zone, latest=latest)

    @property
    def typed_afterwards(self) -> bool:
        """Whether most of what happened was typed long after it did, and so came all at once."""
        happened = [
            entry
            for entry in self.entries
            if entry.certainty != "day" and not isinstance(entry.what, Amend | Strike | Details)
        ]
        late = sum(entry.recorded - entry.at >= _LONG_AFTER for entry in happened)
        return late > len(happened) / 2

    @property
    def alerts(self) -> tuple[tuple[datetime, Level], ...]:
        """When alerts came, raised or escalated, and at which level."""
        return tuple((step.at, step.level) for step in self.steps if _comes(step))

    @property
    def births(self) -> tuple[tuple[datetime, int], ...]:
        """When each pup came onto the board, and its number."""
        came: dict[int, datetime] = {}
        for moment in self.moments:
            pup = _born(moment.entry) if moment.entry is not None else None
            if pup is not None:
                came.setdefault(pup, moment.at)  # what is amended later was born before
        return tuple((at, pup) for pup, at in came.items())

    def _known(self, at: datetime) -> Assessment:
        """What the rules make of what was known: one pass of them between two turns."""
        turn = bisect_right(self._turns, at)
        found = self._assessed.pop(turn, None)
        if found is None:
            found = assess(as_known(self.entries, at), self._protocol)
        self._assessed[turn] = found
        if len(self._assessed) > _KEPT:
            self._assessed.popitem(last=False)
        return found


def screen(
    entries: Sequence[Entry],
    protocol: Protocol,
    *,
    as_corrected: bool = False,
    until: datetime | None = None,
) -> Screening:
    """Make a night ready to be shown, up to ``until`` or an hour after its last line.

    As it was known then, unless ``as_corrected``: then as better entries would have shown it.
    There must be an entry.
    """
    shown = hindsight(entries) if as_corrected else tuple(entries)
    last = max(max(entry.at, entry.recorded) for entry in shown) if shown else None
    if last is None:
        raise ValueError("a night without an entry cannot be shown")
    return Screening(shown, protocol, until or last + AFTERGLOW, corrected=as_corrected)


def hindsight(entries: Sequence[Entry]) -> tuple[Entry, ...]:
    """The record as if every line had been typed right, and at the moment it happened.

    A pup that breathes after it was written down as dead had never been dead.
    Who the dam is and whom to ring was so all the while, whenever it was written down.
    """
    whats = {entry.id: entry.what for entry in entries}
    right = alive_after_all(corrected(entries))
    first = min((entry.at for entry in right if not isinstance(entry.what, Details)), default=None)
    return tuple(_in_time(entry, whats[entry.id], first) for entry in right)


def _in_time(entry: Entry, typed: Happening, first: datetime | None) -> Entry:
    """A line as if typed when it happened; a fact about the dam before all that happened."""
    changes: dict[str, object] = {
        "recorded": entry.at,
        # An amended line no longer says what its typed words say.
        "text": entry.text if entry.what is typed else "",
    }
    if isinstance(entry.what, Details) and first is not None and entry.at >= first:
        before = first - _BEFORE
        changes |= {"at": before, "recorded": before, "certainty": "day"}
    return entry.model_copy(update=changes)


def _begins(moment: Moment) -> bool:
    """Whether the telling may begin here: facts of which only the day is known set the scene."""
    return moment.entry is None or moment.entry.certainty != "day"


def _comes(step: Transition) -> bool:
    return step.change in {"raised", "escalated"}


def _born(entry: Entry) -> int | None:
    what = entry.what.what if isinstance(entry.what, Amend) else entry.what
    return what.pup if isinstance(what, Birth) else None


def zone_name_of(entries: Sequence[Entry]) -> str:
    """The zone of the whelping box: the one last written down, else the first line's own."""
    named = [e.what.zone for e in entries if isinstance(e.what, Details) and e.what.zone]
    return named[-1] if named else entries[0].zone
