"""Comparing the two copies of the record. Nothing is changed by looking."""

from collections.abc import Iterable, Iterator
from pathlib import Path

from boxlamp.journal.copies import Copy, Place, from_database, from_mirror, named
from boxlamp.journal.notices import Finding, FindingKind, Report
from boxlamp.journal.paths import mirror_of, settled


def verify(path: Path) -> Report:
    """Check both copies of the journal at ``path``, and that they agree."""
    path = settled(path)
    database = from_database(path)
    mirror = from_mirror(mirror_of(path))
    if not database.records and not mirror.there:
        # A journal nobody has written to has no mirror yet.
        mirror.findings.clear()
    return Report(
        path=path,
        litters=len({litter for litter, _ in (*database.records, *mirror.records)}),
        entries=sum(1 for _, number in {*database.records, *mirror.records} if number),
        findings=(*database.findings, *mirror.findings, *differences(database, mirror)),
    )


def differences(database: Copy, mirror: Copy) -> Iterator[Finding]:
    """Where two copies that are both there do not hold the same."""
    if not (database.there and mirror.there):
        return
    yield from _missing(
        "missing-in-mirror", database.records.keys() - mirror.records.keys(),
        "in the database but not in the mirror; opening the journal will write it",
    )  # fmt: skip
    yield from _missing(
        "missing-in-database", mirror.records.keys() - database.records.keys(),
        "in the mirror but not in the database",
    )  # fmt: skip
    for place in sorted(database.records.keys() & mirror.records.keys()):
        ours, theirs = database.records[place], mirror.records[place]
        if (ours.hash, ours.body) != (theirs.hash, theirs.body):
            yield Finding(
                "mirror-differs", f"{named(place)} reads differently in the two copies.", *place
            )


def _missing(kind: FindingKind, places: Iterable[Place], sentence: str) -> Iterator[Finding]:
    for (litter, first), last in _runs(places):
        yield Finding(kind, f"{named((litter, first), last)}: {sentence}.", litter, first)


def _runs(places: Iterable[Place]) -> Iterator[tuple[Place, int]]:
    """Places that follow one another, taken together."""
    run: tuple[Place, int] | None = None
    for litter, number in sorted(places):
        if run is not None and run[0][0] == litter and run[1] + 1 == number:
            run = run[0], number
        else:
            if run is not None:
                yield run
            run = (litter, number), number
    if run is not None:
        yield run
