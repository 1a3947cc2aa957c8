"""Which weighings belong to one round, and what a round says of the litter."""

from datetime import timedelta
from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boxlamp.growth.latest import scales_of
from boxlamp.growth.resolution import too_coarse
from boxlamp.growth.rounds import WeighingRound, birth_weights, rounds_of
from boxlamp.growth.spread import spread
from boxlamp.model.happenings import Death, Round, Weighed, What
from boxlamp.model.story import Story
from support.growing import born, weighed
from support.made import at, told

HALF_A_DAY = timedelta(hours=12)
DAY = 24 * 60
NIGHT = [(0, born(1, 400)), (90, born(2, 380)), (240, born(3, 410))]


def rounds(*lines: tuple[float, What]) -> tuple[WeighingRound, ...]:
    """The rounds of these entries."""
    return rounds_of(scales_of(Story(told(*lines))), HALF_A_DAY)


def weights(*lines: tuple[float, What]) -> list[dict[int, int]]:
    """What each pup weighed in each round."""
    return [{pup: int(one.grams[pup]) for pup in sorted(one.grams)} for one in rounds(*lines)]


def test_birth_weights_are_no_rounds() -> None:
    """Weights at birth, hours apart, make a column of their own and no round."""
    scales = scales_of(Story(told(*NIGHT)))

    assert rounds(*NIGHT) == ()
    assert {pup: int(one.grams) for pup, one in birth_weights(scales, HALF_A_DAY).items()} == {
        1: 400, 2: 380, 3: 410,
    }  # fmt: skip


def test_pup_by_pup_is_one_round() -> None:
    """A round typed pup by pup within half an hour is one column."""
    typed = [(DAY, weighed(1, 410)), (DAY + 14, weighed(2, 390)), (DAY + 30, weighed(3, 420))]

    assert weights(*NIGHT, *typed) == [{1: 410, 2: 390, 3: 420}]
    assert [(one.start, one.end) for one in rounds(*NIGHT, *typed)] == [(at(DAY), at(DAY + 30))]


def test_a_round_in_one_line_is_one_round() -> None:
    """The word `round` and single weights make the same column."""
    what = Round(weights=(Weighed(pup=1, grams=Decimal(410)), Weighed(pup=3, grams=Decimal(420))))

    assert weights(*NIGHT, (DAY, what)) == [{1: 410, 3: 420}]


@pytest.mark.parametrize(("pause", "columns"), [(30, 1), (120, 1), (121, 2), (360, 2), (720, 2)])
def test_a_pause_begins_another_round(pause: float, columns: int) -> None:
    """After more than two hours without a weighing the next one begins a round."""
    lines = [(DAY, weighed(1, 410)), (DAY + pause, weighed(2, 390))]

    assert len(rounds(*NIGHT, *lines)) == columns


def test_a_pup_weighed_every_hour_makes_no_endless_round() -> None:
    """However closely they follow, a round lasts five hours at the most."""
    hourly = [(DAY + 60 * hour, weighed(1, 410)) for hour in range(24)]

    assert len(rounds(*NIGHT, *hourly)) == 4
    assert all(one.end - one.start <= timedelta(hours=5) for one in rounds(*NIGHT, *hourly))


def test_a_second_weight_in_a_round_counts() -> None:
    """A pup that is put on the scale again at once is shown with the later weight."""
    assert weights(*NIGHT, (DAY, weighed(1, 310)), (DAY + 2, weighed(1, 410))) == [{1: 410}]


def test_first_weights_of_the_morning_are_birth_weights() -> None:
    """Pups first weighed within twelve hours have birth weights and need no round."""
    night = [(0, born(1)), (90, born(2))]
    morning = [(300, weighed(1, 400)), (305, weighed(2, 380))]

    assert weights(*night, *morning) == []


def test_a_late_first_weight_is_in_a_round() -> None:
    """A pup first weighed after twelve hours has no birth weight, only a round."""
    assert weights((0, born(1)), (721, weighed(1, 400))) == [{1: 400}]
    assert weights((0, born(1)), (720, weighed(1, 400))) == []


def test_a_birth_weight_taken_in_the_middle_of_a_round_is_shown_there_too() -> None:
    """One pup weighed for the first time while the others are weighed again stands in both."""
    lines = [(0, born(1, 400)), (10, born(2)), (300, weighed(1, 402)), (310, weighed(2, 380)),
             (320, weighed(1, 403))]  # fmt: skip

    assert weights(*lines) == [{1: 403, 2: 380}]


GRAMS = st.integers(100, 900)
WEIGHINGS = st.lists(st.tuples(st.integers(1, 40_000), st.integers(1, 3), GRAMS), max_size=30)


@given(WEIGHINGS)
def test_no_weighing_is_lost(found: list[tuple[int, int, int]]) -> None:
    """Each weight after the first is in a round whose time holds it; rounds do not overlap."""
    lines = [(float(minutes), weighed(pup, grams)) for minutes, pup, grams in found]
    made = rounds(*NIGHT, *lines)

    for minutes, pup, _ in found:
        if at(minutes) >= at({1: 0, 2: 90, 3: 240}[pup]):
            [one] = [one for one in made if one.start <= at(minutes) <= one.end]
            assert pup in one.grams
    for one, other in pairwise(made):
        assert one.end < other.start


@given(st.dictionaries(st.integers(1, 14), st.integers(50, 900), min_size=1))
def test_the_litter_taken_together(grams: dict[int, int]) -> None:
    """Mean, lightest, heaviest and total agree with plain arithmetic; a mean needs three pups."""
    found = spread({pup: Decimal(value) for pup, value in grams.items()}, set(grams))

    assert found is not None
    assert found.least == min(grams.values()) == grams[found.lightest]
    assert found.greatest == max(grams.values()) == grams[found.heaviest]
    assert found.total == sum(grams.values())
    if len(grams) < 3:
        assert found.mean is None
    else:
        assert float(found.mean or 0) == pytest.approx(sum(grams.values()) / len(grams))


def test_only_living_pups_are_taken_together() -> None:
    """Pups that are not among those asked about do not count; a gap leaves no total."""
    grams = {1: Decimal(400), 2: Decimal(300), 3: Decimal(350), 4: Decimal(10)}

    found = spread(grams, {1, 2, 3, 5})
    assert found is not None
    assert (found.weighed, found.of, found.total) == (3, 4, None)
    assert found.mean == 350
    assert spread(grams, {7}) is None


@pytest.mark.parametrize(
    ("grams", "coarse"),
    [((200, 210, 205, 220), True), ((200, 210, 205), False), ((200, 211, 205, 220), False),
     ((400, 410, 405, 420), False), ((400, 410, 405, 245), True), ((400, 410, 405, 250), False)],
)  # fmt: skip
def test_a_scale_in_steps_of_five(grams: tuple[int, ...], *, coarse: bool) -> None:
    """Four weights or more, all multiples of 5 g, and a pup under 250 g: the scale is coarse."""
    lines = [(float(pup), born(pup, value)) for pup, value in enumerate(grams, start=1)]

    assert too_coarse(scales_of(Story(told(*lines)))) == coarse


def test_a_light_pup_that_died_says_nothing_of_the_scale() -> None:
    """Only pups in the house are too light for a coarse scale."""
    lines = [(float(pup), born(pup, 300)) for pup in range(1, 5)]
    lines += [(5.0, born(5, 200))]

    assert too_coarse(scales_of(Story(told(*lines))))
    assert not too_coarse(scales_of(Story(told(*lines, (6.0, Death(pup=5))))))
