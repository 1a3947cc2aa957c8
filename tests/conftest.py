"""A caller of the command line, with a journal of its own and a clock that the test turns."""

from pathlib import Path

import pytest

from support.calls import Caller


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
