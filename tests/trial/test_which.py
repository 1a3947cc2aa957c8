"""Which nights a trial runs: by their number alone."""

import pickle
from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boxlamp.imagine import TROUBLES, imagine
from boxlamp.trial import plan
from boxlamp.trial.plan import MOST_NIGHTS, NORMAL, BrokenNight, Nights, which

SEEDS, INDICES = st.integers(0, MOST_NIGHTS), st.integers(0, MOST_NIGHTS - 1)


def test_half_are_normal_and_every_trouble_has_its_turn() -> None:
    """The first rounds hold each trouble equally often and as many normal nights as troubled."""
    rounds = 3
    asked = Counter(which(1, index).trouble for index in range(2 * rounds * len(TROUBLES)))

    assert asked == Counter(
        {NORMAL: rounds * len(TROUBLES), **dict.fromkeys(TROUBLES, rounds)}
    )  # fmt: skip


@settings(deadline=None)
@given(SEEDS, SEEDS, INDICES, INDICES)
def test_no_two_nights_are_the_same(seed: int, other: int, one: int, two: int) -> None:
    """Another number or another trial is another seed of the generator."""
    same = (seed, one) == (other, two)

    assert (which(seed, one).seed == which(other, two).seed) == same


@pytest.mark.parametrize("index", range(0, 40, 3))
def test_the_words_show_the_very_night(index: int) -> None:
    """What a person is told to ask for is the night that was judged."""
    night, asked = Nights(7)(index), which(7, index)

    assert asked.words == f"boxlamp imagine --seed {night.seed} --trouble {asked.trouble}"
    assert night == imagine(asked.seed, trouble=asked.trouble)
    assert (night.trouble or NORMAL) == asked.trouble


def test_the_maker_can_be_sent_to_another_process() -> None:
    """It is its seed and nothing else."""
    assert pickle.loads(pickle.dumps(Nights(3))) == Nights(3)  # noqa: S301 - our own


def test_a_night_that_cannot_be_imagined_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    """The sentence holds the words that show it."""

    def failing(seed: int, *, trouble: str) -> None:
        raise ZeroDivisionError(f"{seed} {trouble}")

    monkeypatch.setattr(plan, "imagine", failing)
    with pytest.raises(BrokenNight, match=f"--seed 1000003 --trouble {TROUBLES[1]}"):
        Nights(1)(3)
