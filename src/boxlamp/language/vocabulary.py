"""All words of the language, in one tuple: for reading, completion, help and the docs.

To add a word, write its reader and its :class:`Word` in the ``hear_...`` module where it belongs.
"""

from boxlamp.language import (
    corrections,
    hear_birth,
    hear_dam,
    hear_facts,
    hear_growing,
    hear_labour,
    hear_pups,
)
from boxlamp.language.word import Word

VOCABULARY: tuple[Word, ...] = (
    *hear_labour.WORDS,
    *hear_birth.WORDS,
    *hear_pups.WORDS,
    *hear_growing.WORDS,
    *hear_dam.WORDS,
    *hear_facts.WORDS,
    *corrections.WORDS,
)


def _spelling(phrase: str) -> str:
    return phrase.replace("-", " ")


COMMANDS: dict[str, tuple[Word, bool]] = {
    _spelling(phrase): (word, telling)
    for word in VOCABULARY
    for phrases, telling in (((word.word, *word.synonyms), False), (word.telling, True))
    for phrase in phrases
}
"""Every phrase that may begin a line: its word, and whether the phrase itself tells something."""
