"""What the weight rules say now, in the short words of a table cell."""

from decimal import ROUND_DOWN, Decimal
from typing import NamedTuple

from boxlamp.engine import Alert, Verdict
from boxlamp.growth.latest import Latest
from boxlamp.model.levels import Level, pup_subject
from boxlamp.model.quantities import plain

_OF_A_PUP = {
    "birth-weight": "light at birth",
    "weight-loss": "lost weight",
    "weight-stalled": "no gain",
    "weight-slow": "slow gain",
    "not-doubled": "not doubled",
}
_OF_THE_LITTER = "litter-slow"


class Standing(NamedTuple):
    """One alert about weight: its level, its rule, and a word or two."""

    level: Level
    rule: str
    words: str
    message: str
    """The rule's whole sentence."""


def pup_stands(verdict: Verdict, pup: int, latest: Latest | None) -> tuple[Standing, ...]:
    """The weight alerts that stand for one pup, the worst first."""
    return tuple(
        Standing(alert.level, alert.rule.id, _short(alert, latest), alert.message)
        for alert in verdict.alerts
        if alert.subject == pup_subject(pup) and alert.rule.id in _OF_A_PUP
    )


def litter_stands(verdict: Verdict) -> tuple[Standing, ...]:
    """The weight alerts that stand for the litter as a whole."""
    return tuple(
        Standing(alert.level, alert.rule.id, alert.rule.title, alert.message)
        for alert in verdict.alerts
        if alert.rule.id == _OF_THE_LITTER
    )


def _short(alert: Alert, latest: Latest | None) -> str:
    lost = latest is not None and latest.since_birth < 0
    if alert.rule.id == "weight-loss" and latest is not None and lost:
        lost_percent = (-latest.since_birth).quantize(Decimal("0.1"), rounding=ROUND_DOWN)
        return f"lost {plain(lost_percent)} %"
    if alert.rule.id == "birth-weight" and alert.level >= Level.CALL:
        return "very light at birth"
    return _OF_A_PUP[alert.rule.id]
