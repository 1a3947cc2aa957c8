"""Spells and limits in, alerts out. The one place where a clock is compared with a limit.

:func:`assess` runs the rules over a story once; the :class:`Assessment` it returns answers what
is wrong at any moment, what comes next, and what was raised and cleared when. Nothing here
reads a clock: the moment is always handed in.
"""

from boxlamp.engine.alert import (
    FAILED,
    Alert,
    Clock,
    Deadline,
    Prompt,
    Transition,
    Verdict,
    also_words,
    explain,
)
from boxlamp.engine.assess import Assessment, assess
from boxlamp.engine.known import history_as_known

__all__ = [
    "FAILED",
    "Alert",
    "Assessment",
    "Clock",
    "Deadline",
    "Prompt",
    "Transition",
    "Verdict",
    "also_words",
    "assess",
    "explain",
    "history_as_known",
]
