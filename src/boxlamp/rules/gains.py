"""How a pup's newest weight compares with earlier ones: the readings of the rules about growth."""

from datetime import timedelta
from decimal import Decimal
from typing import NamedTuple

from boxlamp.model.quantities import plain, rounded
from boxlamp.model.spans import in_words
from boxlamp.rules.ages import Ages
from boxlamp.rules.scale import Scale, Weighing, gain
from boxlamp.rules.spell import Yardstick, span

_DAY = timedelta(days=1)
_EXACT = "0.000001"
"""Roots are not exact: a gain that is a limit to the sixth place is the limit."""


class Gain(NamedTuple):
    """A gain in per cent, the bands to read it by, and the weighing it is counted from."""

    clock: str
    percent: Decimal
    start: Weighing
    end: Weighing

    def words(self) -> str:
        """``338 g, and 340 g 24 h 00 min before``."""
        apart = in_words(self.end.at - self.start.at)
        return f"{plain(self.end.grams)} g, and {plain(self.start.grams)} g {apart} before"


class Apart(NamedTuple):
    """How much older the earlier weight must be, and may be; without ``most`` any older one."""

    least: timedelta
    most: timedelta | None


def apart(yardstick: Yardstick, rule: str, clock: str) -> Apart:
    """What ``least CLOCK`` and ``most CLOCK`` say, where there is a most."""
    most = f"most {clock}"
    return Apart(
        span(yardstick, rule, f"least {clock}"),
        span(yardstick, rule, most) if yardstick.has(rule, most) else None,
    )


def gain_between(scale: Scale, clock: str, within: Apart) -> Gain | None:
    """The newest weight against the newest one that is as much older as is asked for."""
    last = scale.last
    if last is None:
        return None
    most = scale.age(last.at) if within.most is None else within.most
    start = scale.earlier(last.at, within.least, most)
    return None if start is None else Gain(clock, gain(start.grams, last.grams), start, last)


def pace(scale: Scale, yardstick: Yardstick, rule: str, clocks: Ages) -> Gain | None:
    """The steady gain in per cent a day over the last few days, for a pup of the right age.

    Compound: at 5 % a day a weight is doubled in 14.2 days. A pup that has doubled its first
    weight is read by the last of the clocks, whatever its age.
    """
    last = scale.last
    clock = "" if last is None else clocks.clock_at(scale.age(last.at))
    if not clock or last is None:
        return None
    least, most = (span(yardstick, rule, name) for name in ("least", "most"))
    start = scale.earlier(last.at, least, most)
    if start is None or scale.age(start.at) < span(yardstick, rule, "count-from"):
        return None
    if scale.times >= yardstick.number(rule, "doubled"):
        clock = clocks.oldest
    # As a float, which holds far more than six places: a decimal root costs as much as all else
    # that is made of a weight.
    steady = float(last.grams / start.grams) ** (_DAY / (last.at - start.at))
    return Gain(clock, rounded(Decimal(100 * (steady - 1)), _EXACT), start, last)
