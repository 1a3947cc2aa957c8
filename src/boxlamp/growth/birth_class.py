"""The class of a birth weight: normal, low or very low, and by which reference.

The rule ``birth-weight`` decides both; here its finding is only put in words.
"""

from typing import NamedTuple

from boxlamp.engine import Verdict
from boxlamp.model.levels import Level
from boxlamp.rules.birth_weight import findings

_WORDS = {None: "normal", Level.WATCH: "low", Level.CALL: "very low"}


class BirthClass(NamedTuple):
    """Normal, low or very low, and what counts as low by the reference that was used."""

    word: str
    reference: str


def birth_classes(verdict: Verdict) -> dict[int, BirthClass]:
    """The class of every pup's birth weight, as far as a reference is known."""
    found = findings(verdict.story, verdict.book)
    return {pup: BirthClass(_WORDS[one.level], one.words) for pup, one in found.items()}
