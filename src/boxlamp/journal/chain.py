"""The chain: one record of a litter, its hash, and its line in the mirror.

A litter is a chain of records. Number 0 says that the litter was opened; numbers 1, 2, 3 ...
are its entries. Each hash covers the hash before it and the record's own JSON, so that a changed
or missing record shows. The hash guards against accident and against quiet editing of one
copy; it is no signature.
"""

import hashlib
import re
from typing import Annotated, NamedTuple

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from boxlamp.model.entry import Entry, Instant

MIRROR_SCHEMA = 1

_SLUG = "[a-z0-9][a-z0-9-]{0,99}"
Slug = Annotated[str, Field(pattern=rf"^{_SLUG}$")]


def is_slug(text: str) -> bool:
    """Whether a litter can have this id."""
    return re.fullmatch(_SLUG, text) is not None


class Opening(BaseModel):
    """Record 0 of a litter: its short id, the name shown, and when it was opened."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    slug: Slug
    name: Annotated[str, Field(min_length=1, max_length=500)]
    opened: Instant


class Record(NamedTuple):
    """One record as it lies in the database or the mirror.

    ``seq`` counts all records of all litters in the order they were written; ``number`` counts
    within the litter. ``body`` is the exact JSON text that was hashed.
    """

    seq: int
    litter: str
    number: int
    prev: str
    hash: str
    body: str

    def follows(self, prev: str) -> bool:
        """Whether this record is intact and comes right after the one with hash ``prev``."""
        return digest(prev, self.body) == self.hash

    def line(self) -> bytes:
        """The record's line in the mirror. The body stays byte for byte what was hashed."""
        name = "entry" if self.number else "opened"
        return (
            f'{{"schema":{MIRROR_SCHEMA},"seq":{self.seq},"litter":"{self.litter}",'
            f'"number":{self.number},"prev":"{self.prev}","hash":"{self.hash}",'
            f'"{name}":{self.body}}}\n'
        ).encode()

    def framed(self) -> bool:
        """Whether its place is the one its own JSON begins with. Quick, and no proof."""
        own = f'{{"id":{self.number},"litter":"{self.litter}",'
        return self.number == 0 or self.body.startswith(own)

    def entry(self) -> Entry | None:
        """The entry in this record; None when it cannot be read or belongs elsewhere."""
        try:
            entry = Entry.model_validate_json(self.body)
        except (ValidationError, OverflowError):
            return None
        return entry if (entry.litter, entry.id) == (self.litter, self.number) else None

    def opening(self) -> Opening | None:
        """The opening in this record; None when it cannot be read or belongs elsewhere."""
        try:
            opening = Opening.model_validate_json(self.body)
        except (ValidationError, OverflowError):
            return None
        return opening if opening.slug == self.litter and self.number == 0 else None

    def readable(self) -> bool:
        """Whether the body says something that belongs in this place."""
        return (self.entry() if self.number else self.opening()) is not None


def genesis(slug: str) -> str:
    """What stands before the first record of a litter."""
    return hashlib.sha256(f"boxlamp journal 1\n{slug}".encode()).hexdigest()


def digest(prev: str, body: str) -> str:
    """The hash of a record: over the hash before it and its own JSON."""
    return hashlib.sha256(f"{prev}\n{body}".encode()).hexdigest()


_LINE = re.compile(
    rf'\{{"schema":{MIRROR_SCHEMA},"seq":([1-9][0-9]{{0,15}}),"litter":"({_SLUG})",'
    r'"number":(0|[1-9][0-9]{0,15}),"prev":"([0-9a-f]{64})","hash":"([0-9a-f]{64})",'
    r'"(opened|entry)":(\{.*\})\}',
)


def from_line(line: bytes) -> Record | None:
    """The record in one line of a mirror, or None when the line is not one."""
    try:
        found = _LINE.fullmatch(line.decode().rstrip("\r\n"))
    except UnicodeDecodeError:
        return None
    if found is None:
        return None
    seq, litter, number, prev, own, name, body = found.groups()
    if (name == "entry") != (number != "0"):
        return None
    return Record(int(seq), litter, int(number), prev, own, body)


_WHOLE_INSIDE = re.compile(r'"prev":"([0-9a-f]{64})","hash":"([0-9a-f]{64})","[^"]*":(\{.*\})\}')


def salvaged(line: bytes, place: int) -> Record | None:
    """The record in a line that is damaged only around it; its own JSON says what it is.

    Lines stand in the order of their ``seq``, so the number of the line will do for one.
    """
    found = _WHOLE_INSIDE.search(line.decode(errors="replace"))
    if found is None:
        return None
    prev, own, body = found.groups()
    if digest(prev, body) != own:
        return None
    try:
        entry = Entry.model_validate_json(body)
        litter, number = entry.litter, entry.id
    except (ValidationError, OverflowError):
        try:
            litter, number = Opening.model_validate_json(body).slug, 0
        except (ValidationError, OverflowError):
            return None
    return Record(place, litter, number, prev, own, body) if is_slug(litter) else None
