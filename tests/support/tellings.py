"""A plain model of a journal: for each litter what was acknowledged, in order."""

from collections.abc import Iterator
from itertools import chain, count
from typing import NamedTuple

from boxlamp.model.happenings import What

Line = tuple[str, What]
"""A typed line: its text and what it says."""


class Told(NamedTuple):
    """One litter: the name it was opened with, and its lines."""

    name: str
    lines: list[Line]


Place = dict[str, Told]
"""All litters of one journal by their ids."""


def ids_of(litter: str) -> Iterator[str]:
    """The ids under which a litter may be kept: its own, then numbered ones."""
    return chain((litter,), (f"{litter[:90]}-{number}" for number in count(2)))


def taken_in(place: Place, litter: str, told: Told, *, as_new: bool) -> tuple[str, int] | None:
    """Where a journal should keep a litter from elsewhere, and how many lines it adds.

    None when the journal should refuse it.
    """
    for name in ids_of(litter):
        here = place.get(name)
        if here is None:
            return name, len(told.lines)
        both = zip(here.lines, told.lines, strict=False)
        if here.name == told.name and all(ours == theirs for ours, theirs in both):
            return name, max(0, len(told.lines) - len(here.lines))
        if not as_new:
            return None
    raise AssertionError
