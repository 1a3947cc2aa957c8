"""A whole night in one text file: what reading it gives, and how it can fail."""

from collections.abc import Mapping
from datetime import datetime
from types import MappingProxyType
from typing import Literal, NamedTuple

from boxlamp.language import sentences
from boxlamp.model.entry import Entry

MAX_BYTES = 5_000_000
MAX_LINES = 50_000
_SHOWN_PROBLEMS = 100


class Expected(NamedTuple):
    """An alert that a night file says must be raised, or cleared, at a moment.

    ``change`` is ``none`` for ``#= none go [RULE]``: no alert of this level or above (of this
    rule) at any time; then there is no moment. ``level`` is a level's word, or ``prompt`` for a
    reminder; it is missing when an alert is to be cleared. ``line`` is where the file says so.
    """

    at: datetime | None
    level: str | None
    rule: str | None
    subject: str | None = None
    change: Literal["raised", "cleared", "none"] = "raised"
    line: int = 0


class Night(NamedTuple):
    """What a night file holds: entries in file order, expected alerts, the header as written."""

    entries: tuple[Entry, ...] = ()
    expected: tuple[Expected, ...] = ()
    header: Mapping[str, str] = MappingProxyType({})

    @property
    def lesson(self) -> str:
        """What there is to learn from this night, in the words of whoever wrote it down."""
        return self.header.get("lesson", "")


class NightError(Exception):
    """A night file that cannot be read. ``problems`` holds ``file:line: message`` for each."""

    exit_code = 2

    def __init__(self, problems: tuple[str, ...]) -> None:
        self.problems = problems
        shown = list(problems[:_SHOWN_PROBLEMS])
        if len(problems) > len(shown):
            shown.append(sentences.MORE_PROBLEMS.format(len(problems) - len(shown)))
        super().__init__("\n".join(shown))
