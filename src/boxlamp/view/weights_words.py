"""Weights in words and figures, the same on every form of the weight table."""

from collections.abc import Iterator
from datetime import tzinfo
from decimal import ROUND_DOWN, ROUND_HALF_UP, Decimal

from boxlamp.growth.latest import Gain
from boxlamp.growth.stands import Standing
from boxlamp.growth.table import PupGrowth, WeightTable
from boxlamp.model.levels import Level
from boxlamp.model.quantities import rounded
from boxlamp.view.reminders import reminder_lines
from boxlamp.view.text import clean, day_text

ROLES = {Level.WATCH: "watch", Level.CALL: "call", Level.GO: "go"}

_WEIGHING_DUE = "weighing-due"
_TOO_LONG = 10_000
_EXACT = "0.000001"
"""What a root leaves behind the sixth place is no part of a gain."""

_SYMBOLS = "123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz"


def dam_words(table: WeightTable) -> str:
    """The dam's name."""
    return clean(table.verdict.litter.details.dam or "The dam")


def grams_words(grams: Decimal | None) -> str:
    """A weight in whole grams; nothing for none."""
    return "" if grams is None else f"{rounded(grams, '1'):f}"


def change_words(change: Decimal | float) -> str:
    """A change with its sign, to one place: ``+5.4``. Cut: a loss of 3.96 is not yet one of 4."""
    exact = rounded(Decimal(change), _EXACT) if abs(float(change)) < _TOO_LONG else change
    return _signed(exact, "0.1", ROUND_DOWN)


def gram_change_words(change: Decimal | float) -> str:
    """A change in whole grams with its sign: ``+19``."""
    return _signed(change, "1", ROUND_HALF_UP)


def _signed(change: Decimal | float, step: str, rounding: str) -> str:
    if abs(float(change)) >= _TOO_LONG:  # a slip of the pen: it must not push the columns apart
        return f"{change:+.0e}"
    found = Decimal(change).quantize(Decimal(step), rounding=rounding)
    return f"{found:+f}" if found else f"{abs(found):f}"


def since_words(pup: PupGrowth) -> str:
    """Growth since birth in per cent; a star when it is counted from a late first weight."""
    if pup.latest is None or len(pup.weighings) == 1:
        return ""
    return change_words(pup.latest.since_birth) + ("*" if pup.latest.late else "")


def pace_words(pace: Gain | None) -> tuple[str, str]:
    """What a pup puts on in a day, in grams and in per cent."""
    if pace is None:
        return "", ""
    return gram_change_words(pace.grams_per_day), change_words(pace.percent_per_day)


def standing_words(one: Standing) -> str:
    """``!! call: lost 10 %``."""
    return f"{one.level.mark} {one.level.word}: {one.words}"


def state_words(pup: PupGrowth, zone: tzinfo) -> str:
    """What became of a pup that is not weighed any more, or that it never was."""
    if pup.pup.state == "dead":
        return "born dead"
    if pup.gone is not None:
        return f"{'died' if not pup.pup.alive else 'left home'} {day_text(pup.gone, zone)}"
    return "" if pup.weighings else "not weighed yet"


def stands_of(pup: PupGrowth) -> list[tuple[str, str]]:
    """What stands of one pup, each with its role, the worst first."""
    return [(ROLES[one.level], standing_words(one)) for one in pup.stands]


def due_words(table: WeightTable) -> Iterator[str]:
    """The weighings that are due, as reminders."""
    due = tuple(one for one in table.verdict.prompts if one.rule.id == _WEIGHING_DUE)
    return reminder_lines(table.verdict._replace(prompts=due))


def symbol(pup: PupGrowth) -> str:
    """The sign of a pup in a chart: its number, a letter from 10 on."""
    place = pup.number - 1
    return _SYMBOLS[place] if place < len(_SYMBOLS) else "*"
