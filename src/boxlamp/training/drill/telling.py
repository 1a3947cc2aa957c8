"""The night as it is told in a drill: its heading, and each stop, without anything later.

A stop shows what was typed and what the head of the board counts. It never shows alerts,
limits, reminders or deadlines, nor that somebody took notice of an alert. That the vet was rung
is shown from when it was typed, like any line.
"""

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta, tzinfo

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Amend, Details, Mating, Ovulation, Scan, Strike
from boxlamp.model.quantities import plain
from boxlamp.training.drill.asking import question_lines
from boxlamp.training.drill.facts import facts_lines
from boxlamp.training.drill.night import PastNight, is_notice
from boxlamp.training.drill.points import Stop
from boxlamp.view.text import clean, date_text
from boxlamp.view.words import typed_words

_LINES = 8
"""So many lines since the last stop are shown; `l` shows all of them."""
_ONE_NIGHT = timedelta(hours=20)
_DATED = (Mating, Ovulation, Scan)


def heading_lines(night: PastNight) -> Iterator[str]:
    """Who she is and what was known before the night began."""
    verdict = night.verdict(night.begins)
    details, litter = verdict.litter.details, verdict.litter
    facts = (
        details.dam or "A dam",
        details.breed,
        f"{plain(details.weight / 1000)} kg" if details.weight else None,
        f"{plain(details.age_years)} years" if details.age_years else None,
        {True: "her first litter", False: "not her first litter", None: None}[details.first_litter],
    )
    how = {"xray": "by x-ray", "scan": "by scan", "guess": "a guess"}
    count = f"{litter.expected} ({how.get(litter.expected_by or '', '')})"
    expected = count if litter.expected is not None else "not known"
    travel = details.travel_minutes
    away = f" The vet is {travel} min away." if travel is not None else ""
    yield ", ".join(clean(fact) for fact in facts if fact) + "."
    yield f"Pups expected: {expected}.{away}"
    dated = [entry for entry in night.typed(None, night.begins) if isinstance(entry.what, _DATED)]
    for entry in dated:
        day = date_text(entry.at.astimezone(night.zone).date(), year=True)
        yield f"{day}: {typed_words(entry)}"


def stop_lines(night: PastNight, stops: Sequence[Stop], place: int) -> Iterator[str]:
    """One stop: what was written since the last, the facts, the question."""
    stop = stops[place]
    before = stops[place - 1].known if place else None
    moment = _moment(stop.at, night.zone)
    yield ""
    yield f"---- {place + 1} of {len(stops)} ---- {moment} ----"
    told = [entry for entry in night.typed(before, stop.known) if is_told(entry, night)]
    if told or before is None:
        yield from _since(told, night)
    elif before != stop.known:
        yield "Nothing more has been written down."
    if before != stop.known or stop.kind == "level":
        yield from facts_lines(night, stop.known)
    yield ""
    yield from question_lines(night, stop)


def is_told(entry: Entry, night: PastNight) -> bool:
    """Whether a line is shown: not what the heading says, and no mere notice."""
    dated = entry.recorded <= night.begins and isinstance(entry.what, (*_DATED, Details))
    heading = entry.recorded < night.begins and entry.what.kind in {"expect", "kit", "limit"}
    return not (dated or heading or entry.certainty == "day" or is_notice(entry))


def story_lines(night: PastNight, until: datetime) -> Iterator[str]:
    """Everything written down by a second, one line each."""
    told = [entry for entry in night.typed(None, until) if is_told(entry, night)]
    yield from _listed(told, night)
    if not told:
        yield "Nothing has been written down yet."


def _since(told: Sequence[Entry], night: PastNight) -> Iterator[str]:
    """The lines typed since the last stop; of many the newest, and how many came before."""
    earlier = len(told) - _LINES
    if earlier > 0:
        yield f"  (and {earlier} before: `l` shows them)"
    yield from _listed(told[-_LINES:], night)


def _listed(told: Sequence[Entry], night: PastNight) -> Iterator[str]:
    times = [entry.at for entry in told]
    dated = bool(times) and max(times) - min(times) > _ONE_NIGHT
    yield from (f"  {_told(entry, night.zone, dated=dated)}" for entry in told)


def _told(entry: Entry, zone: tzinfo, *, dated: bool) -> str:
    """One line as it was typed, with its time; when it was typed later, that too."""
    time = _clock(entry.at, zone, dated=dated)
    late = entry.recorded != entry.at and entry.certainty != "day"
    typed = f" (typed {_clock(entry.recorded, zone)})" if late else ""
    about = "about " if entry.certainty == "estimated" else ""
    correction = isinstance(entry.what, Amend | Strike) and entry.text
    return f"{about}{time}  {clean(entry.text) if correction else typed_words(entry)}{typed}"


def _clock(at: datetime, zone: tzinfo, *, dated: bool = False) -> str:
    local = at.astimezone(zone)
    time = f"{local:%H:%M:%S}" if local.second else f"{local:%H:%M}"
    return f"{date_text(local.date())} {time}" if dated else time


def _moment(at: datetime, zone: tzinfo) -> str:
    """The time in a heading: hours and minutes, so that it says nothing of the rule behind it."""
    local = at.astimezone(zone)
    return f"{date_text(local.date())} {local:%H:%M}"
