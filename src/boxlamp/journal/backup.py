"""A second journal somewhere else, made while the first is in use, and checked."""

import sqlite3
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from boxlamp.journal import mirror
from boxlamp.journal.errors import DamagedError, InTheWayError, NotAJournalError, translated
from boxlamp.journal.notices import Report
from boxlamp.journal.paths import identity, mirror_of, private_file, private_folder, settled
from boxlamp.journal.schema import connect
from boxlamp.journal.verify import verify


@dataclass(frozen=True, slots=True)
class Backup:
    """Where the copy lies and what checking it found (always nothing wrong)."""

    path: Path
    mirror: Path
    report: Report


def backup(path: Path, target: Path) -> Backup:
    """Copy the journal to ``target``, a new file name or a folder, and check the copy.

    Nothing is overwritten, and a copy that does not check is removed again.
    """
    path, target = settled(path), Path(target).expanduser()
    if identity(path) is None:
        raise NotAJournalError(f"There is no journal at {path} to copy.")
    if target.is_dir():
        target /= f"{path.stem}-{datetime.now(UTC):%Y%m%d-%H%M%S}.db"
    target = settled(target)
    for name in (target, mirror_of(target)):
        if name.exists():
            raise InTheWayError.about(name)
    with translated(target):
        private_folder(target.parent)
        private_file(target)
    try:
        report = _copied(path, target)
    except BaseException:
        target.unlink(missing_ok=True)
        mirror_of(target).unlink(missing_ok=True)
        raise
    return Backup(target, mirror_of(target), report)


def _copied(path: Path, target: Path) -> Report:
    with (
        closing(connect(path)) as source,
        translated(target),
        closing(sqlite3.connect(target, isolation_level=None)) as copy,
    ):
        source.backup(copy)
    with closing(connect(target)) as copy, translated(mirror_of(target)):
        # Written from the copy, so that the two agree however busy the first journal is.
        mirror.catch_up(copy, mirror_of(target), mirror.Head(None, 0))
    report = verify(target)
    if not report.ok:
        raise DamagedError(
            f"The copy of {path} did not check ({report.findings[0].sentence}), so it was "
            "removed. Run `boxlamp verify` on the journal itself.",
        )
    return report
