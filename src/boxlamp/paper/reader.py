"""In whose units a paper is written. What is stored is never changed; only how it is told."""

import re
from datetime import datetime, tzinfo
from decimal import Decimal
from typing import Literal, NamedTuple

from boxlamp.model.quantities import (
    GRAMS_PER_OUNCE,
    GRAMS_PER_POUND,
    fahrenheit_from_celsius,
    plain,
    rounded,
)
from boxlamp.view.text import date_text, day_text

Clock = Literal["24h", "12h"]
WeightUnit = Literal["g", "oz"]
TemperatureUnit = Literal["C", "F"]

_KILO = 1000
_HALF_DAY = 12


class Reader(NamedTuple):
    """Who reads it: the zone of the wall clock, and the units a person is used to."""

    zone: tzinfo
    clock: Clock = "24h"
    weights: WeightUnit = "g"
    temperatures: TemperatureUnit = "C"

    def time(self, at: datetime) -> str:
        """A time of day: ``02:14`` or ``2:14 am``; in an hour that comes twice also which one."""
        local = at.astimezone(self.zone)
        if self.clock == "24h":
            text = local.strftime("%H:%M")
        else:
            hour = local.hour % _HALF_DAY or _HALF_DAY
            text = f"{hour}:{local:%M} {'am' if local.hour < _HALF_DAY else 'pm'}"
        return f"{text} {local.tzname()}" if self._comes_twice(at) else text

    def _comes_twice(self, at: datetime) -> bool:
        """Whether the wall clock shows this time twice, as when it is put back."""
        local = at.astimezone(self.zone)
        return local.replace(fold=0).utcoffset() != local.replace(fold=1).utcoffset()

    def day(self, at: datetime) -> str:
        """A calendar day with its year: ``Mon 2 Mar 2026``."""
        return date_text(at.astimezone(self.zone).date(), year=True)

    def moment(self, at: datetime) -> str:
        """A day and a time: ``2 Mar 02:14``."""
        return f"{day_text(at, self.zone)} {self.time(at)}"

    def beside(self, at: datetime, other: datetime) -> str:
        """A time told beside another one: with its day only where that is a different day."""
        days = {one.astimezone(self.zone).date() for one in (at, other)}
        return self.time(at) if len(days) == 1 else self.moment(at)

    def weight(self, grams: Decimal) -> str:
        """A pup's weight: ``312 g`` or ``11.0 oz``."""
        if self.weights == "g":
            return f"{plain(rounded(grams))} g"
        return f"{rounded(self.scale(grams))} oz"

    def scale(self, grams: Decimal) -> Decimal:
        """A pup's weight as a number in the reader's unit, not rounded."""
        return grams if self.weights == "g" else grams / GRAMS_PER_OUNCE

    def heavy(self, grams: Decimal) -> str:
        """A dam's weight: ``12.4 kg`` or ``27.3 lb``."""
        if self.weights == "g":
            return f"{plain(rounded(grams / _KILO))} kg"
        return f"{rounded(grams / GRAMS_PER_POUND)} lb"

    def temperature(self, celsius: Decimal) -> str:
        """A temperature: ``37.1 °C`` or ``98.8 °F``."""
        return f"{self.degrees(celsius)} °{self.temperatures}"

    def degrees(self, celsius: Decimal) -> Decimal:
        """The number alone, to the tenth."""
        value = celsius if self.temperatures == "C" else fahrenheit_from_celsius(celsius)
        return rounded(value)

    def sentence(self, said: str) -> str:
        """A sentence of a rule, which speaks in stored units, with its numbers in the reader's."""
        if self.temperatures == "F":
            said = re.sub(
                r"(\d+(?:\.\d+)?) °C", lambda found: self.temperature(Decimal(found[1])), said
            )
        if self.weights == "oz":
            said = re.sub(
                r"(\d+(?:\.\d+)?) g\b", lambda found: self.weight(Decimal(found[1])), said
            )
            said = re.sub(
                r"(\d+(?:\.\d+)?) kg\b",
                lambda found: self.heavy(_KILO * Decimal(found[1])),
                said,
            )
        return said
