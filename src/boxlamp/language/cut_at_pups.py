"""Cutting a line where it names the next pup: ``red fine blue limp``, ``limp red, cold blue``."""

from collections.abc import Iterator
from itertools import pairwise

from boxlamp.language.pups import UNITS, pup_here
from boxlamp.language.terms import PUP_SIGNS
from boxlamp.language.tokens import NOISE, Token, Words, words_of
from boxlamp.model.litter import Litter

_LEADS = words_of("died dead lost state pup puppy")
"""Words of a part that may stand before the pup it names."""
SPANS = UNITS | words_of("h m d s week am pm")
"""Behind a number: it counts something, and names no pup."""


def cut_at_pups(body: str, litter: Litter) -> Iterator[tuple[str, ...]]:
    """Each way to cut the words of a line so that every part names a pup; they may mean nothing."""
    words = Words(body)
    names = _names(words, litter)
    if len(names) > 1:
        yield _cut(body, words.tokens, names[1:])
        yield _cut(body, words.tokens, [_with_its_word(words.tokens, name) for name in names[1:]])
    signs = _signs_first(Words(body), litter)
    if len(signs) > 1:
        yield signs


def _names(words: Words, litter: Litter) -> list[int]:
    """The places of the words that name a pup, each with something between it and the last."""
    found: list[int] = []
    said = True
    while words.place < len(words.tokens):
        start = words.place
        token = words.tokens[start]
        pup = None if token.quoted else pup_here(words, litter, whole=True)
        if pup is None or words.key() in SPANS:
            words.place = start + 1
            said = said or token.key not in NOISE
            continue
        if said:
            found.append(start)
        said = False
    return found


def _with_its_word(tokens: list[Token], place: int) -> int:
    """Where the part begins that names a pup here: ``died 2``, ``state blue``, ``pup 2``."""
    while place and tokens[place - 1].key in _LEADS:
        place -= 1
    return place


def _cut(body: str, tokens: list[Token], places: list[int]) -> tuple[str, ...]:
    bounds = [0, *places, len(tokens)]
    parts = []
    for first, end in pairwise(bounds):
        while end > first and tokens[end - 1].key in NOISE:
            end -= 1  # noqa: PLW2901 - what joins two parts is of neither
        parts.append(body[tokens[first].start : tokens[end - 1].end] if end > first else "")
    return tuple(parts)


def _signs_first(words: Words, litter: Litter) -> tuple[str, ...]:
    """``limp red, cold blue``: signs before each pup, put as ``state 1 limp``."""
    parts: list[str] = []
    signs: list[str] = []
    while words.peek() is not None:
        pup = pup_here(words, litter, whole=True) if signs else None
        sign = words.phrase(PUP_SIGNS) if pup is None else None
        if pup is not None:
            parts.append(f"state {pup} {' '.join(signs)}")
            signs = []
        elif sign is not None:
            signs.append(sign)
        else:
            return ()
    return () if signs else tuple(parts)
