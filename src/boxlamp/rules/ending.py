"""When a whelping looks over, so that what has not come by then is missing and not just late."""

from dataclasses import dataclass, field
from datetime import datetime, timedelta

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Birth,
    Contraction,
    Expect,
    Finished,
    Part,
    Rest,
    Sac,
    Scan,
    Waters,
)
from boxlamp.model.litter import Litter, take

KINDS = (Contraction, Waters, Sac, Part, Birth, Rest, Expect, Scan, Finished)


@dataclass(eq=False, repr=False)
class Ending:
    """Whether the whelping looks over. Feed it entries of :data:`KINDS` in canonical order.

    It looks over once somebody says ``finished``, or once a counted number of pups (x-ray or
    scan, never a guess) is born and she rests: a ``rest`` is written down, or nothing has come
    for the time called ``calm``. A birth shows that it was not over after all, and so does new
    pushing, or a higher count, unless she was called finished; then rest or calm is enough to end
    it again.
    """

    calm: timedelta
    litter: Litter = field(default_factory=Litter)
    over: datetime | None = None
    """The moment from which it has looked over."""
    finished: bool = False
    """Whether ``finished`` has been typed since the last birth."""
    reason: Entry | None = None
    """The entry that the rest or the calm is counted from."""
    _quiet: datetime | None = None
    _complete: datetime | None = None
    _called: bool = False

    @property
    def due(self) -> datetime | None:
        """The moment from which it will look over if nothing more happens."""
        if self._quiet is None or self._complete is None or not self.litter.born:
            return None
        return max(self._quiet, self._complete)

    def pass_to(self, moment: datetime) -> None:
        """Let time go by until just before ``moment``, at which another entry comes."""
        if self.over is None and self.due is not None and self.due < moment:
            self.over = self.due

    def take(self, entry: Entry) -> None:
        """Let one entry change the picture."""
        take(self.litter, entry)
        match entry.what:
            case Birth():
                self.over, self.finished = None, False
                self._wait(entry, self.calm)
            case Contraction() | Waters() | Sac() | Part():
                if not self.finished:
                    self.over = None  # she is at it again, whatever the count says
                self._wait(entry, self.calm)
            case Rest():
                self._wait(entry, timedelta(0))
            case Finished():
                self._called = self.finished = True
                self._wait(entry, timedelta(0))
            case _:
                pass
        counted = self.litter.expected_by in {"xray", "scan"} and self.litter.born >= (
            self.litter.expected or 0
        )
        self._complete = (self._complete or entry.at) if counted or self._called else None
        if self._complete is None:
            self.over = None  # more are to come than had been counted
        if self.over is None and self.due is not None and self.due <= entry.at:
            self.over = self.due

    def _wait(self, entry: Entry, calm: timedelta) -> None:
        """Count towards the end from this entry."""
        self._quiet, self.reason = entry.at + calm, entry
