"""Nights for the drill: every one there is to hand, and somebody who always answers alike."""

from collections.abc import Callable
from datetime import datetime
from functools import cache
from pathlib import Path

from boxlamp import outside
from boxlamp.desk.drills import past_night
from boxlamp.desk.files import read_record
from boxlamp.imagine import imagine
from boxlamp.training.drill.night import PastNight
from boxlamp.training.drill.points import Stop, stops_of
from boxlamp.training.drill.report import Report, report_of
from boxlamp.training.drill.sitting import Sitting, right_answer
from support.nights import CASES, DEFAULT, DEMO

SHIPPED = [str(path) for path in sorted(DEMO.glob("*.night"))]
PUBLISHED = [str(path) for path in sorted((CASES / "published").glob("*.night"))]
SEEDS = [f"seed {seed}" for seed in range(6)]
EVERY = [*SHIPPED, *PUBLISHED, *SEEDS]

Answerer = Callable[[PastNight, Stop], str]


@cache
def night_of(name: str) -> PastNight:
    """A night of a file, or an imagined one, worked out once for all tests."""
    if name.startswith("seed "):
        made = imagine(int(name.split()[1]))
        return PastNight(made.entries, outside.default_protocol(), made.ended)
    return past_night(read_record(name))


@cache
def stops_in(name: str) -> tuple[Stop, ...]:
    """Its stops."""
    return stops_of(night_of(name))


def shown(name: str) -> str:
    """What a test is called after."""
    return Path(name).stem


def sat(night: PastNight, stops: tuple[Stop, ...], answer: Answerer) -> Report:
    """The report after answering every stop."""
    sitting = Sitting(night, stops)
    for stop in stops:
        list(sitting.take(stop, answer(night, stop)))
    return report_of(sitting)


def always(level: str) -> Answerer:
    """One level at every stop; what to do and to type is right."""
    return lambda night, stop: level if stop.kind == "level" else right_answer(night, stop)


def cut_off(night: PastNight, at: datetime, keep: int | None = None) -> PastNight:
    """The same night as if nothing had been typed after a second, but for one entry."""
    kept = [one for one in night.entries if one.recorded <= at or one.id == keep]
    return PastNight(kept, DEFAULT, night.end)
