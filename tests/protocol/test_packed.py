"""The packed protocol: what the text says, and nothing from any other text."""

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boxlamp import outside
from boxlamp.protocol.packed import pack, unpack
from boxlamp.protocol.records import read_protocol
from support.effort import effort

TEXT = outside.SHIPPED.read_bytes()
PACKED = outside.PACKED.read_bytes()
READ = read_protocol(TEXT.decode())


def test_the_shipped_pack_is_what_the_text_says() -> None:
    """Every record equal, down to the type and the writing of each number."""
    unpacked = unpack(PACKED, TEXT)
    assert unpacked == READ
    assert repr(unpacked) == repr(READ)
    assert unpacked is not None
    assert unpacked.spans == READ.spans
    assert unpacked.numbers == READ.numbers
    assert unpacked.bands == READ.bands


def test_the_shipped_pack_is_not_stale() -> None:
    """Made from the text as it stands; `python docs/generate.py` makes it anew."""
    assert PACKED.decode() == pack(TEXT.decode(), READ)


def test_a_pack_of_any_protocol_gives_it_back() -> None:
    """Also one whose optional parts are missing, and one that was itself unpacked."""
    small = READ.model_copy(update={"formula": (), "band": READ.band[:1]})
    back = unpack(pack("small", small).encode(), b"small")
    assert repr(back) == repr(small)
    assert back is not None
    assert pack("small", back) == pack("small", small)


@settings(max_examples=effort(30, 1000), deadline=None)
@given(st.integers(0, len(TEXT) - 1), st.integers(0, 255))
def test_from_any_other_text_nothing_is_unpacked(place: int, byte: int) -> None:
    """One letter changed, and the text itself is read."""
    other = TEXT[:place] + bytes([byte]) + TEXT[place + 1 :]
    assert (unpack(PACKED, other) is None) == (other != TEXT)


def test_line_ends_make_no_other_text() -> None:
    """A checkout may end its lines as its system does."""
    assert unpack(PACKED, TEXT.replace(b"\n", b"\r\n")) == READ


@pytest.mark.parametrize(
    "damaged", [b"", b"{", b"[]", b"{}", b"null", b"\xff", PACKED[:5000], b'{"made_from": 1}']
)
def test_a_damaged_pack_gives_nothing(damaged: bytes) -> None:
    """No pack is worth a failure: there is always the text."""
    assert unpack(damaged, TEXT) is None


@pytest.mark.parametrize(
    "stale", [None, b"", PACKED.replace(b'"made_from": "', b'"made_from": "0')]
)
def test_without_a_pack_the_text_is_read(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, stale: bytes | None
) -> None:
    """Missing, empty or made from another text: the limits are the same."""
    pack_file = tmp_path / "packed.json"
    if stale is not None:
        pack_file.write_bytes(stale)
    monkeypatch.setattr(outside, "PACKED", pack_file)
    assert outside.default_protocol.__wrapped__() == READ


def test_an_edited_text_counts_at_once(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Whoever edits the shipped limits is not answered from the pack beside them."""
    edited = tmp_path / "default.toml"
    edited.write_bytes(TEXT.replace(b"repeat_go_minutes = 5 ", b"repeat_go_minutes = 7 "))
    monkeypatch.setattr(outside, "SHIPPED", edited)
    assert outside.default_protocol.__wrapped__().repeat_go_minutes == 7
