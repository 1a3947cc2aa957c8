"""Whether a pup is too cold to be fed: warm first.

The gut of a pup stops at a body temperature under 34.4 °C, and milk that is given then comes up
and may be breathed in (Small Animal Pediatrics, chapter 6, excerpt read). 35.0 °C leaves a
margin. It holds at every age, in the first hour too: a newborn pup dips below it by nature, and
is put to the teat once it is warm; half an hour costs it little of the first milk. The protocol
says the same numbers for the rules (`pup-cold`), and a test compares them.
"""

from datetime import datetime, timedelta
from decimal import Decimal

from boxlamp.model.litter import Pup

FEED_FROM = Decimal("35.0")
"""From here on a pup may be fed."""

SPEAKS_FOR = timedelta(minutes=60)
"""An older reading says nothing of now (our choice)."""

WARM_FIRST = "warm first, do not feed"


def too_cold_to_feed(pup: Pup, at: datetime) -> bool:
    """Whether the pup's last temperature, if it still speaks of this moment, forbids feeding."""
    if pup.celsius is None or pup.measured is None:
        return False
    return pup.celsius < FEED_FROM and timedelta(0) <= at - pup.measured <= SPEAKS_FOR


def felt_too_cold(pup: Pup, at: datetime) -> bool:
    """Whether a hand found it cold, as lately, and no thermometer has answered since."""
    if "cold" not in pup.signs or pup.looked is None:
        return False
    answered = pup.measured is not None and pup.measured >= pup.looked
    return not answered and timedelta(0) <= at - pup.looked <= SPEAKS_FOR
