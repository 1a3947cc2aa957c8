"""A line as the keeper means it, before it has a clock time and a number."""

from typing import NamedTuple

from boxlamp.model.happenings import What


class Line(NamedTuple):
    """One line: minutes from the first strain, and what is said."""

    at: float
    what: What
    note: str = ""
    estimated: bool = False
    exact: bool = False
    """Written to the second."""
