"""One imagined night: what was written down, and what was truly the matter."""

from datetime import datetime
from typing import Literal, NamedTuple

from boxlamp.model.entry import Entry

Size = Literal["small", "medium", "large", "giant"]
SIZES: tuple[Size, ...] = ("small", "medium", "large", "giant")


class Imagined(NamedTuple):
    """A night that nobody had. ``entries`` are what reading ``text`` gives."""

    seed: int
    size: Size
    trouble: str | None
    """What goes wrong, by its name in ``TROUBLES``; nothing in a normal night."""
    entries: tuple[Entry, ...]
    troubled: datetime | None
    """When the trouble truly began, seen or not."""
    ended: datetime
    """When the night ends: the whelping is over, or the trouble has run its course."""

    @property
    def text(self) -> str:
        """The night as a night log, with what it teaches at the top."""
        # Written only when somebody reads it: thousands of nights are tried and never printed.
        from boxlamp.imagine.heading import heading
        from boxlamp.imagine.written import text_of

        return text_of(self.entries, heading(self.seed, self.size, self.trouble))
