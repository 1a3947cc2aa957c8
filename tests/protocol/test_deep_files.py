"""Files of limits that are built to break the reader."""

import pytest

from boxlamp.protocol.records import ProtocolError, read_protocol


@pytest.mark.parametrize("text", ["a = " + "[" * 100_000, "a = " + "{b = " * 100_000])
def test_a_file_nested_too_deep(text: str) -> None:
    """A file nested without end is refused in a sentence, like any other that is no protocol."""
    with pytest.raises(ProtocolError) as refused:
        read_protocol(text)
    assert len(refused.value.problems) == 1
    assert refused.value.problems[0].endswith(".")
