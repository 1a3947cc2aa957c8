"""Files that are no litter, no night and no list of limits: refused in a sentence, soon, cheaply.

Every command that reads a file gets every such file, as a program of its own with little memory.
"""

import gzip
import io
import os
import socket
import subprocess
import sys
import threading
import time
import zipfile
from collections.abc import Callable, Iterator
from contextlib import chdir, contextmanager
from pathlib import Path
from typing import NamedTuple

import pytest

from boxlamp.desk.files import read_record
from boxlamp.language import read_night
from support.calls import PROGRAM, Caller, surroundings
from support.effort import NIGHTLY
from support.nights import DEMO
from support.seeds import exported

NIGHT = (DEMO / "pup-stuck.night").read_bytes()
LITTER = exported(read_night(NIGHT.decode()).entries)
LIMITS = b'by = "a"\nwhy = "b"\n[[limit]]\nrule = "waters-no-pup"\nlevel = "call"\n'
DEEP = 100_000
MEGABYTE = 1024 * 1024
MOST_MEMORY_MB = 900
"""Address space, of which an interpreter with its libraries maps a good part without using it."""

READERS: dict[str, tuple[str, ...]] = {
    "import": ("import", "FILE"),
    "summary": ("summary", "FILE", "-o", "-"),
    "replay": ("replay", "FILE", "--plain"),
    "drill": ("drill", "FILE", "--json"),
    "answers": ("drill", "stalled-labour", "--answers", "FILE"),
    "limits": ("protocol", "check", "FILE"),
    "trial": ("protocol", "trial", "FILE", "--nights", "1", "--workers", "1"),
}
"""Every command that reads a file somebody names."""


def _zipped() -> bytes:
    kept = io.BytesIO()
    with zipfile.ZipFile(kept, "w") as archive:
        archive.writestr("x.night", NIGHT)
    return kept.getvalue()


def _entry_with(number: str) -> bytes:
    """An exported litter in whose entries a number is another."""
    return LITTER.replace(b'"id":3', b'"id":' + number.encode(), 1).replace(
        b'"weight":', b'"weight":' + number.encode() + b',"weight":', 1
    )


CONTENTS: dict[str, Callable[[], bytes]] = {
    "nothing": lambda: b"",
    "a line of 100 MB": lambda: b"x" * (100 * MEGABYTE),
    "a JSON line of 100 MB": lambda: b'{"boxlamp":"' + b"x" * (100 * MEGABYTE) + b'"}',
    "a million short lines": lambda: b"date: 2026-03-01\n\n" + b"1\n" * 1_000_000,
    "nested JSON": lambda: b'{"boxlamp":' + b"[" * DEEP + b"]" * DEEP + b"}",
    "nested JSON in an entry": lambda: LITTER + b'{"id":' + b'{"a":' * DEEP + b"\n",
    "nested JSON in a night": lambda: NIGHT + b"#@ what=" + b'{"a":' * DEEP + b"\n02:14 c\n",
    "nested TOML": lambda: LIMITS + b"value = " + b"[" * DEEP + b"]" * DEEP,
    "dotted TOML": lambda: b"a." * DEEP + b"b = 1\n",
    "UTF-16": lambda: NIGHT.decode().encode("utf-16"),
    "UTF-32": lambda: LITTER.decode().encode("utf-32"),
    "Latin-1": lambda: NIGHT + "02:14 note caf\u00e9\n".encode("latin-1"),
    "NUL bytes": lambda: b"\0" * 4096,
    "overlong": lambda: NIGHT + b"02:14 note \xc0\xaf\xe0\x80\xaf\n",
    "surrogates": lambda: LITTER + b"\xed\xa0\x80\n",
    "two marks in front": lambda: b"\xef\xbb\xbf\xef\xbb\xbf" + NIGHT,
    "1e400": lambda: _entry_with("1e400"),
    "NaN": lambda: _entry_with("NaN"),
    "Infinity": lambda: _entry_with("-Infinity"),
    "a huge whole number": lambda: _entry_with("9" * 100_000),
    "a huge number in TOML": lambda: LIMITS + b"value = " + b"9" * 100_000,
    "a far exponent in TOML": lambda: LIMITS + b"value = 1e99999999999999999999\n",
    "NaN in TOML": lambda: LIMITS + b'value = nan\nunit = "h"\n',
    "keys told twice": lambda: LITTER.replace(b'"schema":1', b'"schema":1,"schema":1', 1)
    .replace(b'"id":2', b'"id":2,"id":7', 1),
    "keys told twice in TOML": lambda: LIMITS + LIMITS,
    "zip": _zipped,
    "gzip": lambda: gzip.compress(NIGHT),
    "gzip of zeros": lambda: gzip.compress(b"\0" * (100 * MEGABYTE)),
    "a database": lambda: b"SQLite format 3\0" + b"\0" * 8192,
    "a PDF": lambda: b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n",
    "a program": lambda: Path(sys.executable).read_bytes()[:MEGABYTE],
}  # fmt: skip
"""What may be in a file, by what it is called."""

BIG = [name for name in CONTENTS if "100 MB" in name or "million" in name or "zeros" in name]
SMALL = [name for name in CONTENTS if name not in BIG]
ACCEPTED = {"two marks in front"}
SURPRISING = {("answers", "nothing"), ("answers", "null")}
"""A drill without a single answer is a drill in which nothing was answered."""


class Answer(NamedTuple):
    """How a program of its own ended: code, what it said, seconds and megabytes at most."""

    code: int
    said: str
    seconds: float
    megabytes: float


_LAUNCHER = """
import resource, subprocess, sys
most, *words = sys.argv[1:]
if sys.platform == "linux":
    resource.setrlimit(resource.RLIMIT_AS, (int(most),) * 2)
none = subprocess.DEVNULL
code = subprocess.run(words, stdin=none, stdout=none, timeout=60).returncode
print(code, resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)
"""
"""Starts the program from a small process: what a child takes is counted from its parent on."""


def asked(words: tuple[str, ...], file: Path, journal: Path) -> Answer:
    """Run the program over a file with limited memory; it has to end by itself within a minute."""
    called = [str(PROGRAM), *(str(file) if word == "FILE" else word for word in words)]
    began = time.monotonic()
    ended = subprocess.run(
        [sys.executable, "-c", _LAUNCHER, str(MOST_MEMORY_MB * MEGABYTE), *called],
        stdin=subprocess.DEVNULL, capture_output=True, env=surroundings(journal), check=True,
    )  # fmt: skip
    code, kilobytes = map(int, ended.stdout.split())
    taken = time.monotonic() - began
    return Answer(code, ended.stderr.decode("utf-8", "replace"), taken, kilobytes / 1024)


def refused(answer: Answer) -> bool:
    """Whether it ended with a sentence, and not with a failure of its own."""
    return (
        answer.code == 2
        and "the program has failed" not in answer.said
        and "Traceback" not in answer.said
        and len(answer.said) < 100_000
    )


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Path]:
    """A file of each content, written when it is first asked for."""
    folder = tmp_path_factory.mktemp("hostile")

    def made(name: str) -> Path:
        path = folder / name.replace(" ", "-")
        if not path.exists():
            path.write_bytes(CONTENTS[name]())
        return path

    return made


@pytest.mark.parametrize("reader", READERS if NIGHTLY else ("import", "limits"))
@pytest.mark.parametrize("name", SMALL)
def test_a_file_that_is_something_else(
    files: Callable[[str], Path], call: Caller, reader: str, name: str
) -> None:
    """One sentence and exit code 2; no failure of the program, nothing taken in."""
    said = call(*(files(name) if word == "FILE" else word for word in READERS[reader]))
    assert "the program has failed" not in said.err, said.err
    assert len(said.err) < 100_000
    taken = (name in ACCEPTED and reader != "limits") or (reader, name) in SURPRISING
    assert taken or said.code == 2, said
    if reader == "import" and not taken:
        assert not call.journal.exists()


@pytest.mark.parametrize("name", BIG if NIGHTLY else BIG[:2])
@pytest.mark.parametrize("reader", READERS if NIGHTLY else ("import",))
def test_a_file_that_is_too_much(
    files: Callable[[str], Path], tmp_path: Path, reader: str, name: str
) -> None:
    """Refused with little memory: no file is read further than to where it is too large."""
    answer = asked(READERS[reader], files(name), tmp_path / "journal.db")
    assert refused(answer), answer
    assert answer.megabytes < 400, answer


KINDS = ("pipe", "folder", "loop", "nowhere", "socket", "zero", "null", "urandom")


def _strange(folder: Path, kind: str) -> Path:
    """A thing in a folder that is no plain file."""
    path = folder / kind
    if kind == "pipe":
        os.mkfifo(path)
    elif kind == "folder":
        path.mkdir()
    elif kind == "loop":
        path.symlink_to(path)
    elif kind == "nowhere":
        path.symlink_to(folder / "gone")
    elif kind == "socket":
        with socket.socket(socket.AF_UNIX) as made, chdir(folder):
            made.bind(kind)
    else:
        path.symlink_to(Path("/dev") / kind)
    return path


@pytest.mark.parametrize(
    ("reader", "kind"),
    [(reader, kind) for reader in READERS for kind in KINDS]
    if NIGHTLY
    else [("import", "pipe"), ("import", "socket"), ("limits", "loop"), ("answers", "zero")],
)
def test_what_is_no_plain_file(tmp_path: Path, reader: str, kind: str) -> None:
    """A device is not read for ever and a pipe not waited for; a link is followed and no more."""
    if (reader, kind) == ("answers", "pipe"):
        pytest.skip("answers may well come from a pipe, and whoever names one waits for it")
    answer = asked(READERS[reader], _strange(tmp_path, kind), tmp_path / "journal.db")
    assert refused(answer) or ((reader, kind) in SURPRISING and answer.code == 1), answer
    assert answer.megabytes < 400, answer


def test_a_link_to_a_night_is_that_night(tmp_path: Path) -> None:
    """A link is as good as the file."""
    link = tmp_path / "link.night"
    link.symlink_to(DEMO / "pup-stuck.night")
    assert read_record(str(link)).entries == read_record(str(DEMO / "pup-stuck.night")).entries


@contextmanager
def _growing(path: Path, line: bytes) -> Iterator[None]:
    """Within this block somebody goes on writing the file as fast as they can."""
    stop = threading.Event()

    def write() -> None:
        with path.open("ab", buffering=0) as file:
            while not stop.is_set() and file.tell() < 80 * MEGABYTE:
                file.write(line * 2000)

    writer = threading.Thread(target=write)
    writer.start()
    try:
        yield
    finally:
        stop.set()
        writer.join()


@pytest.mark.parametrize("reader", READERS if NIGHTLY else ("import",))
def test_a_file_that_grows_while_it_is_read(tmp_path: Path, reader: str) -> None:
    """The reading ends all the same, with what was there or with a refusal."""
    path = tmp_path / "growing"
    path.write_bytes(LIMITS if reader in {"limits", "trial"} else NIGHT)
    with _growing(path, b"#\n" if reader in {"limits", "trial"} else b"21:52 note still here\n"):
        answer = asked(READERS[reader], path, tmp_path / "journal.db")
    assert answer.code in {0, 1, 2}, answer
    assert "the program has failed" not in answer.said
    assert answer.megabytes < 600, answer
