"""How worried to be, in plain words, and whom an alert is about."""

from enum import IntEnum


class Level(IntEnum):
    """The levels, in order. ``prompt`` is a reminder and never an alert.

    The marks follow the low / medium / high priorities of IEC 60601-1-8, so that a level can be
    told from its mark and its word alone, without colour.
    """

    PROMPT = 0
    WATCH = 1
    CALL = 2
    GO = 3

    @property
    def word(self) -> str:
        """``watch``, ``call`` or ``go``."""
        return self.name.lower()

    @property
    def mark(self) -> str:
        """``!``, ``!!`` or ``!!!``."""
        return "!" * self if self else "-"

    @property
    def meaning(self) -> str:
        """What a person does at this level, in one sentence."""
        return _MEANING[self]


_MEANING = {
    Level.PROMPT: "A reminder.",
    Level.WATCH: "Look closely, check again by the time shown, get ready to travel.",
    Level.CALL: "Telephone the vet now, describe, do as told.",
    Level.GO: "Leave for the vet now and telephone on the way.",
}

ALERTS = (Level.WATCH, Level.CALL, Level.GO)

DAM = "dam"
LITTER = "litter"


def pup_subject(number: int) -> str:
    """The name of a pup as the subject of a clock: ``pup 3``."""
    return f"pup {number}"
