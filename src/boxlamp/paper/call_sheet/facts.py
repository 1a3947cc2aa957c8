"""What a call sheet is made of: facts, what nobody has written down, and what gives way first."""

from datetime import datetime
from typing import Literal, NamedTuple

from boxlamp.model.levels import Level

Part = Literal["dial", "situation", "background", "assessment", "request", "end"]
"""Whom to dial, the four parts of SBAR, and what always stands at the end."""

ROLES = {Level.WATCH: "watch", Level.CALL: "call", Level.GO: "go"}
"""How what stands at a level is set."""

Topic = Literal[
    "date", "said below", "watches", "past", "clock", "limits", "so far", "not noted",
    "her history", "term", "notes", "hard start", "gains", "box", "other pups", "third pup",
    "second pup", "pup notes", "other alerts", "afterbirths", "given", "vet", "sickest pup",
    "discharge", "own words", "signs", "temperature", "pushing", "stays",
]  # fmt: skip

GIVES_WAY: dict[Topic, str] = {
    "date": "the weekday and the date beside the time",
    "said below": "what the vet said, where the request begins with it",
    "watches": "alerts that only ask to watch, by their names",
    "past": "what is over: the birth of days ago, afterbirths that have all come",
    "clock": "when the worst alert reached its limit",
    "limits": "which limits a vet has changed, and who",
    "so far": "when the labour began: first signs, waters, first push",
    "not noted": "what nobody has written down of her earlier life",
    "her history": "her age, weight and earlier litters",
    "term": "the day she is on, and by which count",
    "notes": "notes that belong to no other line",
    "hard start": "pups that were limp and came round",
    "gains": "the newest weighing of the whole litter",
    "box": "how warm it is where the pups lie",
    "other pups": "poorly pups beyond the third",
    "third pup": "what was found in it",
    "second pup": "what was found in it",
    "pup notes": "what was written behind lines about a pup that shows no sign",
    "other alerts": "alerts beside the worst that ask to ring or to go",
    "afterbirths": "how many came, and whose are missing",
    "given": "what was given, by whom and when",
    "vet": "what the vet has said before",
    "sickest pup": "what was found in it",
    "discharge": "its colour, amount and smell",
    "own words": "lines that were not understood, as they were typed",
    "signs": "how she is in herself",
    "temperature": "her temperature and the readings before it",
    "pushing": "the last push, and since when she pushes or rests",
    "stays": "whom to ring, what is wrong now, what is asked",
}
"""What gives way when there is more to say than room, the first row first.

What is seen now stands longer than what was known before tonight. Our choice throughout.
"""

TO_SEE = frozenset({
    "what shows at the vulva now", "discharge", "her temperature", "contractions",
    "how she is in herself", "how the pups gain weight",
})  # fmt: skip
"""What a vet asks and whoever sits beside her can go and look at."""

_TURN = {topic: turn for turn, topic in enumerate(GIVES_WAY)}


class Fact(NamedTuple):
    """One answer on the sheet.

    ``shorter`` are shorter tellings of it, each used only when the sheet would not fit
    otherwise; an empty one means that the fact may be left out before others of its kind are.
    A fact without any is never shortened. Its ``topic`` says in ``GIVES_WAY`` when its turn
    is. A line break in a telling stands on the sheet as well.
    """

    part: Part
    label: str
    words: str
    shorter: tuple[str, ...] = ()
    topic: Topic = "stays"
    role: str = "text"
    least: str = ""
    """What still stands of it where it would have to be left out; nothing for most."""

    @property
    def turn(self) -> int:
        """When it gives way: those of the lowest turn first."""
        return _TURN[self.topic]


class CallSheet(NamedTuple):
    """Everything to say on the telephone, in the order in which it is asked for."""

    at: datetime
    level: Level | None
    facts: tuple[Fact, ...]
    unknown: tuple[str, ...]
    """What a vet asks and nobody has written down."""
    caution: str
    hands_full: bool = False
    """Whether a pup does not breathe as it should: nobody goes to look at anything else."""


class Known(NamedTuple):
    """What one part of the sheet tells, and what it finds nobody has written down."""

    facts: tuple[Fact, ...]
    unknown: tuple[str, ...] = ()
