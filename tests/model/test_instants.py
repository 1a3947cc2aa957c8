"""The years a record can hold, seen from every zone."""

from datetime import UTC, datetime, timedelta, timezone

import pytest
from pydantic import ValidationError

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Note

EAST, WEST = timezone(timedelta(hours=14)), timezone(timedelta(hours=-12))


def noted(at: datetime) -> Entry:
    return Entry(id=1, litter="ash", at=at, recorded=datetime(2026, 3, 1, tzinfo=UTC), what=Note())


@pytest.mark.parametrize(
    "at",
    [
        datetime(1990, 1, 1, tzinfo=UTC),
        datetime(1989, 12, 31, 12, tzinfo=WEST),
        datetime(2200, 12, 31, 23, 59, 59, tzinfo=UTC),
        datetime(2201, 1, 1, 13, 59, 59, tzinfo=EAST),
    ],
)
def test_an_instant_that_is_held_reads_back(at: datetime) -> None:
    """The years are those of UTC, in which an entry is kept: what is taken in can be read."""
    entry = noted(at)
    assert entry.at == at
    assert Entry.model_validate_json(entry.model_dump_json()) == entry


@pytest.mark.parametrize(
    "at",
    [
        datetime(1990, 1, 1, 13, 59, 59, tzinfo=EAST),
        datetime(2200, 12, 31, 12, tzinfo=WEST),
        datetime.min.replace(tzinfo=EAST),
        datetime.max.replace(tzinfo=WEST),
    ],
)
def test_an_instant_outside_is_refused(at: datetime) -> None:
    """An instant of another year is refused wherever its wall clock hangs, and however far off."""
    with pytest.raises(ValidationError, match="between 1990 and 2200"):
        noted(at)
