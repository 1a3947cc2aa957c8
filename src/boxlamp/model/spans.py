"""Lengths of time in words a tired person can read."""

from datetime import timedelta

_A_MOMENT = 5
_MINUTE, _HOUR, _DAY = 60, 3600, 86400


def in_words(span: timedelta) -> str:
    """``a moment``, ``45 s``, ``12 min``, ``2 h 05 min``, ``3 d 4 h``: cut, never rounded up."""
    seconds = max(0, int(span.total_seconds()))
    minutes, odd_seconds = divmod(seconds, _MINUTE)
    hours, odd_minutes = divmod(minutes, 60)
    days, odd_hours = divmod(hours, 24)
    if seconds < _A_MOMENT:
        return "a moment"
    if seconds < _MINUTE:
        return f"{seconds} s"
    if seconds < 2 * _MINUTE and odd_seconds:
        return f"{minutes} min {odd_seconds:02d} s"
    if seconds < _HOUR:
        return f"{minutes} min"
    if seconds < 3 * _DAY:
        return f"{hours} h {odd_minutes:02d} min"
    return f"{days} d {odd_hours} h" if odd_hours else f"{days} d"


def lasting(span: timedelta) -> str:
    """For how long something has been so: ``for 12 min``; in its first seconds ``since just now``.

    "For a moment" would say that it is over again.
    """
    return "since just now" if _just_now(span) else f"for {in_words(span)}"


def ago(span: timedelta) -> str:
    """How long ago something was: ``12 min ago``; in its first seconds ``just now``."""
    return "just now" if _just_now(span) else f"{in_words(span)} ago"


def _just_now(span: timedelta) -> bool:
    return span.total_seconds() < _A_MOMENT


def in_short(span: timedelta) -> str:
    """The same for a table with little room: ``45 s``, ``12 min``, ``2h05``, ``3d04h``."""
    minutes, seconds = divmod(max(0, int(span.total_seconds())), _MINUTE)
    hours, odd_minutes = divmod(minutes, 60)
    days, odd_hours = divmod(hours, 24)
    if not minutes:
        return f"{seconds} s"
    if not hours:
        return f"{minutes} min"
    return f"{days}d{odd_hours:02d}h" if days else f"{hours}h{odd_minutes:02d}"
