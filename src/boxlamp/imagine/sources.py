"""Every figure in a line each, with its source, for whoever wants to know what a night rests on."""

import sys
from collections.abc import Iterator
from typing import NamedTuple

from boxlamp.growth.cited import Cited
from boxlamp.imagine import beforehand, dice, figures, keeper, newborn, whelping, written
from boxlamp.imagine.figures import Bell, Figure, Lognormal
from boxlamp.imagine.kennel import BREEDS
from boxlamp.imagine.ours import Choice, half_and_most
from boxlamp.imagine.troubles import ALL, WEIGHTS, first_days, turns


class Source(NamedTuple):
    """What is drawn, how, and where that comes from."""

    what: str
    how: str
    cited: Cited


def sources() -> Iterator[Source]:
    """Every figure, in the order in which a night needs them."""
    for size, bell in figures.LITTER.items():
        yield Source(f"litter, {size} dam", _bell(bell, "pups"), bell.cited)
    shares = ", ".join(f"{size} {share:.0%}" for size, share in figures.SIZES_SHARE)
    yield Source("size of the dam", shares, figures.SIZES_CITED)
    counted = ", ".join(f"{by} {share:.0%}" for by, share in figures.COUNTED_BY)
    yield Source("counted by", counted, figures.COUNTED_CITED)
    yield from (_told(*row) for row in _ROWS)
    for day, bell in enumerate(figures.DAILY_WARMTH):
        yield Source(f"temperature afterwards, day {day}", _bell(bell, "°C"), bell.cited)
    for breed in BREEDS:
        how = f"{breed.grams:g} g on average, two in three within {breed.spread:g} g of that"
        yield Source(f"birth weight, {breed.name}", how, breed.cited)
    weights = dict(WEIGHTS)
    for kind, words in _KINDS.items():
        share = figures.KINDS[kind]
        yield Source(words, f"{share.value:.1%} of troubles", share.cited)
        among = (one for one in ALL if one.kind == kind)
        how = ", ".join(f"{one.name} {weights[one.name] / share.value:.0%}" for one in among)
        yield Source(f"{words}, which", how, figures.WITHIN_KIND)
    for one in ALL:
        if one.least > 1:
            yield Source(f"{one.name}, litter", f"{one.least} pups or more", _OURS)
    yield Source("what a keeper writes", "drawn for each line; see below", figures.HABITS)
    yield Source("course of a trouble", "drawn for each; see below", figures.COURSE_OF_TROUBLE)
    yield from choices()


def choices() -> Iterator[Source]:
    """Every number of our choice that stands at the top of the module that draws it."""
    troubles = ((one.name, sys.modules[one.befall.__module__]) for one in ALL)
    for where, module in (*_DRAWING, *troubles):
        for value in vars(module).values():
            if isinstance(value, Choice):
                yield Source(f"{where}: {value.says}", value.how, _OURS)


_OURS = Cited("No published figure was found.", "C")
_DRAWING = (
    ("chance", dice),
    ("beforehand", beforehand),
    ("whelping", whelping),
    ("keeper", keeper),
    ("keeper, a pup", newborn),
    ("night", written),
    ("trouble", turns),
    ("days after", first_days),
)
"""Who draws, as it is told, and the module."""


_KINDS = {
    "labour": "troubles: labour fails",
    "passage": "troubles: a pup does not pass",
    "newborn": "troubles: the newborn",
    "dam": "troubles: the dam",
}
_ROWS: tuple[tuple[str, str, Figure | Bell | Lognormal], ...] = (
    ("largest litter", "pups", figures.LARGEST),
    ("troubled whelpings", "%", figures.TROUBLED),
    ("stillborn", "%", figures.STILLBORN),
    ("stillborn, hard whelping", "times", figures.STILLBORN_IF_HARD),
    ("stillborn, long gap", "% more an hour", figures.STILLBORN_AFTER_LONG),
    ("hindquarters first", "%", figures.HIND_FIRST),
    ("limp at birth", "%", figures.LIMP),
    ("in the sac at birth", "%", figures.IN_SAC),
    ("day from ovulation", "days", figures.GESTATION),
    ("mating before ovulation", "days", figures.MATED_BEFORE_OVULATION),
    ("ovulation known", "%", figures.OVULATION_KNOWN),
    ("last good day from ovulation", "days", figures.LAST_GOOD_DAY),
    ("first stage", "min", figures.FIRST_STAGE),
    ("temperature days before", "°C", figures.WARM),
    ("first low reading", "°C or less", figures.LOW),
    ("low until birth, least", "h", figures.LOW_LEAST),
    ("low until birth, most", "h", figures.LOW_MOST),
    ("low until birth", "h", figures.LOW_BEFORE_BIRTH),
    ("lowest temperature", "°C", figures.LOWEST),
    ("temperature an hour before", "°C", figures.JUST_BEFORE),
    ("temperature falls", "%", figures.DROPS),
    ("one reading off by", "°C", figures.READING_OFF),
    ("first strain to first pup", "min", figures.FIRST_PUP),
    ("first strain to first pup, most", "min", figures.FIRST_PUP_MOST),
    ("pup to pup", "min", figures.INTERVAL),
    ("pup to pup, hard whelping", "times", figures.HARD_RUN),
    ("pup to pup, hard whelping, give", "times", figures.HARD_RUN_GIVE),
    ("hard labour, first pup", "min", figures.HARD_LABOUR),
    ("hard labour, later pup", "min", figures.NEXT_HARD_LABOUR),
    ("waters before first pup", "min", figures.WATERS_BEFORE),
    ("afterbirth after its pup", "min", figures.AFTERBIRTH),
    ("afterbirth with a later pup", "%", figures.GROUPED),
    ("afterbirth eaten", "%", figures.EATEN),
    ("afterbirth eaten unseen", "%", figures.UNSEEN),
    ("called over after last pup", "min", figures.OVER_AFTER),
    ("limp pup breathes", "s", figures.BREATHES),
    ("sac opened", "s", figures.SAC_OPENED),
    ("first milk", "min", figures.FIRST_MILK),
    ("weight spread in a litter", "%", figures.WITHIN_LITTER),
    ("dog pups heavier", "%", figures.DOG_HEAVIER),
    ("x-ray count right", "%", figures.XRAY_RIGHT),
    ("scan count right", "%", figures.SCAN_RIGHT),
    ("scan within one pup", "%", figures.SCAN_WITHIN_ONE),
    ("gain a day, first week", "%", figures.GAIN_FIRST_WEEK),
    ("gain a day, later", "%", figures.GAIN_LATER),
)


def _told(what: str, unit: str, figure: Figure | Bell | Lognormal) -> Source:
    match figure:
        case Bell():
            how = _bell(figure, unit)
        case Lognormal():
            how = half_and_most(figure.median, figure.sigma, unit)
        case Figure() if unit.startswith("%"):
            how = f"{figure.value * 100:g} {unit}"
        case _:
            how = f"{figure.value:g} {unit}"
    return Source(what, how, figure.cited)


def _bell(bell: Bell, unit: str) -> str:
    return f"{bell.mean:g} {unit} on average, two in three within {bell.spread:g} of that"
