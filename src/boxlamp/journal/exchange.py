"""A litter as a file of JSON lines: written out, and taken in again as from a stranger.

The first line is a header, every further line one entry. The header carries the number of
entries and the hash at the end of the chain, so that a file cut short or changed shows.
"""

from collections.abc import Iterator
from typing import Annotated, BinaryIO, Literal

from pydantic import BaseModel, ConfigDict, Field

from boxlamp.journal.chain import Opening, Slug, digest, genesis
from boxlamp.journal.errors import RefusedError
from boxlamp.journal.intake import refusing
from boxlamp.journal.journal import Journal
from boxlamp.model.entry import Entry, Instant

MAX_BYTES = 64 * 1024 * 1024
MAX_LINE = 300 * 1024
"""The longest entry the model allows, with every character escaped, is a little shorter."""
MAX_ENTRIES = 200_000
MAX_DEPTH = 12
"""An entry is nested four deep; this leaves room and stops a bracket bomb."""


class Header(BaseModel):
    """The first line of an exported litter."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    boxlamp: Literal["litter"]
    version: Literal[1] = Field(alias="schema")
    litter: Slug
    name: Annotated[str, Field(min_length=1, max_length=500)]
    opened: Instant
    entries: Annotated[int, Field(ge=0, le=MAX_ENTRIES)] | None = None
    hash: Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")] | None = None


def export_jsonl(journal: Journal, litter: str) -> Iterator[str]:
    """The lines of a litter's file, without line ends: header, then each entry as stored."""
    opening, *entries = journal.records(litter)
    start = Opening.model_validate_json(opening.body)
    header = Header(
        boxlamp="litter", schema=1, litter=litter, name=start.name, opened=start.opened,
        entries=len(entries), hash=(entries or [opening])[-1].hash,
    )  # fmt: skip
    yield header.model_dump_json(by_alias=True)
    for record in entries:
        yield record.body


def read_litter(stream: BinaryIO, name: str) -> tuple[Header, list[Entry]]:
    """Read a litter's file whole, trusting nothing in it."""
    lines = _lines(stream, name)
    first = next(lines, None)
    if first is None:
        raise RefusedError(f"{name}: the file is empty.")
    with refusing(f"{name}:1: the header line"):
        header = Header.model_validate_json(first[1])
    opening = Opening(slug=header.litter, name=header.name, opened=header.opened)
    end = digest(genesis(header.litter), opening.model_dump_json())
    entries: list[Entry] = []
    for place, line in lines:
        if len(entries) == MAX_ENTRIES:
            raise RefusedError(f"{name}:{place}: more than {MAX_ENTRIES} entries.")
        with refusing(f"{name}:{place}: this line"):
            entry = Entry.model_validate_json(line)
        if (entry.litter, entry.id) != (header.litter, len(entries) + 1):
            raise RefusedError(
                f"{name}:{place}: expected entry {len(entries) + 1} of {header.litter} here."
            )
        entries.append(entry)
        end = digest(end, line)
    if header.entries not in {None, len(entries)}:
        raise RefusedError(
            f"{name}: the header promises {header.entries} entries and there are {len(entries)}; "
            "the file was cut short or changed."
        )
    if header.hash not in {None, end}:
        raise RefusedError(f"{name}: the file was changed or damaged after it was written.")
    return header, entries


def _lines(stream: BinaryIO, name: str) -> Iterator[tuple[int, str]]:
    """The lines that are not blank, each with its number, within all limits."""
    total = place = 0
    while raw := stream.readline(MAX_LINE + 1):
        place += 1
        total += len(raw)
        if len(raw) > MAX_LINE:
            raise RefusedError(f"{name}:{place}: the line is longer than {MAX_LINE} bytes.")
        if total > MAX_BYTES:
            raise RefusedError(f"{name}:{place}: the file is larger than {MAX_BYTES} bytes.")
        if place == 1:
            raw = raw.removeprefix(b"\xef\xbb\xbf")
        try:
            line = raw.decode("utf-8").strip(" \t\r\n")
        except UnicodeDecodeError as error:
            raise RefusedError(f"{name}:{place}: the line is not UTF-8 text.") from error
        if depth(line) > MAX_DEPTH:
            raise RefusedError(f"{name}:{place}: the line is nested too deeply.")
        if line:
            yield place, line


def depth(line: str) -> int:
    """How deeply the brackets of a line of JSON are nested, those in strings left out."""
    if line.count("{") + line.count("[") <= MAX_DEPTH:
        # The usual case, without looking at each character.
        return 0
    deepest = now = 0
    inside = escaped = False
    for letter in line:
        if escaped:
            escaped = False
        elif letter == "\\":
            escaped = inside
        elif letter == '"':
            inside = not inside
        elif not inside and letter in "[{":
            now += 1
            deepest = max(deepest, now)
        elif not inside and letter in "]}":
            now -= 1
    return deepest
