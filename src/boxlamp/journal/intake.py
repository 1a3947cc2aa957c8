"""Taking in a litter written elsewhere: what it would add, and when to refuse."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from typing import NamedTuple

from pydantic import ValidationError

from boxlamp.journal import rows
from boxlamp.journal.chain import Opening
from boxlamp.journal.errors import RefusedError
from boxlamp.model.entry import Entry

_NAME_TOO_LONG = (
    "the name of who is typing is longer than 500 characters. Give a shorter one with --by NAME, "
    "or in the variable BOXLAMP_BY, and write it again."
)


class Intake(NamedTuple):
    """What taking in a litter did, or with ``dry_run`` would do.

    ``opening`` carries the id under which the litter is kept; ``new`` says that it was not
    here; ``already`` counts the entries that were, and ``added`` are the ones that were not.
    """

    opening: Opening
    new: bool
    already: int
    added: tuple[Entry, ...]

    @property
    def litter(self) -> str:
        """The litter's id in this journal."""
        return self.opening.slug

    def bodies(self) -> list[str]:
        """The record bodies that remain to be written."""
        first = [self.opening.model_dump_json()] if self.new else []
        return first + [entry.model_dump_json() for entry in self.added]


@contextmanager
def refusing(where: str = "The entry") -> Iterator[None]:
    """Within this block, what the model will not hold is refused in a sentence."""
    try:
        yield
    except ValidationError as error:
        first = error.errors(include_url=False, include_context=False, include_input=False)[0]
        # The path into a union is long; its last part is the word a person knows.
        field = next((str(part) for part in reversed(first["loc"]) if part), "")
        if (field, first["type"]) == ("by", "string_too_long"):
            raise RefusedError(f"Nothing was written down: {_NAME_TOO_LONG}") from error
        said = f"{field}: {first['msg']}" if field else first["msg"]
        # The message may quote the file: not at any length, and no terminal codes.
        said = "".join(letter if letter.isprintable() else "?" for letter in said[:200])
        raise RefusedError(f"{where} cannot be kept as it is ({said}).") from error
    except OverflowError as error:
        raise RefusedError(f"{where} cannot be kept as it is (a time out of range).") from error


def intake(
    connection: sqlite3.Connection, opening: Opening, entries: tuple[Entry, ...], *, as_new: bool
) -> Intake:
    """What taking in this litter would add. Refuses what contradicts the litter of that id.

    With ``as_new`` a litter that contradicts gets an id of its own, the same one each time.
    """
    for number, entry in enumerate(entries, start=1):
        if entry.id != number:
            raise RefusedError(
                f"Entries must be numbered 1, 2, 3 ... without gaps; number {number} is missing."
            )
    for slug in rows.slugs(opening.slug):
        ours = opening.model_copy(update={"slug": slug})
        relabelled = tuple(entry.model_copy(update={"litter": slug}) for entry in entries)
        if rows.last(connection, slug) is None:
            return Intake(ours, new=True, already=0, added=relabelled)
        here = tuple(rows.entries_after(connection, slug, 0))
        differs = _first_difference(connection, ours, relabelled, here)
        if differs is None:
            shared = min(len(here), len(relabelled))
            return Intake(ours, new=False, already=shared, added=relabelled[shared:])
        if not as_new:
            what = f"entry {differs}" if differs else "its name or the time it was opened"
            raise RefusedError(
                f"Litter {slug} is already here and {what} reads differently, so nothing was "
                "taken in. It can be taken in as a new litter beside the old one.",
            )
    raise AssertionError("there is always another slug")  # pragma: no cover - the loop never ends


def _first_difference(
    connection: sqlite3.Connection, ours: Opening, entries: tuple[Entry, ...],
    here: tuple[Entry, ...],
) -> int | None:  # fmt: skip
    """The first record that is not the same; 0 is the opening."""
    if rows.opening(connection, ours.slug) != ours:
        return 0
    pairs = zip(entries, here, strict=False)
    return next((new.id for new, old in pairs if new != old), None)
