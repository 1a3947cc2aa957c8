"""The vet who is coming to her: what a line about the vet says of it."""

import re
from datetime import timedelta

from boxlamp.model.happenings import VetContact

LAPSES = timedelta(hours=2)
"""A vet of whom no more is written by then may not be coming. Our choice."""

# `vet coming` is kept as a call with these words. "Coming in now" is said by whoever drives to
# the vet, "coming in 20 min" by the vet, and "on my way" never by the vet.
# Compiled when it is first asked for: few records need it, and every start would pay.
_COMING = r"\s*(?:coming\b(?!\s+in\b(?!\s+\d))|on (?:(?:the|her|his|their) )?way\b)"

_NOT_SOON = (
    r"\b(?:no|not|never|can'?t|cannot|won'?t|isn'?t|tomorrow|later|morning|home|unless|if)\b"
)


def says_coming(what: VetContact) -> bool:
    """Whether a line about the vet says, as far as can be told, that the vet is coming."""
    said = what.said if what.contact == "called" else ""
    return bool(
        re.match(_COMING, said, re.IGNORECASE) and not re.search(_NOT_SOON, said, re.IGNORECASE)
    )
