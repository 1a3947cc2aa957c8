"""Files and folders: where the record lies, kept private, and never overwritten."""

import os
import sys
from collections.abc import Iterator
from datetime import UTC, datetime
from io import FileIO
from pathlib import Path

from boxlamp.journal.errors import InTheWayError, NotAJournalError

PRIVATE_FILE = 0o600
PRIVATE_FOLDER = 0o700
_SIDES = ("-journal", "-wal", "-shm")


def default_path() -> Path:
    """The journal's usual place: ``journal.db`` in the user's data folder."""
    from platformdirs import user_data_path

    named = os.environ.get("XDG_DATA_HOME")
    if named and not Path(named).is_absolute():
        # A relative one would put the record wherever one stands; it counts as not set.
        del os.environ["XDG_DATA_HOME"]
    return user_data_path("boxlamp", appauthor=False) / "journal.db"


def settled(path: Path) -> Path:
    """The one true path of a journal: absolute, with links followed."""
    whole = Path(path).expanduser().resolve()
    if whole.suffix == ".jsonl":
        raise NotAJournalError(
            f"{whole} is a mirror's name. Give the path of the database beside it, such as "
            f"{whole.with_suffix('.db')}.",
        )
    return whole


def mirror_of(path: Path) -> Path:
    """The plain-text mirror that lies beside a database."""
    return path.with_suffix(".jsonl")


def sides_of(path: Path) -> Iterator[Path]:
    """SQLite's side files of this database, those that exist."""
    for ending in _SIDES:
        side = path.with_name(path.name + ending)
        if side.exists():
            yield side


def private_folder(folder: Path) -> None:
    """Make a folder and the missing ones above it, for this user only.

    Folders that are already there are left as they are: they may be somebody's home.
    """
    if folder.is_dir():
        return
    private_folder(folder.parent)
    try:
        folder.mkdir(mode=PRIVATE_FOLDER)
    except FileExistsError:
        # Another terminal was faster; unless a file is in the way.
        if not folder.is_dir():
            raise
    else:
        folder.chmod(PRIVATE_FOLDER)
        sync_folder(folder.parent)


def open_private(path: Path, mode: str) -> FileIO:
    """Open a file for writing; one that is made by it is private from its first moment."""
    fresh = not path.exists()
    file = FileIO(path, mode, opener=lambda name, flags: os.open(name, flags, PRIVATE_FILE))
    if fresh:
        # However the user's mask is set, the user can read it.
        path.chmod(PRIVATE_FILE)
    return file


def private_file(path: Path) -> None:
    """Make an empty file for this user only; it must not be there yet."""
    open_private(path, "x").close()
    sync_folder(path.parent)


def write_all(file: FileIO, content: bytes | bytearray) -> None:
    """Write all of it. A nearly full disk takes a part first and fails at the next attempt."""
    view = memoryview(content)
    while view:
        view = view[file.write(view) or 0 :]


def flush(descriptor: int) -> None:
    """Push a file's content down to the disk itself."""
    if sys.platform == "darwin":  # pragma: no cover - only there
        import fcntl

        # Here a plain sync stops at the drive's own memory.
        fcntl.fcntl(descriptor, fcntl.F_FULLFSYNC)
    else:
        os.fsync(descriptor)


def sync_folder(folder: Path) -> None:
    """Make the names in a folder durable, where the system knows how."""
    if os.name == "nt":  # pragma: no cover - only there
        return
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def identity(path: Path) -> tuple[int, int] | None:
    """Which file this name means just now, or None when there is none."""
    try:
        state = path.stat()
    except FileNotFoundError:
        return None
    return state.st_dev, state.st_ino


def kept_name(path: Path) -> Path:
    """A free dated name beside ``path`` for what it holds now."""
    stamp = datetime.now(UTC).strftime("%Y%m%d-%H%M%S")
    for turn in range(1, 1000):
        more = f"-{turn}" if turn > 1 else ""
        name = path.with_name(f"{path.stem}.kept-{stamp}{more}{path.suffix}")
        if not name.exists():
            return name
    raise InTheWayError.about(path)


def keep_copy(path: Path, name: Path) -> None:
    """Let ``name`` hold what ``path`` holds, without a moment in which ``path`` is gone."""
    try:
        os.link(path, name)
    except OSError:
        # A disk without hard links, such as a USB stick.
        with path.open("rb") as source, open_private(name, "x") as target:
            while block := source.read(1 << 20):
                write_all(target, block)
            flush(target.fileno())


def put_in_place(new: Path, path: Path, *, keep: bool = True) -> Path | None:
    """Let ``path`` be the file ``new``; says where the old content is kept, if there was any.

    ``path`` names the old file or the new one at every moment. Side files of the old one are
    kept with it, for beside the new one they would spoil it.
    """
    kept = None
    if keep and path.exists():
        kept = kept_name(path)
        keep_copy(path, kept)
        for side in list(sides_of(path)):
            side.rename(kept.with_name(kept.name + side.name.removeprefix(path.name)))
    new.replace(path)
    sync_folder(path.parent)
    return kept


def set_aside(path: Path) -> Path:
    """Move a file to a dated name beside it."""
    kept = kept_name(path)
    path.rename(kept)
    sync_folder(path.parent)
    return kept
