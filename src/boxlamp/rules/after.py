"""When the whelping is over for the dam, so that what labour explains is no longer explained."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Caesarean, Contraction, Finished, Part, Sac, Waters

KINDS = (Birth, Contraction, Waters, Sac, Part, Caesarean, Finished)


@dataclass(eq=False, repr=False)
class After:
    """Whether the whelping is over. Feed it entries of :data:`KINDS` in canonical order.

    It is over once `finished` is typed, and then only another birth or a caesarean takes that
    back; or when nothing has come for the time called ``calm`` since the last birth or the
    caesarean, no contraction, waters, sac or part either. After a caesarean there is no labour.
    """

    calm: timedelta
    zero: datetime | None = None
    """The last birth or the caesarean; the first `finished` when neither is written down."""
    _finished: bool = False
    _stirred: datetime | None = None
    _caesarean: bool = False

    def take(self, entry: Entry) -> None:
        """Let one entry end the whelping, or show that it goes on."""
        match entry.what:
            case Contraction() | Waters() | Sac() | Part():
                if not self._caesarean:
                    self._stirred = entry.at
            case Birth() | Caesarean():
                self._caesarean = self._caesarean or isinstance(entry.what, Caesarean)
                self.zero = self._stirred = entry.at
                self._finished = False
            case Finished():
                self._finished = True
                self.zero = self.zero or entry.at
            case _:
                pass

    def age(self, at: datetime) -> timedelta | None:
        """How long before ``at`` the last pup came; None while the whelping is not over."""
        if self.zero is None:
            return None
        calm = self._stirred is not None and at - self._stirred >= self.calm
        return at - self.zero if self._finished or calm else None
