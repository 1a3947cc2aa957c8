"""The order of work with a newborn pup, and which of it has not been written down yet."""

from datetime import datetime

from boxlamp.model.litter import Pup
from boxlamp.model.seen import StepName
from boxlamp.rules.feeding import WARM_FIRST, felt_too_cold, too_cold_to_feed

NEWBORN_STEPS: tuple[tuple[StepName, str], ...] = (
    ("sac-open", "sac open"),
    ("airway", "mouth and nose"),
    ("breathing", "breathing"),
    ("dried", "dried"),
    ("cord", "cord"),
    ("marked", "mark"),
    ("palate", "palate"),
    ("milk", "first milk"),
)
"""Each step with the plain word for it, in the order in which it is done."""

# The surgeon's table does these for a pup delivered by caesarean.
_AT_BIRTH = {"sac-open", "airway", "dried", "cord"}


def missing_steps(pup: Pup, now: datetime) -> tuple[str, ...]:
    """The steps not written down yet for this pup, in plain words and in order.

    What its birth line said already counts, and a dead pup needs none. A cord that was last
    seen bleeding is still to do. While a pup is too cold to be fed it is to be warmed first,
    and nothing sends it to the teat.
    """
    if not pup.alive:
        return ()
    done = {step for step, (_, finding) in pup.steps.items() if finding != "bleeding"}
    done |= _known(pup)
    if too_cold_to_feed(pup, now) or felt_too_cold(pup, now):
        done.add("milk")
        return (WARM_FIRST, *(words for step, words in NEWBORN_STEPS if step not in done))
    return tuple(words for step, words in NEWBORN_STEPS if step not in done)


def _known(pup: Pup) -> set[str]:
    """Steps that need no line of their own, because something else says as much."""
    lively = bool({"well", "crying"} & set(pup.signs))
    breathes = pup.state == "alive" or lively or "milk" in pup.steps
    opened = not getattr(pup.birth.what, "in_sac", False) or bool(
        {"airway", "breathing"} & set(pup.steps)
    )
    said = {"sac-open": opened, "breathing": breathes, "marked": pup.mark is not None}
    return {step for step, known in said.items() if known} | (
        _AT_BIRTH if pup.by_caesarean else set()
    )
