"""A story tells a weighing round apart, and nobody else needs to know of rounds."""

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Amend, Birth, Round, Strike, Weighed, Weight, What
from boxlamp.model.litter import fold
from boxlamp.model.story import Story, as_known
from support.made import STREAMS, at, entry, told

GRAMS = st.integers(100, 900).map(Decimal)
ROUNDS = st.dictionaries(st.integers(1, 9), GRAMS, min_size=1)


def a_round(weights: dict[int, Decimal]) -> Round:
    return Round(weights=tuple(Weighed(pup=pup, grams=grams) for pup, grams in weights.items()))


@given(ROUNDS)
def test_a_round_is_that_many_weights(weights: dict[int, Decimal]) -> None:
    """Each pup of a round has a weight of its own, under the round's number and time."""
    story = Story([entry(5, 10, a_round(weights))])
    assert story.of(Round) == ()
    assert {one.id for one in story.of(Weight)} == {5}
    assert {one.at for one in story.of(Weight)} == {at(10)}
    said = [one.what for one in story.of(Weight)]
    assert said == [Weight(pup=pup, grams=grams) for pup, grams in weights.items()]


@given(ROUNDS)
def test_a_round_and_single_lines_say_the_same(weights: dict[int, Decimal]) -> None:
    """The litter is the same whether the pups were weighed in one line or in many."""
    births: list[tuple[float, What]] = [(0, Birth(pup=pup)) for pup in weights]
    apart = [(10, Weight(pup=pup, grams=grams)) for pup, grams in weights.items()]
    one = fold(Story(told(*births, (10, a_round(weights)))))
    many = fold(Story(told(*births, *apart)))
    assert {pup.number: (pup.weight, pup.weighed) for pup in one.in_order} == {
        pup.number: (pup.weight, pup.weighed) for pup in many.in_order
    }


def test_a_round_is_corrected_and_struck_as_one() -> None:
    """An amend replaces the whole round, a strike takes it all back."""
    first = entry(1, 10, a_round({1: Decimal(300), 2: Decimal(310)}))
    better = entry(2, 20, Amend(target=1, what=a_round({1: Decimal(320)})))
    assert [one.what for one in Story([first, better]).of(Weight)] == [
        Weight(pup=1, grams=Decimal(320))
    ]
    assert Story([first, entry(2, 20, Strike(target=1))]).of(Weight) == ()
    assert len(as_known([first, better], at(15)).of(Weight)) == 2


@given(STREAMS, st.integers(-10, 200))
def test_a_story_until_a_moment_is_what_had_happened(night: tuple[Entry, ...], minute: int) -> None:
    """The moment itself belongs to it; nothing later does."""
    story = Story(night)
    happened = [one for one in story.entries if one.at <= at(minute)]
    assert list(story.until(at(minute)).entries) == happened


def test_what_was_found_in_a_story_is_found_once() -> None:
    """By its key; and another story is asked anew."""
    asked: list[int] = []

    def find() -> int:
        asked.append(1)
        return len(asked)

    story = Story(told((0, Birth(pup=1))))
    assert [story.once("a", find), story.once("a", find), story.once("b", find)] == [1, 1, 2]
    assert story.until(at(0)).once("a", find) == 3
