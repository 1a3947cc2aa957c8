"""Signs that the dam is ill while something may still be inside her."""

from dataclasses import dataclass, field
from datetime import datetime

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Contraction, DamState, Discharge, Temperature
from boxlamp.rules.ending import Ending
from boxlamp.rules.spell import Yardstick, span

KINDS = (Birth, Temperature, Discharge, DamState, Contraction)

_FEVER = "she has a fever"
_FOUL = "the discharge is foul"
_GREEN = "the discharge is still green or black"
_DULL = "she is dull"
_PUSHING = "she is pushing again"


@dataclass(eq=False, repr=False)
class Illness:
    """Which signs of illness stand, each with the entry that showed it.

    A fever ends with the next reading below it, a discharge with the next one that is better,
    dullness and pushing when she is ``bright`` or has ``recovered``.
    """

    rule: str
    yardstick: Yardstick
    standing: dict[str, Entry] = field(default_factory=dict)

    @property
    def words(self) -> str:
        """The signs that stand, as one phrase."""
        return " and ".join(self.standing)

    def take(self, entry: Entry, ending: Ending) -> None:
        """Let one entry show a sign or end one."""
        match entry.what:
            case Temperature(where="dam", celsius=value):
                hot = self.yardstick.levels_at(self.rule, "fever", value, entry.at)
                self._set(_FEVER, entry, shown=bool(hot))
            case Discharge(colour=colour, amount=amount, foul=foul):
                some = amount != "none"
                self._set(_FOUL, entry, shown=some and (foul or colour == "pus"))
                if colour != "unknown" or not some:  # else nobody says that it has changed
                    late = some and self._late(entry.at, ending.litter.last_birth)
                    self._set(_GREEN, entry, shown=late and colour in {"green", "black"})
            case DamState(signs=signs) if "dull" in signs:
                self._set(_DULL, entry, shown=True)
            case DamState(signs=signs) if {"bright", "recovered"} & set(signs):
                self._set(_DULL, entry, shown=False)
                self._set(_PUSHING, entry, shown=False)
            case Contraction() if ending.finished:
                self._set(_PUSHING, entry, shown=True)
            case Birth():  # it explains the pushing, and its own discharge begins anew
                self._set(_PUSHING, entry, shown=False)
                self._set(_GREEN, entry, shown=False)
            case _:
                pass

    def _late(self, at: datetime, birth: datetime | None) -> bool:
        limit = span(self.yardstick, self.rule, "green-after")
        return birth is not None and at - birth >= limit

    def _set(self, sign: str, entry: Entry, *, shown: bool) -> None:
        if shown:
            self.standing.setdefault(sign, entry)
        else:
            self.standing.pop(sign, None)
