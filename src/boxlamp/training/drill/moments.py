"""The very minute of a stop: a little before a limit, a little after it, and a second time."""

from collections.abc import Iterable
from datetime import datetime, timedelta
from zlib import crc32

from boxlamp.training.drill.night import Choice, PastNight
from boxlamp.training.drill.rises import Rise

_MINUTE, _HOUR = timedelta(minutes=1), timedelta(hours=1)
_LEAD = (2, 3, 4, 5, 6)
"""Minutes before a limit; here and below our choice. A limit of days takes hours instead."""
_LAG, _LAG_OF_DAYS = (2, 3), (3, 4, 5, 6, 7, 8, 9, 2, 1)
_LATER, _LATER_OF_DAYS = (10, 12, 14, 16, 18, 20), (4, 6, 8, 10)


def before(night: PastNight, rise: Rise) -> datetime | None:
    """A few minutes before a limit, on a clock that already runs; less is right there."""
    lead = _turned(_LEAD, rise)[0] * (_HOUR if rise.slow else _MINUTE)
    at = whole(rise.at - min(lead, (rise.at - rise.since) / 3))
    good = rise.since < at < rise.at and night.asks(at)
    return at if good and night.right(at) < rise.level else None


def after(night: PastNight, rise: Rise) -> datetime | None:
    """Two to four minutes after a limit, or halfway to its end where that is sooner."""
    unit, lags = (_HOUR, _LAG_OF_DAYS) if rise.slow else (_MINUTE, _LAG)
    exact = rise.at + (rise.until - rise.at) / 2
    found = [_up(rise.at + lag * unit) for lag in _turned(lags, rise)]
    halfway = whole(exact), exact.replace(microsecond=0)
    return _first_that_stands(night, rise, [*found, *halfway])


def again(night: PastNight, rise: Rise, first: datetime) -> datetime | None:
    """Some time after the first stop, where the same level still stands."""
    unit, later = (_HOUR, _LATER_OF_DAYS) if rise.slow else (_MINUTE, _LATER)
    found = (whole(first + lag * unit) for lag in _turned(later, rise))
    return _first_that_stands(night, rise, found)


def whole(at: datetime) -> datetime:
    """The minute it lies in, for a person looks at a clock of minutes."""
    return at.replace(second=0, microsecond=0)


def _up(at: datetime) -> datetime:
    down = whole(at)
    return down if down == at else down + _MINUTE


def _first_that_stands(
    night: PastNight, rise: Rise, moments: Iterable[datetime]
) -> datetime | None:
    """The first moment at which this level is asked for, no less and no more."""
    return next(
        (
            at
            for at in moments
            if rise.at < at < rise.until
            and night.asks(at)
            and night.right(at) == Choice(rise.level)
        ),
        None,
    )


def _turned(numbers: tuple[int, ...], rise: Rise) -> tuple[int, ...]:
    """The same, beginning at one that looks like chance and is always alike for the same rise."""
    place = crc32(f"{rise.rule.id} {rise.at}".encode()) % len(numbers)
    return (*numbers[place:], *numbers[:place])
