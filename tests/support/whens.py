"""Every way to write when something happened, with the instant that it means."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from typing import NamedTuple
from zoneinfo import ZoneInfo

DAY = timedelta(days=1)


class When(NamedTuple):
    """A time as typed, before the words or behind them, and the instant it stands for."""

    before: str
    at: datetime
    behind: str = ""

    def line(self, words: str) -> str:
        """The whole line."""
        return " ".join(filter(None, (self.before, words, self.behind)))


def comes_once(at: datetime, zone: ZoneInfo) -> bool:
    """Whether the clock on the wall shows this moment only once."""
    wall = at.astimezone(zone).replace(tzinfo=None)
    return len({wall.replace(tzinfo=zone, fold=fold).astimezone(UTC) for fold in (0, 1)}) == 1


def whens(at: datetime, now: datetime, zone: ZoneInfo) -> Iterator[When]:
    """All forms that can say ``at``, or the minute it lies in, when it is ``now``."""
    if at == now:
        yield from (When("", now), When("now", now), When("just now", now))
    yield from _spans(now - at, at)
    yield from _whole(at, zone)
    if comes_once(at, zone) and now - at < DAY / 2:
        yield from _clocks(at, now, zone)


def _spans(back: timedelta, at: datetime) -> Iterator[When]:
    minutes, seconds = divmod(int(back.total_seconds()), 60)
    hours, left = divmod(minutes, 60)
    spoken = {30: "half an hour", 60: "an hour", 1: "a minute"}
    if minutes < 160:
        yield When(f"-{minutes * 60 + seconds}s", at)
    if seconds:
        yield When(f"-{minutes}m{seconds}s", at)
        return
    for text in (f"-{minutes}m", f"-{minutes}", f"\u2212{minutes} min", f"-{hours}h{left:02}m"):
        yield When(text, at)
    for text in (f"{minutes} min ago", f"{minutes} minutes ago", f"{hours} h {left} min ago"):
        yield When(text, at)
    yield When("", at, f"{minutes} min ago")
    yield When("", at, f"-{minutes}m")
    if minutes in spoken:
        yield from (When(f"{spoken[minutes]} ago", at), When("", at, f"{spoken[minutes]} ago"))


def _whole(at: datetime, zone: ZoneInfo) -> Iterator[When]:
    local = at.astimezone(zone)
    for text in (at.isoformat().replace("+00:00", "Z"), local.isoformat(), local.isoformat(" ")):
        yield When(text, at)


def _clocks(at: datetime, now: datetime, zone: ZoneInfo) -> Iterator[When]:
    local, today = at.astimezone(zone), now.astimezone(zone).date()
    minute = at.replace(second=0)
    half, hour = "am" if local.hour < 12 else "pm", (local.hour + 11) % 12 + 1
    clock = f"{local:%H:%M}"
    for text in (
        clock, f"{local.hour}:{local:%M}", f"{local:%H%M}", f"{hour}:{local:%M}{half}",
        f"{hour}:{local:%M} {half}", f"{local:%Y-%m-%d} {clock}", f"{local:%Y-%m-%dT%H:%M}",
        f"{local.day} {local:%B %Y} {clock}", f"{clock},", f"{clock} -",
    ):  # fmt: skip
        yield When(text, minute)
    yield When(f"{local:%H:%M:%S}", at)
    yield from (When("", minute, text) for text in (f"at {clock}", f"@ {clock}", clock))
    if local.date() == today:
        yield When(f"today {clock}", minute)
    elif local.date() == today - DAY:
        yield from (When(f"yesterday {clock}", minute), When("", minute, f"yesterday {clock}"))
