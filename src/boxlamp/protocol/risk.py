"""Risk factors: what is known of a litter that tightens its labour limits."""

from datetime import timedelta
from decimal import Decimal

from boxlamp.model.levels import Level
from boxlamp.model.litter import Litter
from boxlamp.protocol.records import Risk


def risk_factors(litter: Litter, risk: Risk) -> tuple[str, ...]:
    """The risk factors that hold for this litter, each in plain words."""
    details, expected = litter.details, litter.expected
    breed = (details.breed or "").strip().lower()
    age, weight = details.age_years, details.weight
    found = {
        "flat-faced breed": details.flat_faced is True
        or (details.flat_faced is None and breed in risk.flat_faced_breeds),
        "toy breed": details.toy is True or (details.toy is None and breed in risk.toy_breeds),
        f"{risk.few_pups} or fewer pups expected": expected is not None
        and 0 < expected <= risk.few_pups,
        f"more than {risk.many_pups} pups expected": expected is not None
        and expected > risk.many_pups,
        f"first litter over {risk.old_first_litter_years} years": details.first_litter is True
        and age is not None
        and age > risk.old_first_litter_years,
        "earlier difficult whelping": details.earlier_dystocia is True,
        "earlier caesarean": details.earlier_caesarean is True,
        f"dam under {risk.light_grams / 1000:g} kg": weight is not None
        and weight < risk.light_grams,
        f"dam over {risk.heavy_grams / 1000:g} kg": weight is not None
        and weight > risk.heavy_grams,
    }
    return tuple(words for words, holds in found.items() if holds)


def tightened(span: timedelta, level: Level, risk: Risk) -> timedelta:
    """A labour limit for a litter with a risk factor: shorter, never longer.

    Rounded down to the protocol's step and never below one step, unless it was shorter to
    begin with: a limit of zero stays at once.
    """
    step = timedelta(seconds=risk.round_down_to)
    factor = risk.watch_factor if level <= Level.WATCH else risk.call_factor
    shorter = timedelta(seconds=float(Decimal(span.total_seconds()) * factor))
    return min(span, max(step, shorter // step * step))
