"""Time zones by name. All arithmetic is done in UTC; zones are for reading a wall clock."""

from datetime import UTC, tzinfo
from zoneinfo import ZoneInfo

_UTC = frozenset({"UTC", "Etc/UTC", "Etc/UCT", "Etc/Universal", "Etc/Zulu", "UCT", "Zulu"})


def known_zone(name: str) -> tzinfo | None:
    """The zone of this IANA name, or None when there is no such zone."""
    try:
        return ZoneInfo(name)
    except (KeyError, ValueError, OSError):
        return None


def zone_named(name: str) -> tzinfo:
    """The zone of this name; an unknown name counts as UTC, so that no record is unreadable."""
    return known_zone(name) or UTC


def plain_zone(name: str) -> str:
    """What people call a zone: ``UTC`` by each of its names, ``America/New York``."""
    return "UTC" if name in _UTC else name.replace("_", " ")
