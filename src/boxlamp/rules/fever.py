"""A fever after whelping: read twice, or in a dam who is also unwell."""

from dataclasses import dataclass, field
from decimal import Decimal

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import DamState, Discharge, Temperature
from boxlamp.rules.signs import Signs, follow
from boxlamp.rules.spell import Stopwatch, Yardstick, span

KINDS = (Temperature, Discharge, DamState)
_WORDS = {
    "dull": "she is dull",
    "refused-food": "she refuses food",
    "vomited": "she has vomited",
}
_FOUL = "the discharge is foul"
_KEPT_DOWN = frozenset({"ate"})
_OF_LABOUR = frozenset({"refused-food", "vomited"})
"""Ordinary while she is whelping; they count when they are written down after it."""


@dataclass(eq=False, repr=False)
class Fever:
    """The run of readings in the fever band, and the two clocks it may start.

    Any reading below the band ends the run. A reading long enough after the first of the run
    starts the clock ``again``; the clock ``ill`` runs while the fever and a sign both stand.
    """

    rule: str
    yardstick: Yardstick
    again: Stopwatch = field(init=False)
    ill: Stopwatch = field(init=False)
    signs: Signs = field(
        default_factory=lambda: Signs(_WORDS, dict.fromkeys(_OF_LABOUR, _KEPT_DOWN))
    )
    _first: Entry | None = None
    _foul: Entry | None = None

    def __post_init__(self) -> None:
        """The clocks carry the rule's name."""
        self.again = Stopwatch(self.rule, clock="again")
        self.ill = Stopwatch(self.rule, clock="ill")

    def read(self, entry: Entry, value: Decimal, detail: str) -> None:
        """Take in one reading made after the whelping."""
        if not self.yardstick.levels_at(self.rule, "fever", value, entry.at):
            self.stop(entry)
            return
        first = self._first = self._first or entry
        apart = span(self.yardstick, self.rule, "twice-apart")
        if self.again.running:
            self.again.retell(entry, detail)
        elif entry.at - first.at >= apart:
            self.again.open(entry, since=first.at, also=(first.id,), detail=detail)

    def stop(self, entry: Entry) -> None:
        """The run of high readings is over."""
        self._first = None
        self.again.close(entry)

    def take(self, entry: Entry, *, over: bool) -> None:
        """Let one entry show a sign or end one, and let the clock follow."""
        self.signs.take(entry, but=frozenset() if over else _OF_LABOUR)
        if isinstance(entry.what, Discharge):
            bad = entry.what.foul or entry.what.colour == "pus"
            # However well she is said to be, only a better discharge ends a foul one.
            shown = bad and entry.what.amount != "none"
            self._foul = (self._foul or entry) if shown else None
        follow(self.ill, entry, *self._unwell())

    def _unwell(self) -> tuple[str, tuple[int, ...]]:
        """What is wrong beside the fever, and the entries that show it; nothing without one."""
        if self._first is None:
            return "", ()
        foul = () if self._foul is None else (self._foul.id,)
        said = " and ".join(filter(None, (self.signs.said, _FOUL if foul else "")))
        return said, (self._first.id, *self.signs.entries, *foul)
