"""Milk for pups fed by hand and food for the dam, as lines: ranges with their sources."""

from collections.abc import Iterator
from datetime import tzinfo

from boxlamp.growth import dam_energy
from boxlamp.growth import milk as milk_tables
from boxlamp.growth.cited import Cited
from boxlamp.growth.feeding import WEEKS, Feeding, PupMilk
from boxlamp.growth.milk import whole
from boxlamp.model.quantities import plain, rounded
from boxlamp.rules.feeding import FEED_FROM, WARM_FIRST
from boxlamp.view.layout import FINE, Glyphs, Line
from boxlamp.view.text import clean, clock_text, counted, fit, width_of, wrap

_VET = "The sources differ. Ask the vet which to follow; a pup that does not thrive is for the vet."
_CELL = 7
_TITLES = ("by her weight and pups", "maintenance x 1.5, 2, 3", "maintenance and 1/4 a pup")


def feeding_lines(
    feeding: Feeding, width: int, zone: tzinfo, glyphs: Glyphs = FINE
) -> Iterator[Line]:
    """Both tables for this litter today, with what they rest on."""
    yield [("name", "Milk, only for pups that must be fed by hand")]
    yield [("dim", glyphs.rule * width)]
    yield from _milk(feeding, width, zone)
    yield []
    yield [("name", "Food for the nursing dam, kcal a day")]
    yield [("dim", glyphs.rule * width)]
    yield from _energy(feeding, width)
    yield []
    yield from _said("text", _VET, width)
    for cited in (*milk_tables.SOURCES, *dam_energy.SOURCES):
        yield from _cited(cited, width)


def _milk(feeding: Feeding, width: int, zone: tzinfo) -> Iterator[Line]:
    if not feeding.pups:
        yield from _said("text", "There is no pup in the house.", width)
        return
    marks = min(10, max(4, *(width_of(clean(one.pup.mark or "")) for one in feeding.pups), 4))
    titles = f"pup {fit('mark', marks)} {'week':>5}{'weight':>9}{'mL a day':>13}"
    yield [("dim", f"{titles}{'a meal':>13}{'meals a day':>13}")]
    for one in feeding.pups:
        lead = f"{one.pup.number:>3} {fit(clean(one.pup.mark or ''), marks)} "
        cold = _cold(one, feeding, zone)
        if not cold:
            yield [("text", lead + _row(one))]
            continue
        for place, line in enumerate(wrap(cold, width - width_of(lead))):
            yield [("text", lead if place == 0 else " " * width_of(lead)), ("call", line)]


def _cold(one: PupMilk, feeding: Feeding, zone: tzinfo) -> str:
    """What comes before any milk for a pup that was cold when last measured; usually nothing."""
    if one.pup.celsius is None or one.pup.measured is None:
        return ""
    measured = clock_text(one.pup.measured, feeding.at, zone)
    reading = f"{plain(one.pup.celsius)} °C at {measured}"
    if one.warm_first:
        return f"{reading}: {WARM_FIRST}. Then measure again."
    if one.measure_first:
        return f"{reading}: measure again first. Under {plain(FEED_FROM)} °C {WARM_FIRST}."
    return ""


def _row(one: PupMilk) -> str:
    if one.grams is None:
        return "not weighed yet"
    if one.milk is None:
        return "older than four weeks: the tables end"
    low, high = (f"{rounded(amount, '1'):f}" for amount in one.milk.range)
    fewest, most = one.milk.meals
    meals = str(fewest) if fewest == most else f"{fewest} to {most}"
    return (
        f"{one.milk.week:>5}{rounded(one.grams, '1'):>7f} g{low + ' to ' + high:>13}"
        f"{'up to ' + str(whole(one.milk.meal, up=False)):>10} mL{meals:>13}"
    )


def _energy(feeding: Feeding, width: int) -> Iterator[Line]:
    if feeding.kilos is None:
        yield from _said("text", "Her weight is not known. Type: boxlamp log weigh dam 28kg", width)
        return
    if feeding.week is None or not feeding.nursing:
        yield from _said("text", "She nurses no pup now.", width)
        return
    yield from _said(
        "text",
        f"{plain(rounded(feeding.kilos, '0.1'))} kg, {counted(feeding.nursing, 'pup', 'pups')}, "
        f"week {feeding.week} of nursing: {_this_week(feeding)}",
        width,
    )
    heads = "".join(f"{('>' if week == feeding.week else '') + str(week):>{_CELL}}"
                    for week in WEEKS)  # fmt: skip
    yield [("dim", f"{'week':<30}{heads}")]
    for place, title in enumerate(_TITLES, start=1):
        amounts = (one[place] for one in feeding.energy)
        cells = "".join(f"{'-' if one is None else f'{one:.0f}':>{_CELL}}" for one in amounts)
        yield [("text", f"{title:<30}{cells}")]


def _this_week(feeding: Feeding) -> str:
    if feeding.now is None:
        return "the sources say nothing of this week."
    low, high = feeding.now.range
    if low == high:
        return f"{low:.0f} kcal a day, by the one source that goes so far."
    return f"{low:.0f} to {high:.0f} kcal a day."


def _cited(cited: Cited, width: int) -> Iterator[Line]:
    for place, line in enumerate(wrap(cited.words, width - 2)):
        yield [("dim", ("- " if place == 0 else "  ") + line)]


def _said(role: str, words: str, width: int) -> Iterator[Line]:
    return ([(role, line)] for line in wrap(words, width))
