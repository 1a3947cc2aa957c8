"""The weights for other programs: JSON, and one record per line. A new shape raises ``SCHEMA``."""

from collections.abc import Iterator
from datetime import tzinfo
from decimal import Decimal

from boxlamp.growth import curve, resolution
from boxlamp.growth.cited import Cited
from boxlamp.growth.feeding import Feeding
from boxlamp.growth.latest import Gain
from boxlamp.growth.milk import Milk
from boxlamp.growth.stands import Standing
from boxlamp.growth.table import Column, PupGrowth, WeightTable
from boxlamp.rules.feeding import WARM_FIRST
from boxlamp.view.machine import SCHEMA, Json, stamp
from boxlamp.view.text import clean
from boxlamp.view.weights_words import (
    dam_words,
    due_words,
    grams_words,
    pace_words,
    since_words,
    state_words,
)


def weights_json(
    table: WeightTable, litter: str, zone: tzinfo, feeding: Feeding | None = None
) -> Json:
    """What ``weights --json`` prints. Weights are in grams, changes in per cent."""
    return {
        "schema": SCHEMA,
        "at": stamp(table.at, zone),
        "litter": litter,
        "pups": [_pup(pup, zone) for pup in table.pups],
        "rounds": [_round(column, zone) for column in table.columns],
        "alerts": [_standing(one) for one in table.stands],
        "coarse_scale": table.coarse_scale,
        "feeding": None if feeding is None else _feeding(feeding),
        "sources": [_cited(one) for one in (curve.SOURCE, resolution.SOURCE)],
    }


def _cited(source: Cited) -> Json:
    return {
        "title": source.title or None,
        "where": source.where or None,
        "place": source.place,
        "says": source.says,
        "seen": source.seen,
    }


def _pup(pup: PupGrowth, zone: tzinfo) -> Json:
    stand, found = pup.latest, pup.birth_class
    return {
        "pup": pup.number,
        "mark": pup.pup.mark,
        "sex": pup.pup.sex,
        "born": stamp(pup.pup.born, zone),
        "days": pup.days,
        "alive": pup.pup.alive,
        "gone": None if pup.gone is None else stamp(pup.gone, zone),
        "birth_g": _number(pup.birth),
        "birth_class": None if found is None else found._asdict(),
        "newest_g": None if stand is None else _number(stand.grams),
        "since_birth_percent": None if stand is None else _number(stand.since_birth),
        "late_first_weight": stand is not None and stand.late,
        "per_day": _gain(pup.pace),
        "last_day": None if stand is None else _gain(stand.day),
        "weights": [
            {
                "at": stamp(one.at, zone),
                "g": _number(one.grams),
                "since_birth_percent": _number(pup.growth_at(one)),
                "entry": one.entry.id,
            }
            for one in pup.weighings
        ],
        "alerts": [_standing(one) for one in pup.stands],
    }


def _gain(gain: Gain | None) -> Json | None:
    if gain is None:
        return None
    return {
        "g": round(gain.grams_per_day, 3),
        "percent": round(gain.percent_per_day, 3),
        "since": gain.start.entry.id,
        "span_s": int(gain.span.total_seconds()),
    }


def _round(column: Column, zone: tzinfo) -> Json:
    found = column.spread
    return {
        "start": stamp(column.round.start, zone),
        "end": stamp(column.round.end, zone),
        "days": column.days,
        "weights": {str(pup): _number(grams) for pup, grams in sorted(column.round.grams.items())},
        "mean_g": None if found is None else _number(found.mean),
        "total_g": None if found is None else _number(found.total),
    }


def _standing(one: Standing) -> Json:
    return {
        "rule": one.rule, "level": one.level.word, "words": one.words, "message": one.message,
    }  # fmt: skip


def _feeding(feeding: Feeding) -> Json:
    return {
        "milk": [
            {
                "pup": one.pup.number,
                "g": _number(one.grams),
                "warm_first": one.warm_first,
                "measure_first": one.measure_first,
                "milk": None if one.milk is None or one.warm_first else _milk(one.milk),
            }
            for one in feeding.pups
        ],
        "dam_kg": _number(feeding.kilos),
        "nursing": feeding.nursing,
        "week": feeding.week,
        "dam_kcal_a_day": [
            {name: value if value is None else round(value, 1)
             for name, value in one._asdict().items()}
            for one in feeding.energy
        ],
    }  # fmt: skip


def _milk(milk: Milk) -> Json:
    return {
        "week": milk.week,
        "ml_a_day": [_number(amount) for amount in milk.range],
        "most_ml_a_meal": _number(milk.meal),
        "meals_a_day": list(milk.meals),
    }


def _number(value: Decimal | None) -> float | None:
    return None if value is None else round(float(value), 3)


def plain_weights(table: WeightTable, zone: tzinfo) -> Iterator[str]:
    """Every fact of the table as ``label<TAB>value``, nothing drawn or wrapped."""
    yield f"dam\t{dam_words(table)}"
    yield f"time\t{stamp(table.at, zone)}"
    for one in table.stands:
        yield f"alert\t{one.level.word}\t{one.rule}\tlitter\t{clean(one.message)}"
    for pup in table.pups:
        for one in pup.stands:
            yield f"alert\t{one.level.word}\t{one.rule}\tpup {pup.number}\t{clean(one.message)}"
    yield from (f"reminder\t{words}" for words in due_words(table))
    for pup in table.pups:
        yield _plain_pup(pup, zone)
        for weighing in pup.weighings:
            grams = grams_words(weighing.grams)
            yield f"weight\t{pup.number}\t{stamp(weighing.at, zone)}\t{grams} g"


def _plain_pup(pup: PupGrowth, zone: tzinfo) -> str:
    grams, percent = pace_words(pup.pace)
    facts = (
        clean(pup.pup.mark or ""),
        pup.pup.sex or "",
        f"birth {grams_words(pup.birth)} g" if pup.birth is not None else "",
        f"newest {grams_words(pup.latest.grams)} g" if pup.latest is not None else "",
        f"since birth {since_words(pup)} %" if since_words(pup) else "",
        f"per day {grams} g" if grams else "",
        f"per day {percent} %" if percent else "",
        state_words(pup, zone),
    )
    return f"pup\t{pup.number}\t" + "\t".join(facts)


def plain_feeding(feeding: Feeding) -> Iterator[str]:
    """The feeding tables in the same form."""
    for one in feeding.pups:
        if one.warm_first or one.measure_first:
            first = WARM_FIRST if one.warm_first else "measure again first"
            yield f"milk\t{one.pup.number}\t{first}"
        elif one.milk is not None:
            low, high = (grams_words(amount) for amount in one.milk.range)
            meals = "\t".join(map(str, one.milk.meals))
            yield f"milk\t{one.pup.number}\t{low} mL a day\t{high} mL a day\tmeals\t{meals}"
    for each in feeding.energy:
        low, high = (f"{amount:.0f}" for amount in each.range)
        yield f"dam\tweek {each.week}\t{low} kcal a day\t{high} kcal a day"
