"""From a time as typed to an instant: the nearest past, or the next in a night file.

All comparing and counting is done on UTC instants, so that a clock change adds or takes nothing.
"""

from dataclasses import replace
from datetime import date, datetime, time, timedelta, tzinfo
from typing import NamedTuple

from boxlamp.language import sentences
from boxlamp.language.clock import Spoken
from boxlamp.language.context import Context, Doubt, NotUnderstood
from boxlamp.language.zones import (
    DAY,
    as_if_unchanged,
    comes_twice,
    instants,
    wall_of,
)
from boxlamp.model.entry import Certainty, whole_utc_second
from boxlamp.model.happenings import Details, Note
from boxlamp.model.spans import in_words
from boxlamp.model.zones import zone_named

LONG_AGO = timedelta(hours=12)
"""Further back than this a time is questioned, unless its whole date was typed."""

_APART = timedelta(days=100)
"""Longer than a litter is carried and longer than one is nursed (our choice): so far from every
other line a whole date is questioned too."""
_NOON = time(12)
_MINUTE = timedelta(minutes=1)


class Moment(NamedTuple):
    """When a line happened, how surely, and what should be asked about it."""

    at: datetime
    certainty: Certainty = "seen"
    doubts: tuple[Doubt, ...] = ()


def resolve(spoken: Spoken | None, context: Context) -> Moment:
    """The moment a typed time means here and now."""
    if context.after is not None:
        return _in_a_night(spoken, context.after, context)
    now = whole_utc_second(context.now)
    if spoken is None:
        return Moment(now)
    zone = zone_named(context.zone)
    if spoken.day_only:
        moment = _on_a_day(spoken, now, zone)
        return moment._replace(doubts=moment.doubts + _far_from_all(moment.at, spoken, context))
    at, doubts = max((_past(one, now, zone) for one in _halves(spoken)), key=lambda one: one[0])
    doubts += _far_from_now(at, now, spoken, zone) + _far_from_all(at, spoken, context)
    return Moment(at, "estimated" if spoken.estimated else "seen", doubts)


def resolve_near(spoken: Spoken, near: datetime, context: Context) -> Moment:
    """A corrected time: a bare clock time means the one nearest to the time it corrects."""
    if spoken.day is not None or spoken.back is not None or spoken.clock is None:
        return resolve(spoken, context if context.after is None else _open_ended(context))
    if spoken.either_half:
        both = (resolve_near(one, near, context) for one in _halves(spoken))
        return min(both, key=lambda moment: abs(moment.at - near))
    zone = zone_named(context.zone)
    latest = near + DAY if context.after is not None else whole_utc_second(context.now)
    there = wall_of(near, zone)
    walls = [datetime.combine(there.date() + days * DAY, spoken.clock) for days in (-1, 0, 1)]
    past = [wall for wall in walls if as_if_unchanged(wall, zone) <= latest] or walls[:1]
    wall = min(past, key=lambda one: abs(one - there))
    at, doubts = _on_wall(wall, latest, zone)
    found = instants(wall, zone)
    if len(found) > 1:
        at, doubts = min(found, key=lambda one: abs(one - near)), ()
    if context.after is None and abs(at - near) > LONG_AGO:
        # Nearest means near: a time a few minutes ahead must not turn into yesterday's unasked.
        asked = _far_from_now(at, latest, spoken, zone)
        doubts = doubts or tuple(doubt._replace(code="far") for doubt in asked)
    return Moment(at, "estimated" if spoken.estimated else "seen", doubts)


def _open_ended(context: Context) -> Context:
    return replace(context, after=context.now)


def _day(spoken: Spoken, now: datetime, zone: tzinfo) -> date | None:
    today = wall_of(now, zone).date()
    if spoken.day == "today":
        return today
    if spoken.day == "yesterday":
        return today - DAY
    return spoken.day


def _on_a_day(spoken: Spoken, now: datetime, zone: tzinfo) -> Moment:
    """Noon of a day; of today, no later than now, so that the entry already counts."""
    day = _day(spoken, now, zone) or wall_of(now, zone).date()
    noon = _one_of(datetime.combine(day, _NOON), zone)
    if noon <= now or day == wall_of(now, zone).date():
        return Moment(min(noon, now), "day")
    doubt = Doubt("future", sentences.FUTURE_DAY.format(day), sentences.FUTURE_DAY_FIX)
    return Moment(noon, "day", (doubt,))


def _one_of(wall: datetime, zone: tzinfo) -> datetime:
    found = instants(wall, zone)
    return found[0] if found else as_if_unchanged(wall, zone)


def _past(spoken: Spoken, now: datetime, zone: tzinfo) -> tuple[datetime, tuple[Doubt, ...]]:
    if spoken.instant is not None:
        return spoken.instant, ()
    if spoken.back is not None:
        return now - spoken.back, ()
    clock = spoken.clock or _NOON
    day = _day(spoken, now, zone)
    if day is not None:
        return _on_wall(datetime.combine(day, clock), now, zone)
    today = wall_of(now, zone).date()
    for days in (0, 1, 2):
        wall = datetime.combine(today - days * DAY, clock)
        at, doubts = _on_wall(wall, now, zone)
        if _counts_as_now(at, now):
            return now, doubts
        if at <= now:
            return at, doubts
    return now, ()  # pragma: no cover - some clock time of the last two days is always past


def _halves(spoken: Spoken) -> tuple[Spoken, ...]:
    """The two clock times that ``half past 1`` may be; of any other the one that it is."""
    clock = spoken.clock
    if clock is None or not spoken.either_half:
        return (spoken,)
    once = spoken._replace(either_half=False)
    return once, once._replace(clock=clock.replace(hour=(clock.hour + 12) % 24))


def _counts_as_now(at: datetime, now: datetime) -> bool:
    """A kitchen clock a few seconds ahead within the same minute shows now."""
    return now < at < now + _MINUTE and at.replace(second=0) == now.replace(second=0)


def _on_wall(wall: datetime, now: datetime, zone: tzinfo) -> tuple[datetime, tuple[Doubt, ...]]:
    """The latest past instant at which the clock showed this, with what should be asked."""
    found = instants(wall, zone)
    shown = wall.strftime("%H:%M")
    if not found:
        at = as_if_unchanged(wall, zone)
        doubt = Doubt(
            "nonexistent-clock",
            sentences.SKIPPED_HOUR.format(shown),
            sentences.SKIPPED_HOUR_FIX.format(wall_of(at, zone).strftime("%Y-%m-%d %H:%M")),
        )
        return at, (doubt,)
    past = [instant for instant in found if instant <= now]
    if len(past) > 1:
        first, second = (instant.astimezone(zone).isoformat() for instant in past)
        fix = sentences.REPEATED_HOUR_FIX.format(first, second)
        doubt = Doubt("ambiguous-clock", sentences.REPEATED_HOUR.format(shown), fix)
        return past[-1], (doubt,)
    return (past or found)[-1 if past else 0], ()


def _far_from_now(at: datetime, now: datetime, spoken: Spoken, zone: tzinfo) -> tuple[Doubt, ...]:
    whole = wall_of(at, zone).strftime("%Y-%m-%d %H:%M")
    if at > now:
        sentence = sentences.FUTURE.format(spoken.text, in_words(at - now))
        return (Doubt("future", sentence, sentences.FUTURE_FIX.format(whole)),)
    # Of a time of either half of the day the nearer one may just as well be still to come.
    long_ago = LONG_AGO / 2 if spoken.either_half else LONG_AGO
    if now - at <= long_ago or (spoken.day is not None and not isinstance(spoken.day, str)):
        return ()
    ago = in_words(now - at)
    if spoken.clock is not None and spoken.day is None:
        shown = wall_of(now, zone).strftime("%H:%M:%S")
        sentence = sentences.OLD_CLOCK.format(spoken.text, shown, ago)
    else:
        sentence = sentences.OLD.format(spoken.text, ago)
    return (Doubt("old", sentence, sentences.OLD_FIX.format(whole)),)


def _far_from_all(at: datetime, spoken: Spoken, context: Context) -> tuple[Doubt, ...]:
    """Ask about a whole date long before all that the litter holds: a slip in the year or month.

    What is only known of the dam, and words nobody acts on, tell nothing of when the litter is.
    """
    if context.entries is None or spoken.day is None or isinstance(spoken.day, str):
        return ()
    known = context.entries.values() if context.current is None else context.current.values()
    near = [entry.at for entry in known if not isinstance(entry.what, Details | Note)]
    if at > context.now or any(abs(at - moment) <= _APART for moment in (context.now, *near)):
        return ()
    ago = in_words(timedelta(days=(context.now - at).days))
    return (Doubt("far-day", sentences.OLD.format(spoken.text, ago), sentences.FAR_DAY_FIX),)


def _in_a_night(spoken: Spoken | None, after: datetime, context: Context) -> Moment:
    """In a night file: the first such time not before the line above; no time means with it."""
    if spoken is None:
        return Moment(after)
    if spoken.back is not None or isinstance(spoken.day, str) or spoken.either_half:
        raise NotUnderstood(sentences.NO_NOW_IN_A_FILE.format(spoken.text), "02:14 waters")
    zone = zone_named(context.zone)
    if spoken.day_only:
        day = spoken.day or after.date()
        return Moment(_one_of(datetime.combine(day, _NOON), zone), "day")
    certainty: Certainty = "estimated" if spoken.estimated else "seen"
    if spoken.instant is not None:
        return Moment(spoken.instant, certainty)
    clock = spoken.clock or _NOON
    if spoken.day is not None:
        found = instants(datetime.combine(spoken.day, clock), zone)
        if not found:
            raise NotUnderstood(sentences.SKIPPED_HOUR.format(spoken.text))
        return Moment(next((one for one in found if one >= after), found[0]), certainty)
    return Moment(_next(clock, after, zone, spoken), certainty)


def _next(clock: time, after: datetime, zone: tzinfo, spoken: Spoken) -> datetime:
    # 02:14 typed below 02:14:30 is the same minute, not the next day.
    floor = after if spoken.to_the_second else after.replace(second=0)
    start = wall_of(after, zone).date()
    for days in range(3):
        wall = datetime.combine(start + days * DAY, clock)
        found = instants(wall, zone)
        if not found and as_if_unchanged(wall, zone) >= floor:
            raise NotUnderstood(sentences.SKIPPED_HOUR.format(spoken.text))
        for instant in found:
            if instant >= floor:
                return instant
    # Three days show every clock time at least once; a skipped one is refused above.
    raise NotUnderstood(sentences.NO_SUCH_CLOCK.format(spoken.text))  # pragma: no cover


def shown(at: datetime, certainty: Certainty, context: Context) -> str:
    """A moment in words, for the echo: the day is said only when it is not today."""
    zone = zone_named(context.zone)
    wall, today = wall_of(at, zone), wall_of(context.now, zone).date()
    days = (today - wall.date()).days
    day = {0: "", 1: "yesterday"}.get(days, wall.strftime("%Y-%m-%d"))
    if certainty == "day":
        return day or "today"
    text = wall.strftime("%H:%M:%S" if wall.second else "%H:%M")
    if comes_twice(at, zone):
        text += f" {at.astimezone(zone).tzname()}"
    about = "about" if certainty == "estimated" else ""
    return " ".join(filter(None, (about, day, text)))
