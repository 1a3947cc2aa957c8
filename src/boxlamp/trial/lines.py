"""A trial as a person reads it, in eighty columns: what it costs, what it catches and misses."""

from collections.abc import Iterator
from datetime import timedelta

from boxlamp.model.happenings import Limit
from boxlamp.model.spans import in_words
from boxlamp.trial import words
from boxlamp.trial.alone_lines import alone_lines
from boxlamp.trial.apart_lines import apart_lines
from boxlamp.trial.one import Side
from boxlamp.trial.report import Report
from boxlamp.view.text import wrap
from boxlamp.view.words import CAUTION

_WHAT_IT_IS = (
    "Invented nights, drawn from published figures; how far apart pups come is our choice, made to "
    "fit published ranges. Each trouble has as many nights as the next, however rare it is. In "
    "brackets the 95 % interval. The figures compare limits; of real dogs they say no more."
)


def trial_lines(found: Report) -> Iterator[str]:
    """The whole report, of one protocol or of two side by side."""
    nights = f"{words.nights(found.nights)}, seed {found.seed}"
    yield f"What the limits cost and what they catch: {nights}"
    if found.partial:
        yield f"PARTIAL: stopped after {found.nights:,} of {found.planned:,} nights."
    yield f"default: limits {found.sides[0].protocol.version}"
    for side in found.sides[1:]:
        yield from words.folded(f"{side.name}: the same but {_changes(side)}")
    yield from alone_lines(found) if len(found.sides) == 1 else apart_lines(found)
    yield ""
    yield from wrap(f"{_WHAT_IT_IS} {CAUTION}", words.ACROSS)


def _changes(side: Side) -> str:
    return ", ".join(
        f"{_clock(limit)} {limit.level} at {in_words(timedelta(seconds=limit.seconds))}"
        if limit.seconds
        else f"{_clock(limit)} {limit.level} at once"
        for limit in side.limits
    )


def _clock(limit: Limit) -> str:
    return limit.rule if limit.clock == "main" else f"{limit.rule} {limit.clock}"
