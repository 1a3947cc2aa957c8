"""Breeds by one plain name each, from the many ways in which people write them.

Only a whole name is known. A cross, a colour or a smaller variety of a breed is another dog, and
nothing is guessed about it.
"""

import re
import unicodedata
from functools import lru_cache

_EVERYDAY = {
    "australian shepherd": ("aussie", "australian shepherd dog"),
    "bichon frise": ("bichon",),
    "cocker spaniel": ("cocker", "english cocker", "english cocker spaniel"),
    "dobermann": ("doberman", "doberman pinscher", "dobermann pinscher", "dobe"),
    "german shepherd": ("german shepherd dog", "gsd", "alsatian", "deutscher schaferhund"),
    "golden retriever": ("golden",),
    "labrador retriever": ("labrador", "lab"),
    "lhasa apso": ("lhasa",),
    "pomeranian": ("pom",),
    "rottweiler": ("rottie", "rottweiller"),
    "shih tzu": ("shihtzu", "shitzu", "shi tzu"),
    "st bernard": ("saint bernard", "st bernard dog", "saint bernard dog"),
    "toy poodle": ("poodle toy",),
    "west highland white terrier": ("westie", "west highland terrier", "west highland", "whwt"),
}
_PLAIN = {other: name for name, others in _EVERYDAY.items() for other in others}


@lru_cache
def breed_named(text: str | None) -> str:
    """The plain lower-case name of a breed; what is not known by another name stays as it is."""
    letters = unicodedata.normalize("NFKD", (text or "").casefold())
    bare = "".join(letter for letter in letters if not unicodedata.combining(letter))
    name = " ".join(re.sub(r"[\s\-_.()]+", " ", bare).split())
    return _PLAIN.get(name, name)
