"""What an ultrasound measurement says of the day she is due, and by which formula.

A formula is chosen by what is known of her: her breed first, then her weight. The protocol holds
the formulas; here they are tried in its order.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date, timedelta
from decimal import ROUND_HALF_DOWN, Decimal
from typing import NamedTuple

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Details, Scan
from boxlamp.rules.spell import Formula, Yardstick

OWNER = "overdue"
"""The rule that holds the formulas."""
_GRAMS_PER_KILO = 1000


class Measured(NamedTuple):
    """One formula put to the measurements of one kind and one day.

    ``millimetres`` is their mean when several pups were measured. ``holds`` says whether the
    formula is published for what it gives; otherwise nothing is counted from it.
    """

    formula: Formula
    day: date
    entries: tuple[Entry, ...]
    millimetres: Decimal
    days_left: Decimal

    @property
    def holds(self) -> bool:
        """Whether the result lies where the formula is published."""
        return self.formula.holds(self.days_left)

    @property
    def due(self) -> date:
        """The day of the scan and the days left, to the nearest day; a half goes to the earlier."""
        whole = int(self.days_left.to_integral_value(ROUND_HALF_DOWN))
        return self.day + timedelta(days=whole)


@dataclass(eq=False, repr=False)
class Scans:
    """The measurements met so far, those of one kind and one day together, and what she is."""

    yardstick: Yardstick
    breed: str = ""
    kilos: Decimal | None = None
    taken: dict[tuple[date, str], list[Entry]] = field(default_factory=dict)

    def know(self, details: Details) -> None:
        """Take in what is said of her breed and her weight."""
        self.breed = details.breed or self.breed
        if details.weight is not None:
            self.kilos = details.weight / _GRAMS_PER_KILO

    def take(self, entry: Entry, day: date) -> None:
        """Take in one scan, if it measured something."""
        match entry.what:
            case Scan(method="ultrasound", measure=str() as measure, millimetres=Decimal() as size):
                if size > 0:
                    self.taken.setdefault((day, measure), []).append(entry)
            case _:
                pass

    def tried(self) -> Iterator[Measured]:
        """Every formula that suits her, put to every measurement, in the order of trust."""
        for (day, measure), entries in self.taken.items():
            sizes = [size for entry in entries if (size := _size(entry)) is not None]
            mean = sum(sizes, Decimal(0)) / len(sizes)
            for formula in self.yardstick.formulas(OWNER):
                if formula.measure == measure and formula.suits(self.breed, self.kilos):
                    yield Measured(formula, day, tuple(entries), mean, formula.days_left(mean))

    def counted(self) -> Iterator[Measured]:
        """What alarms may rest on: for each measurement the first formula that holds."""
        done: set[tuple[date, str]] = set()
        for one in self.tried():
            key = one.day, one.formula.measure
            if one.formula.drives and one.holds and key not in done:
                done.add(key)
                yield one


def _size(entry: Entry) -> Decimal | None:
    return entry.what.millimetres if isinstance(entry.what, Scan) else None
