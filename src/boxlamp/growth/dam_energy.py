"""The dam's energy while she nurses: three published ways to reckon it, for the vet to choose.

Only food is reckoned here. The three differ, and her own condition decides: they are shown side
by side as a range and never as one number.
"""

import math
from datetime import timedelta
from typing import NamedTuple

from boxlamp.growth.cited import Cited

FORMULA = Cited(
    "kcal a day = 145 x kg^0.75 + kg x (24 n + 12 m) x L, n the first four pups, m the next four, "
    "L 0.75, 0.95, 1.1, 1.2 in weeks 1 to 4.",
    "S",
    "National Research Council 2006, as reported by two nutrition texts",
)
MULTIPLES = Cited(
    "Her maintenance times 1.5 in week 1, 2 in week 2, 3 in weeks 3 to 5.",
    "X",
    "A text on home-prepared diets (Strombeck; the name from memory)",
)
PEAK = Cited(
    "At the peak of milk, taken here as weeks 3 and 4: her maintenance, and a quarter of it more "
    "for each pup.",
    "X",
    "Small Animal Clinical Nutrition, 5th ed.",
    "p. 294",
)
MAINTENANCE = Cited(
    "Maintenance is 1.9 times the resting need, which is 70 x kg^0.75 kcal a day: 3044 for the "
    "65 kg dam for whom the source prints 3000. The resting need is from memory.",
    "M",
)
MEALS = Cited(
    "Three or four meals a day or food always there; fresh water always, about 1 mL for each kcal "
    "she eats (the last from memory).",
    "X",
    "A text on home-prepared diets (Strombeck; the name from memory)",
)
SOURCES = (FORMULA, MULTIPLES, PEAK, MAINTENANCE, MEALS)

_NURSING = 145
_FIRST, _NEXT, _GROUP = 24, 12, 4
_MILK = (0.75, 0.95, 1.1, 1.2)
_TIMES = (1.5, 2.0, 3.0, 3.0, 3.0)
_RESTING, _KEPT = 70, 1.9
_PER_PUP = 0.25
_PEAK = (3, 4)
_POWER = 0.75
_DAYS_OF_A_WEEK = 7


class Energy(NamedTuple):
    """What three sources say of a dam in one week of nursing, in kcal a day; None where silent."""

    week: int
    by_formula: float | None
    by_multiple: float
    at_peak: float | None

    @property
    def range(self) -> tuple[float, float]:
        """The lowest and the highest of them."""
        told = [amount for amount in self[1:] if amount is not None]
        return min(told), max(told)


def week_of(age: timedelta) -> int:
    """The week of life a moment lies in, counted from 1."""
    return age.days // _DAYS_OF_A_WEEK + 1


def energy(kilos: float, pups: int, week: int) -> Energy | None:
    """What a nursing dam needs; None outside the five weeks the sources speak of."""
    if not 1 <= week <= len(_TIMES):
        return None
    return Energy(
        week,
        by_formula(kilos, pups, week) if week <= len(_MILK) else None,
        maintenance(kilos) * _TIMES[week - 1],
        maintenance(kilos) * (1 + _PER_PUP * pups) if week in _PEAK else None,
    )


def by_formula(kilos: float, pups: int, week: int) -> float:
    """The formula for weeks 1 to 4; more than eight pups count as eight."""
    first = min(pups, _GROUP)
    more = min(max(pups - _GROUP, 0), _GROUP)
    milk = kilos * (_FIRST * first + _NEXT * more) * _MILK[week - 1]
    return _NURSING * math.pow(kilos, _POWER) + milk


def maintenance(kilos: float) -> float:
    """What she needs without pups, by the second and third way of reckoning."""
    return _KEPT * _RESTING * math.pow(kilos, _POWER)
