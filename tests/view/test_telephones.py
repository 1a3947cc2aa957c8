"""What in somebody's words is a telephone number."""

import pytest

from boxlamp.view.telephones import telephones


@pytest.mark.parametrize(
    ("words", "found"),
    [
        ("ring 000 555 090", ["000 555 090"]),
        ("+44 (0)1234 567-890 ext. 12", ["+44 (0)1234 567-890"]),
        ("01234 567890 / 01234 567891", ["01234 567890", "01234 567891"]),
        ("room 12, floor 3", []),
        ("", []),
    ],
)
def test_what_is_a_number(words: str, found: list[str]) -> None:
    """Figures with what people put between them; a room or an extension is none."""
    assert list(telephones(words)) == found
