"""The charts of the weight table: the litter in per cent of first weights, one pup in grams."""

from collections.abc import Iterator
from datetime import timedelta

from boxlamp.growth.curve import LAST_DAY, most
from boxlamp.growth.table import PupGrowth, WeightTable
from boxlamp.view.chart import (
    FINE_STROKES,
    PLAIN_STROKES,
    SEVERAL,
    Reference,
    Series,
    Strokes,
    chart,
)
from boxlamp.view.layout import FINE, Glyphs, Line
from boxlamp.view.text import clean, wrap
from boxlamp.view.weights_words import symbol

HEIGHT = 16
_DAY = timedelta(days=1)
_POINT = "o"
_ONE_WEIGHT = "A chart needs a second weighing."
_CURVE = "is a published curve of greatest growth (Alves 2020): no pup has to reach it."


def litter_chart(table: WeightTable, width: int, glyphs: Glyphs = FINE) -> Iterator[Line]:
    """All pups in per cent of their first weight over their days of age."""
    drawn = [pup for pup in table.pups if pup.weighings]
    if not any(len(pup.weighings) > 1 for pup in drawn):
        yield from _said(_ONE_WEIGHT if drawn else "", width)
        return
    strokes = _strokes(glyphs)
    with_curve = any(pup.birth is not None for pup in drawn)
    reference = Reference(lambda days: 100 * most(days), LAST_DAY) if with_curve else None
    series = [_percent(pup) for pup in drawn]
    yield from _said("Weight in % of the first weight, by days of age", width)
    yield from chart(series, reference, (width, HEIGHT), strokes)
    yield from _said(_legend(drawn, strokes, with_curve=with_curve), width)


def pup_chart(pup: PupGrowth, width: int, glyphs: Glyphs = FINE) -> Iterator[Line]:
    """One pup in grams over its days of age."""
    if len(pup.weighings) < 2:  # noqa: PLR2004 - one point is no chart
        yield from _said(_ONE_WEIGHT if pup.weighings else "", width)
        return
    strokes = _strokes(glyphs)
    birth = pup.birth
    reference = Reference(lambda days: float(birth) * most(days), LAST_DAY) if birth else None
    points = tuple((pup.age_at(one.at) / _DAY, float(one.grams)) for one in pup.weighings)
    yield from _said("Weight in g, by days of age", width)
    yield from chart([Series(_POINT, points)], reference, (width, HEIGHT), strokes)
    if birth is not None:
        yield from _said(f"{strokes.dot * 3} {_CURVE}", width)


def _strokes(glyphs: Glyphs) -> Strokes:
    return FINE_STROKES if glyphs == FINE else PLAIN_STROKES


def _percent(pup: PupGrowth) -> Series:
    points = ((pup.age_at(one.at) / _DAY, 100 + float(pup.growth_at(one))) for one in pup.weighings)
    return Series(symbol(pup), tuple(points))


def _legend(drawn: list[PupGrowth], strokes: Strokes, *, with_curve: bool) -> str:
    named = [_named(pup) for pup in drawn]
    curve = f"{strokes.dot * 3} {_CURVE}" if with_curve else ""
    return f"{', '.join(named)}; {SEVERAL} several pups. {curve}"


def _named(pup: PupGrowth) -> str:
    """What a sign in the chart stands for: ``3 white``, ``pup 3``, ``A = pup 10 white``."""
    sign, number, mark = symbol(pup), str(pup.number), clean(pup.pup.mark or "")
    if sign != number:
        return f"{sign} = pup {number} {mark}".rstrip()
    return f"{sign} {mark}" if mark else f"pup {number}"


def _said(words: str, width: int) -> Iterator[Line]:
    return ([("dim", line)] for line in wrap(words, width) if line)
