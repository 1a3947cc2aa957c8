"""What many rooms' tests stand on: the command line, a person at the box, clocks to turn."""

import signal
from collections.abc import Iterator
from pathlib import Path

import pytest

from boxlamp.attend.sitting import Sitting
from support.boxes import Watch, sitting_at
from support.calls import Caller

# A script that starts the tests in its background ignores Ctrl-C, and so would every program
# that they start and interrupt.
if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)


@pytest.fixture
def watch() -> Watch:
    """Clocks that the test turns."""
    return Watch()


@pytest.fixture
def sitting(tmp_path: Path, watch: Watch) -> Iterator[Sitting]:
    """A person at a new litter."""
    with sitting_at(tmp_path / "journal.db", watch) as at_the_box:
        yield at_the_box


@pytest.fixture
def call(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> Caller:
    """The command line, at an empty journal."""
    return Caller(tmp_path / "box" / "journal.db", capsys, monkeypatch)


@pytest.fixture
def bramble(call: Caller) -> Caller:
    """The command line, with Bramble's litter open."""
    call.good("new", "--dam", "Bramble", "--expect", "6 xray", "--vet", "Dr Novak",
              "--vet-phone", "000 555 010")  # fmt: skip
    return call
