"""What is published about weights, held against the rules and against the values they rest on."""

import tomllib
from datetime import timedelta
from decimal import Decimal
from math import exp
from pathlib import Path
from statistics import median
from typing import Any

import pytest

from boxlamp.engine import assess
from boxlamp.model.happenings import Birth, Details, Weight, What
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.protocol.records import BandRecord
from boxlamp.rules.birth_reference import SIZES
from boxlamp.rules.breeds import breed_named
from boxlamp.rules.registry import BY_ID
from support.made import at, told
from support.nights import DEFAULT

TABLES = tomllib.loads(
    (Path(__file__).parents[1] / "data" / "birth_weights.toml").read_text(encoding="utf-8"),
    parse_float=Decimal,
)
"""Mugnier et al. 2020, tables 1 and 2."""

CLASSES = ("normal", "low", "very_low")
HALF = Decimal("0.05")
"""A figure printed with one decimal stands for as much as this more or less."""

each_breed = pytest.mark.parametrize("breed", TABLES["breed"], ids=lambda breed: breed["name"])

Table = dict[str, Any]


def deaths(table: Table, group: str) -> Decimal:
    """How many pups of a class died, rebuilt from its share."""
    pups, _, percent = table[group]
    return Decimal(pups) * Decimal(percent) / 100


# ---------------------------------------------------------------- the tables agree with themselves


@each_breed
def test_the_classes_of_a_breed_add_up(breed: Table) -> None:
    """Normal, low and very low pups are all pups, in the shares that are printed."""
    one, two = breed["table1"], breed["table2"]

    assert one["pups"] == two["n"] == sum(two[group][0] for group in CLASSES)
    for group in CLASSES:
        pups, share, _ = two[group]
        assert abs(Decimal(100 * pups) / two["n"] - share) <= HALF + Decimal("0.005")


@each_breed
def test_the_deaths_of_the_classes_give_the_deaths_of_the_breed(breed: Table) -> None:
    """Rebuilt class by class, they come to the death rate of the other table, to 0.1 point."""
    one, two = breed["table1"], breed["table2"]
    rebuilt = 100 * sum(deaths(two, group) for group in CLASSES) / two["n"]

    assert abs(rebuilt - one["deaths"]) < Decimal("0.1")


@each_breed
def test_pups_die_whole(breed: Table) -> None:
    """Each class's death rate comes of a whole number of pups, as far as it is printed."""
    for group in CLASSES:
        died = deaths(breed["table2"], group)
        assert abs(died - round(died)) <= breed["table2"][group][0] * HALF / 100


def test_the_breeds_give_the_totals() -> None:
    """Pups, litters, classes, deaths and the mean of all."""
    breeds, total = TABLES["breed"], TABLES["total"]
    every = sum(breed["table1"]["pups"] for breed in breeds)
    grams = sum(breed["table1"]["pups"] * breed["table1"]["mean"] for breed in breeds)

    assert len(breeds) == 10
    assert every == total["table1"]["pups"] == total["table2"]["n"] == 4971
    assert sum(breed["table1"]["litters"] for breed in breeds) == total["table1"]["litters"]
    assert abs(grams / every - total["table1"]["mean"]) < Decimal("0.2")
    for group, pups in zip(CLASSES, (2419, 2382, 170), strict=True):
        assert sum(breed["table2"][group][0] for breed in breeds) == pups
        assert total["table2"][group][0] == pups
        died = sum(deaths(breed["table2"], group) for breed in breeds)
        assert abs(100 * died / pups - total["table2"][group][2]) < Decimal("0.1")


def test_a_quirk_of_the_source_is_kept() -> None:
    """The shares of the breeds add up to 95.2 as printed: they are of more than these pups."""
    assert sum(breed["table1"]["share"] for breed in TABLES["breed"]) == Decimal("95.2")


def test_low_lies_at_the_mean_and_very_low_at_two_thirds_of_it() -> None:
    """That is why low is only a watch, and where 0.65 of a mean comes from."""
    means = [breed["table1"]["mean"] for breed in TABLES["breed"]]
    low = [breed["table2"]["normal_from"] for breed in TABLES["breed"]]
    very_low = [breed["table2"]["very_low_under"] for breed in TABLES["breed"]]
    tops = [grams / mean for grams, mean in zip(low, means, strict=True)]
    shares = [grams / mean for grams, mean in zip(very_low, means, strict=True)]

    assert Decimal("0.93") < min(tops) < max(tops) < Decimal("1.07")
    assert Decimal("0.44") < min(shares) < max(shares) < Decimal("0.91")
    assert abs(median(shares) - Decimal("0.66")) < Decimal("0.01")


# ---------------------------------------------------------------- the protocol holds the tables


def bands_of(rule: str, clock: str) -> dict[str, BandRecord]:
    """The bands of one clock, by their level."""
    return {band.level: band for band in DEFAULT.band if (band.rule, band.clock) == (rule, clock)}


@each_breed
def test_the_bands_of_a_breed_are_the_limits_of_the_table(breed: Table) -> None:
    """Under the upper limit is low, under the lower one very low; the source is named."""
    bands, two = bands_of("birth-weight", breed["name"].lower()), breed["table2"]

    assert set(bands) == {"watch", "call"}
    assert (bands["watch"].when, bands["watch"].value) == ("below", two["normal_from"])
    assert (bands["call"].when, bands["call"].value) == ("below", two["very_low_under"])
    for band in bands.values():
        assert (band.unit, band.source, band.place) == ("g", "mugnier2020", "Table 2")
        assert band.seen == "T"


@each_breed
def test_a_band_says_how_many_pups_it_is_about(breed: Table) -> None:
    """The figures in its sentence are those of the table."""
    for level, group in (("watch", "low"), ("call", "very_low")):
        says = bands_of("birth-weight", breed["name"].lower())[level].says
        pups, _, percent = breed["table2"][group]
        assert f"Of {breed['table2']['n']} pups {pups} weighed" in says
        assert f"{percent} % of these" in says


def test_there_are_bands_for_these_breeds_and_no_others() -> None:
    """A band without a row of the table would come from nowhere."""
    clocks = {band.clock for band in DEFAULT.band if band.rule == "birth-weight"}
    breeds = {breed["name"].lower() for breed in TABLES["breed"]}
    assert clocks - breeds == {"breed mean", "litter", *SIZES}


REF_GROWTH_LOW = {
    "Australian Shepherd": ("213-375", "45.5"), "Bichon": ("163.5-181", "42.4"),
    "Cocker": ("142.5-280", "68.4"), "German Shepherd": ("338-480", "71.4"),
    "Golden Retriever": ("177.5-417", "66.7"), "Labrador Retriever": ("248-406", "57.7"),
    "Maltese": ("115.5-163", "57.1"), "Rottweiler": ("345-410", "53.3"),
    "Shih Tzu": ("128.5-176", "75.0"), "West Highland White Terrier": ("129-190", "53.8"),
}  # fmt: skip
"""The low range of each breed and the deaths under it, written out a second time elsewhere."""


@pytest.mark.parametrize("name", REF_GROWTH_LOW)
def test_a_second_copy_of_the_lines_agrees(name: str) -> None:
    """Two tables copied out by two hands say the same, also of a breed called by a shorter name."""
    bands = bands_of("birth-weight", breed_named(name))
    line, died = REF_GROWTH_LOW[name]

    assert f"{bands['call'].value}-{bands['watch'].value}" == line
    assert f"; {died} % of these died" in bands["call"].says


SIZE_LIMITS = {"small": 151, "medium": 225, "large": 330}
"""The lightest quarter of each size, as reported of Mila et al. 2015."""


@pytest.mark.parametrize("size", SIZE_LIMITS)
def test_very_low_for_a_size_is_two_thirds_of_its_low(size: str) -> None:
    """0.65 times the published limit, in whole grams."""
    bands = bands_of("birth-weight", size)
    assert bands["watch"].value == SIZE_LIMITS[size]
    assert abs(bands["call"].value - Decimal("0.65") * SIZE_LIMITS[size]) <= Decimal("0.5")


PUBLISHED_MEANS = {
    "pomeranian": ("120", "X"), "beagle": ("250", "X"), "greyhound": ("490", "X"),
    "great dane": ("625", "X"), "pug": ("152.50", "A"), "lhasa apso": ("130", "A"),
    "st bernard": ("462.00", "A"), "dobermann": ("525.00", "A"), "toy poodle": ("154", "A"),
}  # fmt: skip
"""Means of breeds without limits of their own, and how far each was verified."""


def test_the_published_means_are_these() -> None:
    """Every one as printed, with how it was seen."""
    found = {
        record.name.removeprefix("mean "): (str(record.value), record.seen)
        for record in DEFAULT.setting
        if record.rule == "birth-weight" and record.name.startswith("mean ")
    }
    assert found == PUBLISHED_MEANS


# ---------------------------------------------------------------- the engine keeps to them

WEIGHT_RULES = ("birth-weight", "weight-loss", "weight-stalled", "weight-slow", "not-doubled",
                "litter-slow")  # fmt: skip


def level_of(rule: str, minutes: float, *lines: tuple[float, What]) -> Level | None:
    """The highest level at which a rule stands at a minute."""
    verdict = assess(Story(told(*lines)), DEFAULT).verdict(at(minutes))
    return max((alert.level for alert in verdict.alerts if alert.rule.id == rule), default=None)


def born(grams: Decimal | int, breed: str) -> Level | None:
    """How the birth weight of one pup of a breed is judged."""
    birth = Birth.model_validate({"pup": 1, "weight": grams})
    return level_of("birth-weight", 1, (0, Details(breed=breed)), (1, birth))


@each_breed
def test_the_edges_of_a_breed_are_kept_to_the_gram(breed: Table) -> None:
    """At a limit a pup is in the better class, a gram under it in the worse."""
    name, two = breed["name"], breed["table2"]
    upper = two["normal_from"]
    lower = int(two["very_low_under"].__ceil__())

    assert born(upper, name) is None
    assert born(upper - 1, name) is Level.WATCH
    assert born(lower, name) is Level.WATCH
    assert born(lower - 1, name) is Level.CALL
    assert born(two["very_low_under"], name) is Level.WATCH


@pytest.mark.parametrize(
    ("breed", "grams", "level"),
    [
        ("Labrador Retriever", 406, None),
        ("Labrador Retriever", 405, Level.WATCH),
        ("Labrador Retriever", 248, Level.WATCH),
        ("Labrador Retriever", 247, Level.CALL),
        ("Shih Tzu", 128, Level.CALL),
        ("Shih Tzu", 129, Level.WATCH),
        ("Shih Tzu", 176, None),
        ("Bichon Frise", 163, Level.CALL),
        ("Bichon Frise", 164, Level.WATCH),
        ("Bichon Frise", 181, None),
    ],
)
def test_check_values_of_birth_weight(breed: str, grams: int, level: Level | None) -> None:
    """The values worked out beside the table."""
    assert born(grams, breed) is level


def test_the_sentence_says_which_reference_fired_and_its_numbers() -> None:
    """A person on the telephone can read out the weight, the limit, and whose limit it is."""
    labrador = Details(breed="labrador")
    birth = Birth.model_validate({"pup": 1, "weight": 240})
    (alert,) = (
        alert
        for alert in assess(Story(told((0, labrador), (1, birth))), DEFAULT).verdict(at(1)).alerts
        if alert.rule.id == "birth-weight"
    )
    assert alert.message == (
        "Birth weight very low (240 g), pup 1: Labrador Retriever pups under 248 g (Mugnier 2020)."
    )


@pytest.mark.parametrize(
    ("first", "hours", "then", "level"),
    [
        (400, 48, 384, Level.CALL),
        (400, 48, 385, Level.WATCH),
        (180, 48, 172, Level.CALL),
        (250, 24, 225, Level.CALL),
        (250, 24, 226, Level.WATCH),
        (400, 20, 360, Level.CALL),
        (400, 20, 385, None),
        (400, 48, 400, None),
        (400, 72, 399, Level.CALL),
        (400, 72, 400, None),
    ],
)
def test_check_values_of_weight_loss(
    first: int, hours: int, then: int, level: Level | None
) -> None:
    """Mila et al. 2015: -4 % at two days; the handbook: -10 %, and gaining by 72 hours."""
    birth = Birth.model_validate({"pup": 1, "weight": first})
    weight = Weight.model_validate({"pup": 1, "grams": then})
    assert level_of("weight-loss", 60 * hours, (0, birth), (60 * hours, weight)) is level


@pytest.mark.parametrize(
    ("day", "grams", "level"),
    [(10, 790, Level.WATCH), (10, 800, None), (14, 799, Level.CALL), (14, 800, None)],
)
def test_check_values_of_doubling(day: int, grams: int, level: Level | None) -> None:
    """Seven to ten days, and no later than fourteen."""
    birth, minutes = Birth.model_validate({"pup": 1, "weight": 400}), 1440 * day
    weight = Weight.model_validate({"pup": 1, "grams": grams})
    assert level_of("not-doubled", minutes, (0, birth), (minutes, weight)) is level


@pytest.mark.parametrize(
    ("percent", "days"), [("3.5", "20.1"), ("5", "14.2"), ("7", "10.2"), ("8", "9.0")]
)
def test_a_steady_gain_doubles_when_it_should(percent: str, days: str) -> None:
    """The gain is compound, so that 5 % a day and doubled at 14 days are one and the same limit."""
    grown = (1 + Decimal(percent) / 100) ** Decimal(days)
    assert abs(grown - 2) < Decimal("0.02")


def raised(grams_at: Any, days: int, *, round_to: Decimal = Decimal(1)) -> set[tuple[str, str]]:  # noqa: ANN401
    """What the weight rules raise over some weeks of a pup that is weighed every day."""
    lines: list[tuple[float, What]] = [(0, Birth(pup=1))]
    for day in range(days + 1):
        grams = Decimal(str(grams_at(day))).quantize(round_to)
        lines.append((1440 * day, Weight.model_validate({"pup": 1, "grams": grams})))
    rules = tuple(BY_ID[rule] for rule in WEIGHT_RULES)
    assessed = assess(Story(told(*lines)), DEFAULT, rules)
    return {
        (step.rule.id, step.level.word)
        for step in assessed.history(at(1440 * days) + timedelta(hours=1))
        if step.change in {"raised", "escalated"}
    }


@pytest.mark.parametrize("first", [80, 150, 250, 400, 500, 625])
def test_the_fastest_growth_raises_nothing(first: int) -> None:
    """Along the highest growth curve (Alves 2020), which real litters have been seen to pass."""
    curve = raised(lambda day: first * exp(0.13084 * day - 0.001616 * day * day), 21)
    faster = raised(lambda day: first * 2.6 ** (day / 7), 21)
    assert curve | faster == set()


def test_the_curve_is_the_published_one() -> None:
    """2.31 times the birth weight on day 7, 3.15 times on day 10."""
    ratios = [exp(0.13084 * day - 0.001616 * day * day) for day in (7, 10, 21)]
    assert [round(ratio, 3) for ratio in ratios] == [2.309, 3.148, 7.652]


def test_the_lower_bound_of_the_first_week_raises_nothing() -> None:
    """A pup that gains 5.2 % every day is slower than most and called slow by nobody."""
    assert raised(lambda day: 400 * 1.052**day, 14) == {("not-doubled", "watch")}


def test_a_pup_just_under_it_is_called_slow() -> None:
    """4.9 % a day from the first day on is slow, and has not doubled in time."""
    assert raised(lambda day: 400 * 1.049**day, 14) == {
        ("weight-slow", "watch"), ("not-doubled", "watch"), ("not-doubled", "call"),
    }  # fmt: skip


def test_a_pup_that_doubled_in_time_may_grow_as_the_later_weeks_do() -> None:
    """8 % a day until it has doubled, then 4 % a day: both are published, and neither is slow."""
    assert raised(lambda day: 400 * 1.08 ** min(day, 10) * 1.04 ** max(0, day - 10), 28) == set()
