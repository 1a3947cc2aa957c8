"""The assessment of a call: what was seen of her and of the pups, and how old each finding is."""

from collections.abc import Callable

from boxlamp.paper.call_sheet.dam import discharge, signs, temperature
from boxlamp.paper.call_sheet.done import given, vet
from boxlamp.paper.call_sheet.facts import Fact, Known
from boxlamp.paper.call_sheet.own_words import notes, unread
from boxlamp.paper.call_sheet.pup_lives import came_round
from boxlamp.paper.call_sheet.pups import (
    box,
    litter_age,
    litter_gain,
    pup_facts,
    pup_notes,
)
from boxlamp.paper.call_sheet.teller import Teller
from boxlamp.paper.call_sheet.whelping import afterbirths, expected, pushing, tally, vulva


def assessment(teller: Teller) -> Known:
    """Every answer of this stage, the first of them under the part's own name."""
    parts: tuple[Callable[[Teller], Known], ...]
    if teller.stage == "after":
        parts = (
            tally, litter_age, temperature, signs, pup_facts, came_round, litter_gain, box,
            discharge, afterbirths,
        )  # fmt: skip
    elif teller.stage == "labour":
        parts = (
            tally, pushing, vulva, discharge, afterbirths, temperature, signs, pup_facts,
            came_round, box,
        )  # fmt: skip
    else:
        parts = (temperature, discharge, signs, expected)
    known = [part(teller) for part in (*parts, unread, pup_notes, given, vet, notes)]
    facts = [fact for one in known for fact in one.facts]
    unknown = tuple(words for one in known for words in one.unknown)
    if not facts:
        facts = [Fact("assessment", "the dam", "Nothing is written down of how she is.")]
    return Known(tuple(facts), unknown)
