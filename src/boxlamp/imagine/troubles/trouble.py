"""What a trouble is: a change to a course, how often it comes, and what the night teaches."""

from collections.abc import Callable
from typing import Literal, NamedTuple

from boxlamp.imagine.course import Course
from boxlamp.imagine.dice import Dice

Kind = Literal["labour", "passage", "newborn", "dam"]
"""The pushing fails, or a pup does not pass; a newborn pup, or the dam herself, is ill."""


class Trouble(NamedTuple):
    """One thing that can go wrong.

    ``befall`` gives the course as this trouble makes it, with ``troubled`` and ``ended`` set.
    """

    name: str
    kind: Kind
    share: float
    """How often it is drawn, beside the other troubles of its kind: our choice."""
    says: str
    """What it is, in a line."""
    lesson: str
    """What the night teaches, in a sentence or two."""
    befall: Callable[[Course, Dice], Course]
    hard: bool = False
    """The whelping was a hard one anyway: longer gaps, more stillborn."""
    least: int = 1
    """The fewest pups it can befall."""
