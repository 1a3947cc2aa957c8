"""``boxlamp verify``: is the record whole? And mending it when it is not."""

from collections.abc import Callable, Iterator
from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from boxlamp.cli import options
from boxlamp.cli.output import Output
from boxlamp.journal import Report, default_path
from boxlamp.journal.repair import Repair, rebuild_database, rebuild_mirror, recover
from boxlamp.journal.verify import verify as verify_journal
from boxlamp.view.machine import SCHEMA
from boxlamp.view.text import counted


class Mend(StrEnum):
    """What to write anew, and from what."""

    MIRROR = "mirror"
    DATABASE = "database"
    BOTH = "both"


_MENDERS: dict[Mend, Callable[[Path], Repair]] = {
    Mend.MIRROR: rebuild_mirror,
    Mend.DATABASE: rebuild_database,
    Mend.BOTH: recover,
}


def verify(
    rebuild: Annotated[
        Mend | None,
        typer.Option(
            "--rebuild",
            help="Write one copy anew from the other, or both from all that can be proven. The "
            "old files are kept.",
        ),
    ] = None,
    journal: options.Journal = None,
    as_json: options.AsJson = False,
    plain: options.AsPlain = False,
) -> None:
    """Check that the record is whole.

    For example: boxlamp verify, or boxlamp verify --rebuild mirror

    Compares the journal with its plain-text mirror. Exit code 0: whole; 1: not.
    """
    output = Output()
    path = journal or default_path()
    if rebuild is not None:
        repair = _MENDERS[rebuild](path)
        output.say(f"Written anew: {repair.records} records.")
        for kept in repair.kept:
            output.say(f"The old file is kept as {kept}.")
        for finding in repair.findings:
            output.say(f"Still open: {finding.sentence}")
    report = verify_journal(path)
    if as_json:
        output.data(_data(report))
    elif plain:
        output.results(_plain(report))
    else:
        found = counted(len(report.findings), "finding", "findings")
        for finding in report.findings:
            output.result(f"{finding.kind}: {finding.sentence}")
        output.result(
            f"{report.path}: {counted(report.litters, 'litter', 'litters')}, "
            f"{counted(report.entries, 'entry', 'entries')}, "
            + ("whole; the mirror agrees." if report.ok else f"{found}.")
        )
        if not report.ok and rebuild is None:
            output.result(
                "To mend it: `boxlamp verify --rebuild mirror`, `--rebuild database`, or "
                "`--rebuild both` when both copies are damaged."
            )
    raise typer.Exit(0 if report.ok else 1)


def _plain(report: Report) -> Iterator[str]:
    """What it came to, then every finding: its kind, litter, entry and sentence."""
    yield f"journal\t{report.path}"
    yield f"state\t{'whole' if report.ok else 'not whole'}"
    yield f"litters\t{report.litters}"
    yield f"entries\t{report.entries}"
    for one in report.findings:
        number = "" if one.number is None else str(one.number)
        yield f"finding\t{one.kind}\t{one.litter or ''}\t{number}\t{one.sentence}"


def _data(report: Report) -> dict[str, object]:
    return {
        "schema": SCHEMA,
        "journal": str(report.path),
        "litters": report.litters,
        "entries": report.entries,
        "ok": report.ok,
        "findings": [
            {"kind": one.kind, "litter": one.litter, "entry": one.number, "sentence": one.sentence}
            for one in report.findings
        ],
    }
