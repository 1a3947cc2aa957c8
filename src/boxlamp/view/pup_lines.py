"""One row per pup: the work at birth while the night lasts, the scale afterwards."""

from collections.abc import Iterator
from datetime import datetime, timedelta, tzinfo
from decimal import Decimal
from typing import NamedTuple

from boxlamp.engine import Verdict
from boxlamp.growth.latest import Latest, latest
from boxlamp.model.litter import Litter, Pup
from boxlamp.model.quantities import plain
from boxlamp.rules.not_breathing import limp_words
from boxlamp.rules.steps import missing_steps
from boxlamp.view.text import clean, clock_text
from boxlamp.view.weights_words import change_words

_NIGHT = timedelta(hours=24)


class PupLine(NamedTuple):
    """One pup's row."""

    number: int
    mark: str
    sex: str
    born: str
    weight: str
    state: str
    missing: tuple[str, ...]
    afterbirth: str
    since_birth: str
    """Growth since the first weight: ``+12.5 %``."""
    last_day: str
    """Gain over about the last day before the newest weight: ``+5.1 %``."""
    weighed: str
    """When the newest weight was taken."""


def grown(litter: Litter, now: datetime) -> bool:
    """Whether the last pup is older than a day and nothing but growing is left to do."""
    last = litter.last_birth
    return last is not None and now - last >= _NIGHT


def pup_lines(verdict: Verdict, zone: tzinfo) -> Iterator[PupLine]:
    """The pups in order of birth."""
    stands = latest(verdict)
    for pup in verdict.litter.in_order:
        yield _line(pup, verdict, stands.get(pup.number), zone)


def _line(pup: Pup, verdict: Verdict, stand: Latest | None, zone: tzinfo) -> PupLine:
    now, litter = verdict.at, verdict.litter
    return PupLine(
        number=pup.number,
        mark=clean(pup.mark or ""),
        sex=pup.sex or "",
        born=clock_text(pup.born, now, zone),
        weight=f"{plain(pup.weight)} g" if pup.weight is not None else "",
        state=_state(pup),
        missing=missing_steps(pup, now) if pup.alive else (),
        afterbirth=litter.afterbirth_of(pup.number).replace("-", " "),
        since_birth="" if stand is None or stand.at <= pup.born else _percent(stand.since_birth),
        last_day="" if stand is None or stand.day is None else _percent(stand.day.percent_per_day),
        weighed="" if stand is None else clock_text(stand.at, now, zone),
    )


def _state(pup: Pup) -> str:
    born: str = pup.state or ""
    if pup.state == "limp":
        born = "" if "breathing" in pup.steps else limp_words(pup.birth)
    state = "dead" if not pup.alive else ", ".join(pup.signs) or born
    if pup.alive and not pup.here:
        return "left home"
    return "" if state in {"alive", "well"} else state


def _percent(value: Decimal | float) -> str:
    return f"{change_words(value)} %"
