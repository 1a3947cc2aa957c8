"""What the fuzzers ask of any bytes, asked of their seeds and of all that ever broke one."""

from itertools import islice

import pytest

from support import seeds
from support.effort import effort
from support.fuzzing import BOXES, READERS, any_file, any_line

FOUND_FILES: tuple[bytes, ...] = (
    # Numbers that only a file can hold: each broke the reader of a vet's own limits once.
    b'lby="a"\nwhy="b"\n[[limit]]\nrule="x"\nlevel="go"\nvalue=9e4\nunit="d"\n',
    b"lvalue=" + b"9" * 4301,
    b"lvalue=1e99999999999999999999",
    # A key of very many parts: 200 kB of it took all memory.
    b"l" + b"a." * 2_000 + b"b=1",
)

LINES = tuple(line.encode() for line in seeds.typed_lines())
FILES = tuple(seeds.files())


def test_every_line_of_the_nights_keeps_the_promise() -> None:
    """A typed line is an entry or a note with a reason, harmless, and reads back as the same."""
    every = max(1, len(LINES) // effort(200, nightly=len(LINES)))
    for number, line in enumerate(islice(LINES, None, None, every)):
        any_line(bytes([number % len(BOXES)]) + line)


def test_every_kind_of_file_keeps_the_promise() -> None:
    """Each reader is begun with; whole, cut short and with a byte changed."""
    assert {file[:1] for file in FILES} == set(READERS)
    every = max(1, len(FILES) // effort(60, nightly=len(FILES)))
    for file in islice(FILES, None, None, every):
        any_file(file)
        any_file(file[: len(file) // 2])
        any_file(file[:-9] + bytes([file[-9] ^ 0x40]) + file[-8:] if len(file) > 9 else file)


@pytest.mark.parametrize("content", FOUND_FILES, ids=lambda content: repr(content[:20]))
def test_what_once_broke_a_promise(content: bytes) -> None:
    """It keeps it now."""
    any_file(content)
