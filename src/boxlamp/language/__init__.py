"""One typed line, one entry: the language of the log.

:func:`read_line` reads a line, :func:`say` writes one, :data:`VOCABULARY` lists the words, and
:func:`read_night` and :func:`write_night` do the same for whole files.
"""

from boxlamp.language.context import Context, Doubt, Heard, NotUnderstood
from boxlamp.language.line import kept_as_note, read_line
from boxlamp.language.night import Expected, Night, NightError
from boxlamp.language.night_read import read_night
from boxlamp.language.night_write import write_night
from boxlamp.language.say import say
from boxlamp.language.vocabulary import VOCABULARY
from boxlamp.language.word import Word

__all__ = [
    "VOCABULARY", "Context", "Doubt", "Expected", "Heard", "Night", "NightError", "NotUnderstood",
    "Word", "kept_as_note", "read_line", "read_night", "say", "write_night",
]  # fmt: skip
