"""The shape of one word of the language."""

from collections.abc import Callable
from typing import NamedTuple

from boxlamp.language.ear import Ear
from boxlamp.language.tokens import Words
from boxlamp.model.happenings import What


class Word(NamedTuple):
    """One word that may begin a line, its synonyms, and the function that reads the rest.

    ``telling`` synonyms carry meaning of their own (``boy``): the reader sees them too.
    ``dated`` words take a date anywhere in the line. ``by_day`` words may be given a day without
    a clock time, and so may ``dated`` ones. ``any_age`` words, and dated ones, are never
    questioned for being old. ``of_pup`` words name a pup; ``whole`` words read a ``;``
    themselves.
    """

    word: str
    pattern: str
    meaning: str
    examples: tuple[str, ...]
    read: Callable[[Words, Ear], What]
    synonyms: tuple[str, ...] = ()
    telling: tuple[str, ...] = ()
    dated: bool = False
    by_day: bool = False
    any_age: bool = False
    of_pup: bool = False
    whole: bool = False
