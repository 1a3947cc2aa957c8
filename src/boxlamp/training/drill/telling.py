"""The night as it is told in a drill: its heading, and each stop, without anything later.

A stop shows what was typed and what the head of the board counts. It never shows alerts,
limits, reminders or deadlines, nor what somebody else decided: acknowledging, ringing the vet
and leaving are told at the end.
"""

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta, tzinfo

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Amend, Details, Mating, Ovulation, Scan, Strike
from boxlamp.model.quantities import plain
from boxlamp.training.drill.asking import question_lines
from boxlamp.training.drill.night import PastNight, is_decision
from boxlamp.training.drill.points import Stop
from boxlamp.view.board import Board, board, typed_words
from boxlamp.view.text import clean, date_text, wrap

WIDTH = 78
_LINES = 7
"""So many lines of the night are set one below the other; earlier ones run on."""
_PUPS = 4
_ONE_NIGHT = timedelta(hours=20)
_PRESSING = frozenset(("sac open", "breathing", "first milk"))
"""The steps with a newborn pup that cannot wait till morning."""
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
    yield from _wrapped(", ".join(clean(fact) for fact in facts if fact) + ".")
    yield from _wrapped(f"Pups expected: {expected}.{away}")
    dated = [entry for entry in night.typed(None, night.begins) if isinstance(entry.what, _DATED)]
    for entry in dated:
        day = date_text(entry.at.astimezone(night.zone).date(), year=True)
        yield from _wrapped(f"{day}: {typed_words(entry)}")


def stop_lines(night: PastNight, stops: Sequence[Stop], place: int) -> Iterator[str]:
    """One stop: what was written since the last, the facts, the question."""
    stop = stops[place]
    before = stops[place - 1].known if place else None
    moment = _moment(stop.at, night.zone)
    left = f"-- {place + 1} of {len(stops)} "
    yield ""
    yield f"{left}{'-' * (WIDTH - len(left) - len(moment) - 4)} {moment} --"
    told = [entry for entry in night.typed(before, stop.known) if is_told(entry, night)]
    if told or before is None:
        yield from _since(told, night)
    elif before != stop.known:
        yield "Nothing more has been written down."
    if before != stop.known or stop.kind == "level":
        yield from facts_lines(night, stop.known if stop.kind == "line" else stop.at)
    yield ""
    yield from question_lines(night, stop)


def is_told(entry: Entry, night: PastNight) -> bool:
    """Whether a line is shown: not what the heading says, and not what was decided."""
    dated = entry.recorded <= night.begins and isinstance(entry.what, (*_DATED, Details))
    heading = entry.recorded < night.begins and entry.what.kind in {"expect", "kit", "limit"}
    return not (dated or heading or entry.certainty == "day" or is_decision(entry))


def facts_lines(night: PastNight, at: datetime) -> Iterator[str]:
    """What the head of the board counts, and what is not yet written down of the pups."""
    # A line that is not shown must not be counted either: "last entry 2 min ago".
    seen = [entry for entry in night.typed(None, at) if not is_decision(entry)]
    shown = board(night.verdict(at), seen, night.zone)
    yield ""
    tally = ", ".join(word.partition(",")[0] for word in shown.tally).capitalize()
    yield from _wrapped(f"{shown.dam}: {shown.phase}. {tally}.")
    if shown.since:
        yield from _wrapped(f"{', '.join(shown.since).capitalize()}.")
    owed = shown.owed if shown.owed.startswith("afterbirth") else ""
    if owed:
        yield from _wrapped(f"{owed.capitalize()}.")
    yield from _pups(shown)


def _pups(shown: Board) -> Iterator[str]:
    """The newest pups of which something is to be said."""
    if shown.grown:
        return
    told = [
        pup
        for pup in shown.pups
        if pup.state not in {"", "dead"} or not _PRESSING.isdisjoint(pup.missing)
    ]
    for pup in told[-_PUPS:]:
        name = f"Pup {pup.number}{f' ({pup.mark})' if pup.mark else ''}"
        steps = ", ".join(step for step in pup.missing if step in _PRESSING)
        missing = f"not written down yet: {steps}" if steps else ""
        yield from _wrapped(f"{name}: {'; '.join(filter(None, (pup.state, missing)))}.")


def _since(told: Sequence[Entry], night: PastNight) -> Iterator[str]:
    """The lines typed since the last stop; of many the earlier ones run on, none is left out."""
    zone = night.zone
    times = [entry.at for entry in told]
    dated = bool(times) and max(times) - min(times) > _ONE_NIGHT
    earlier, latest = told[:-_LINES], told[-_LINES:]
    if earlier:
        yield from wrap("; ".join(_told(entry, zone, dated=dated) for entry in earlier), WIDTH)
    for entry in latest:
        first, *rest = wrap(_told(entry, zone, dated=dated), WIDTH - 2)
        yield f"  {first}"
        yield from (f"         {line}" for line in rest)


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
    return _clock(at, zone, dated=True)


def _wrapped(text: str) -> Iterator[str]:
    yield from wrap(text, WIDTH)
