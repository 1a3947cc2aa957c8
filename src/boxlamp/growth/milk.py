"""Milk for pups that are fed by hand: published tables side by side, for the vet to choose from.

Two published needs differ nearly two-fold, so every amount is a range. Nothing here is an order
to feed, and a cold pup is not fed at all: its gut stands still and the milk comes up again.
"""

from datetime import timedelta
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from typing import NamedTuple

from boxlamp.growth.cited import Cited

TABLE = Cited(
    "Milk of about 1 kcal per mL, mL per 100 g of pup and day, and feeds a day, by week: 13 in 6, "
    "17 in 4, 20 in 4, 22 in 3.",
    "X",
    "Dog owner's home veterinary handbook",
    "p. 499; an animal hospital's table agrees",
)
NEED = Cited(
    "A pup needs 25 kcal per 100 g and day until it is weaned.",
    "S",
    "National Research Council 2006, as reported by a veterinary wiki",
)
MEAL = Cited(
    "A meal is about 4 mL per 100 g: so much its stomach holds.",
    "X",
    "Chastant S., Mila H., Passive immune transfer in puppies, Anim Reprod Sci 2019;207:162-170",
    where="doi:10.1016/j.anireprosci.2019.06.012",
)
START = Cited(
    "At the start rather too little than too much.",
    "X",
    "Small Animal Clinical Nutrition, 5th ed.",
    "p. 309",
)
COLD = Cited(
    "A chilled pup is never fed: below 34.4 °C its gut stands still. 35.0 °C leaves a margin.",
    "X",
    "Small Animal Pediatrics, ch. 6",
)
SOURCES = (TABLE, NEED, MEAL, START, COLD)


class _Week(NamedTuple):
    """One row of the table."""

    millilitres: int
    """Per 100 g of pup and day."""
    feeds: int
    """A day."""


_WEEKS = (_Week(13, 6), _Week(17, 4), _Week(20, 4), _Week(22, 3))
_NEED = 25
_MEAL = 4
_HUNDRED = Decimal(100)
_DAYS_OF_A_WEEK = 7


class Milk(NamedTuple):
    """What the tables say of one pup of this age and weight."""

    week: int
    by_table: Decimal
    """mL a day by the weekly table."""
    by_need: Decimal
    """mL a day by the energy need, of milk with 1 kcal per mL."""
    meal: Decimal
    """The most for a single meal, in mL."""
    feeds: int
    """Feeds a day by the weekly table."""

    @property
    def range(self) -> tuple[Decimal, Decimal]:
        """The lesser and the greater amount of a day."""
        return min(self.by_table, self.by_need), max(self.by_table, self.by_need)

    @property
    def meals(self) -> tuple[int, int]:
        """Meals a day for the lesser and the greater amount: as printed, or more if they need."""
        least, most = (whole(amount / self.meal, up=True) for amount in self.range)
        return max(self.feeds, least), max(self.feeds, most)


def milk(age: timedelta, grams: Decimal) -> Milk | None:
    """What the tables say of a pup; None from four weeks on, where they end."""
    week = age.days // _DAYS_OF_A_WEEK
    if not 0 <= week < len(_WEEKS):
        return None
    row, hundreds = _WEEKS[week], grams / _HUNDRED
    return Milk(week + 1, row.millilitres * hundreds, _NEED * hundreds, _MEAL * hundreds, row.feeds)


def whole(amount: Decimal, *, up: bool) -> int:
    """An amount in whole mL or meals. What a pup may have at most is never rounded up."""
    return int(amount.to_integral_value(ROUND_CEILING if up else ROUND_FLOOR))
