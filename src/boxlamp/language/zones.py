"""Wall clocks and instants: the nights when a clock time comes twice, or never."""

from datetime import UTC, datetime, timedelta, tzinfo
from functools import lru_cache

DAY = timedelta(days=1)


@lru_cache(maxsize=64)
def instants(wall: datetime, zone: tzinfo) -> list[datetime]:
    """The instants at which a wall clock in this zone shows this time: none, one or two."""
    found: list[datetime] = []
    for fold in (0, 1):
        instant = wall.replace(tzinfo=zone, fold=fold).astimezone(UTC)
        shows = instant.astimezone(zone).replace(tzinfo=None, fold=0)
        if shows == wall and instant not in found:
            found.append(instant)
    return found


def as_if_unchanged(wall: datetime, zone: tzinfo) -> datetime:
    """The instant a clock that was not put forward would have shown a skipped time."""
    return wall.replace(tzinfo=zone, fold=0).astimezone(UTC)


def comes_twice(instant: datetime, zone: tzinfo) -> bool:
    """Whether the wall clock shows this instant's time a second time that night."""
    return len(instants(wall_of(instant, zone), zone)) > 1


def wall_of(instant: datetime, zone: tzinfo) -> datetime:
    """What a wall clock in this zone shows at this instant."""
    return instant.astimezone(zone).replace(tzinfo=None, fold=0)
