"""One typed line, one entry, or one for each pup it speaks of: the language of the log.

:func:`read_line` reads a line, :func:`say` writes one, :data:`VOCABULARY` lists the words, and
:func:`read_night` and :func:`write_night` do the same for whole files.
"""

from importlib import import_module
from typing import TYPE_CHECKING

from boxlamp.language.context import Context, Doubt, Heard, NotUnderstood
from boxlamp.language.danger import if_meant
from boxlamp.language.line import kept_as_note, read_line
from boxlamp.language.pups import pup_named
from boxlamp.language.say import say
from boxlamp.language.vocabulary import VOCABULARY
from boxlamp.language.word import Word

if TYPE_CHECKING:
    from boxlamp.language.night import Expected, Night, NightError
    from boxlamp.language.night_read import read_night
    from boxlamp.language.night_write import write_night

__all__ = [
    "VOCABULARY", "Context", "Doubt", "Expected", "Heard", "Night", "NightError", "NotUnderstood",
    "Word", "if_meant", "kept_as_note", "pup_named", "read_line", "read_night", "say",
    "write_night",
]  # fmt: skip

# Whole files are rare and single lines are typed all night: the file readers wait until asked for.
_WAITING = {
    "Expected": "night", "Night": "night", "NightError": "night",
    "read_night": "night_read", "write_night": "night_write",
}  # fmt: skip


def __getattr__(name: str) -> object:
    if name not in _WAITING:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"boxlamp.language.{_WAITING[name]}"), name)
