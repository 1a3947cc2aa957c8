"""A typed line as words: cut it once, then take from the front what fits a table."""

import re
from collections.abc import Mapping
from typing import NamedTuple, TypeVar

from boxlamp.language.text import cleaned, same

T = TypeVar("T")
V = TypeVar("V", bound=str)

# A comma parts words, except inside a number such as 37,1 or before one such as ,5.
_PIECE = re.compile(r"(?:[^\s,]|(?<=\d),(?=\d)|(?<!\S),(?=\d))+")
_GAP = re.compile(r"(?:\s|(?<=\S),|,(?!\d))*")
_EDGES = ".,!:;-\u2013\u2014"
_LONGEST_PHRASE = 5

NOISE = frozenset(
    ("", "a", "an", "and", "the", "is", "was", "has", "had", "with", "just", "now", "her", "she",
     "again", "&", "+", "it", "its")
)  # fmt: skip
"""Words that may stand anywhere and mean nothing. A word that denies (no, not) is never here."""


def words_of(text: str) -> frozenset[str]:
    """A set of words, from one string."""
    return frozenset(text.split())


def table(rows: Mapping[V, str]) -> dict[str, V]:
    """Turn ``{value: "synonym|synonym"}`` into a lookup; the value is its own first synonym."""
    lookup: dict[str, V] = {}
    for value, synonyms in rows.items():
        spellings: tuple[str, ...] = (value, *filter(None, synonyms.split("|")))
        for spelling in spellings:
            plain = spelling.replace("-", " ")
            lookup[plain] = value
            # Who types with one hand leaves the apostrophe out.
            lookup.setdefault(re.sub(r"n't\b", "nt", plain), value)
    return lookup


class Token(NamedTuple):
    """One word of a line: as typed, as compared, and where it stood."""

    raw: str
    key: str
    start: int
    end: int
    quoted: bool = False


def _quoted_at(text: str, start: int) -> tuple[str, int] | None:
    """A complete ``"quoted string"`` that begins here, and where it ends."""
    from json import JSONDecoder

    try:
        value, end = JSONDecoder().raw_decode(text, start)
    except (ValueError, RecursionError):
        return None
    if end < len(text) and not (text[end].isspace() or text[end] in ",;"):
        return None
    return cleaned(str(value)), end


def tokens_of(text: str) -> list[Token]:
    """Cut a line into words."""
    found: list[Token] = []
    start = _GAP.match(text).end()  # type: ignore[union-attr]  # it matches nothing, too
    while start < len(text):
        if text[start] == '"' and (string := _quoted_at(text, start)):
            found.append(Token(string[0], same(string[0]), start, string[1], quoted=True))
        else:
            piece = _PIECE.match(text, start)
            end = piece.end() if piece else start + 1
            raw = text[start:end]
            found.append(Token(raw, _key(raw), start, end))
        start = _GAP.match(text, found[-1].end).end()  # type: ignore[union-attr]  # as above
    return found


def _key(raw: str) -> str:
    """A word without stops around it. A sign or point before a number is part of the number."""
    key = same(raw).rstrip(_EDGES)
    bare = key.lstrip(_EDGES)
    return key if bare[:1].isdigit() else bare


def cut_note(text: str) -> tuple[str, str]:
    """The words and the free note after the first ``;`` that is not inside a quoted string."""
    place = 0
    while place < len(text):
        if text[place] == ";":
            return text[:place].strip(), unquoted(text[place + 1 :].strip())
        opens = text[place] == '"' and (place == 0 or text[place - 1].isspace())
        string = _quoted_at(text, place) if opens else None
        place = string[1] if string else place + 1
    return text.strip(), ""


def unquoted(text: str) -> str:
    """Free text; when the whole of it is one quoted string, what the string says."""
    string = _quoted_at(text, 0) if text.startswith('"') else None
    return string[0] if string and string[1] == len(text) else text


class Words:
    """The words of a line and how far they have been read."""

    def __init__(self, text: str, tokens: list[Token] | None = None) -> None:
        self.text = text
        self.tokens = tokens_of(text) if tokens is None else tokens
        self.place = 0

    def skip_noise(self) -> None:
        """Step over words that mean nothing."""
        while self.place < len(self.tokens):
            token = self.tokens[self.place]
            if token.quoted or token.key not in NOISE:
                return
            self.place += 1

    def peek(self) -> Token | None:
        """The next word that means something."""
        self.skip_noise()
        return self.tokens[self.place] if self.place < len(self.tokens) else None

    def pop(self) -> Token:
        """Take the next word. Ask :meth:`peek` first."""
        token = self.tokens[self.place]
        self.place += 1
        return token

    def key(self, ahead: int = 0) -> str:
        """The next word as compared, or nothing at the end."""
        place = self.place + ahead
        return self.tokens[place].key if place < len(self.tokens) else ""

    def phrase(self, lookup: Mapping[str, T]) -> T | None:
        """Take the longest phrase that is in the table, and say what it stands for."""
        self.skip_noise()
        following = self.tokens[self.place : self.place + _LONGEST_PHRASE]
        for length in range(len(following), 0, -1):
            if any(token.quoted for token in following[:length]):
                continue
            phrase = " ".join(token.key for token in following[:length]).replace("-", " ")
            if phrase in lookup:
                self.place += length
                return lookup[phrase]
        return None

    def free(self, until: int | None = None) -> str:
        """Take everything up to word number ``until`` (or the end) as free text."""
        taken = self.tokens[self.place : until]
        self.place = len(self.tokens) if until is None else until
        if not taken:
            return ""
        if len(taken) == 1 and taken[0].quoted:
            return taken[0].raw
        end = len(self.text) if until is None else self.tokens[until].start
        return self.text[taken[0].start : end].strip()

    def find(self, key: str, *, last: bool = False) -> int | None:
        """The place of the first (or last) word that reads ``key``, from here on."""
        places = [
            place
            for place in range(self.place, len(self.tokens))
            if self.tokens[place].key == key and not self.tokens[place].quoted
        ]
        return places[-1 if last else 0] if places else None
