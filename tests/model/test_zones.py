"""Zones as people call them."""

import pytest

from boxlamp.model.zones import plain_zone


@pytest.mark.parametrize(
    ("name", "plain"),
    [("Etc/UTC", "UTC"), ("UTC", "UTC"), ("America/New_York", "America/New York"),
     ("Europe/Prague", "Europe/Prague")],
)  # fmt: skip
def test_a_zone_is_told_in_the_words_of_a_person(name: str, plain: str) -> None:
    """A machine set to world time has many names for it; a person has one."""
    assert plain_zone(name) == plain
