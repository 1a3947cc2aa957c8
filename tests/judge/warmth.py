"""Signals made of her temperatures: which reading is low, which is normal again, which is fever.

Catalogue: low is a fixed value or less, or so much and more under her own mean of three days and
more; what a second reading confirms is a matter of time, and told in ``before.py``.
"""

from collections.abc import Iterable
from datetime import datetime, timedelta
from decimal import Decimal

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Temperature
from boxlamp.model.quantities import rounded
from boxlamp.protocol.records import Protocol
from judge.signals import FALSE, TRUE, Signal, held, pulses

DROP = "temperature-drop-no-labour"


def warmth(lines: Iterable[tuple[float, Entry]], protocol: Protocol) -> dict[str, Signal]:
    """Pulses at low, very low and normal readings; and whether the last one was a fever."""
    seen: dict[str, list[float]] = {"low": [], "surely_low": [], "back": []}
    fever: list[tuple[float, float]] = []
    readings: list[tuple[datetime, Decimal]] = []
    for place, entry in lines:
        if isinstance(entry.what, Temperature) and entry.what.where == "dam":
            celsius = rounded(entry.what.celsius)  # 99.0 °F is 37.2 °C
            sure = _in_band(protocol, DROP, "sure", celsius)
            under = _under_her_mean(readings, celsius, protocol)
            low = sure or under or _in_band(protocol, DROP, "low", celsius)
            for name, holds in (
                ("low", low),
                ("surely_low", sure),
                ("back", _in_band(protocol, "temperature-back-no-labour", "back", celsius)),
            ):
                seen[name] += [place] if holds else []
            hot = _in_band(protocol, "afterbirth-missing-at-end", "fever", celsius)
            fever.append((place, TRUE if hot else FALSE))
            readings += [] if low else [(entry.at, celsius)]
    return {name: pulses(found) for name, found in seen.items()} | {"feverish": held(fever)}


def _in_band(protocol: Protocol, rule: str, clock: str, celsius: Decimal) -> bool:
    return any(band.holds(celsius) for band in protocol.bands[rule, clock])


def _under_her_mean(
    before: list[tuple[datetime, Decimal]], celsius: Decimal, protocol: Protocol
) -> bool:
    """Whether this reading is well under the mean of the ones before it, if they span days."""
    days = timedelta(seconds=float(protocol.numbers[DROP, "mean-days"]))
    if not before or before[-1][0] - before[0][0] < days:
        return False
    mean = sum((value for _, value in before), Decimal(0)) / len(before)
    return mean - celsius >= protocol.numbers[DROP, "drop"]
