"""Invented records of any length, of several kinds, and a stopwatch, for the benchmarks."""

import statistics
import time
from collections.abc import Callable, Iterable
from datetime import UTC, datetime, timedelta
from itertools import chain, count, cycle, islice

from boxlamp.language import Context, read_line
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Ack, Amend, Birth, Finished, Strike, Temperature, Weight, What

START = datetime(2026, 3, 2, 20, 0, tzinfo=UTC)
LINES = ("push", "push weak", "rest", "temp 38.4", "discharge clear", "note she drinks", "waters")
PUPS = 12
WEEKS = timedelta(weeks=8)


def night(entries: int) -> list[Entry]:
    """A long labour: eight pups, then as many lines as asked for, 20 seconds apart."""
    lines = ["pup dog 312g"] * 8 + ["afterbirth"] * 5 + ["milk 1", "milk 2"]
    told: list[Entry] = []
    read: dict[str, What] = {}
    for number, line in enumerate(islice([*lines, *islice(cycle(LINES), entries)], entries), 1):
        at = START + timedelta(seconds=20 * number)
        if number >= 20 and line in read:
            told.append(_entry(number, at, read[line]))
            continue
        context = Context.of(told[:20], at, "UTC")
        told.append(read_line(line, context).draft.numbered(number, "ash", at))
        read[line] = told[-1].what
    return told


def weeks(entries: int) -> list[Entry]:
    """A litter of twelve and its eight weeks: weights that grow, now and then a temperature."""
    gap = WEEKS / max(1, entries)
    at = START
    told = _birth_night(entries)
    for number, turn in zip(range(len(told) + 1, entries + 1), count(), strict=False):
        at += gap
        pup = turn % PUPS + 1
        what: What
        if turn % 29 == 28:
            what = _warmth("dam", 38.2 + turn % 5 / 10)
        else:
            grams = (300 + 10 * pup) * (1 + (at - START) / timedelta(days=8)) - turn % 4
            what = Weight.model_validate({"pup": pup, "grams": f"{grams:.0f}"})
        told.append(_entry(number, max(at, told[-1].at), what))
    return told


def still(entries: int) -> list[Entry]:
    """Twelve pups on the scale over and over, 20 seconds apart, and hardly a gram gained."""
    told = _birth_night(entries)
    for number, turn in zip(range(len(told) + 1, entries + 1), count(), strict=False):
        grams = 300 + turn % 5
        weight = Weight.model_validate({"pup": turn % PUPS + 1, "grams": str(grams)})
        told.append(_entry(number, told[-1].at + timedelta(seconds=20), weight))
    return told


def corrected(entries: int) -> list[Entry]:
    """Much is measured, acknowledged, mended and struck: half a minute from line to line."""
    told = _birth_night(entries)
    for number, turn in zip(range(len(told) + 1, entries + 1), count(), strict=False):
        at = told[-1].recorded + timedelta(seconds=30)
        kind, place = divmod(turn % 10, 2)[0], turn // 10
        pup = place % PUPS + 1
        retimed = turn % 10 == 9
        what: What = (
            _warmth("dam", 38.0 + place % 20 / 10),
            _warmth("pup", 34.0 + place % 30 / 10, pup),
            Ack(),
            _warmth("box", 24.0 + place % 8),
            Amend(target=number - 3, retimed=True) if retimed else Strike(target=number - 2),
        )[kind]
        one = _entry(number, at, what)
        told.append(one.model_copy(update={"at": at - timedelta(minutes=4)}) if retimed else one)
    return told


Record = Callable[[int], list[Entry]]
"""Makes a record of so many entries."""

KINDS: dict[str, Record] = {
    "a long labour": night,
    "twelve pups, eight weeks": weeks,
    "weights without gain": still,
    "measured and corrected": corrected,
}
"""A record of so many entries, by what it is full of."""


def _birth_night(entries: int) -> list[Entry]:
    """The night in which the twelve were born."""
    births = (
        Birth.model_validate({"pup": pup + 1, "weight": 300 + 10 * pup, "state": "alive"})
        for pup in range(PUPS)
    )
    told: Iterable[What] = chain(births, (Finished(by="vet"),))
    return [
        _entry(number, START + timedelta(seconds=number), what)
        for number, what in enumerate(islice(told, entries), start=1)
    ]


def _warmth(where: str, celsius: float, pup: int | None = None) -> Temperature:
    return Temperature.model_validate({"where": where, "celsius": f"{celsius:.1f}", "pup": pup})


def _entry(number: int, at: datetime, what: What) -> Entry:
    whole = at.replace(microsecond=0)
    return Entry(id=number, litter="ash", at=whole, recorded=whole, what=what)


def litter_of(pups: int) -> list[Entry]:
    """An invented whelping of so many pups, half an hour apart, each cared for and weighed."""
    lines = ["waters clear", "push"]
    for number in range(1, pups + 1):
        lines += [f"pup {'dog' if number % 2 else 'bitch'} {300 + 7 * number}g head first", "push"]
        lines += [f"{step} {number}" for step in ("airway", "breathing", "cord", "dried", "milk")]
        lines += ["afterbirth", f"score {number} 2 2 1 2 2", f"weigh {number} {304 + 7 * number}g"]
    entries: list[Entry] = []
    for number, line in enumerate([*lines, "finished"], start=1):
        at = START + timedelta(minutes=3 * number)
        draft = read_line(line, Context.of(entries, at, "UTC")).draft
        entries.append(draft.numbered(number, "ash", at))
    return entries


def median(work: Callable[[], object], runs: int) -> float:
    """Median seconds of one call."""
    seen = []
    for _ in range(runs):
        begun = time.perf_counter()
        work()
        seen.append(time.perf_counter() - begun)
    return statistics.median(seen)
