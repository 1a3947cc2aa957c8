from decimal import Decimal

from boxlamp.model.happenings import (
    Amend,
    Birth,
    Death,
    Round,
    Temperature,
    Weighed,
    Weight,
    What,
)
from boxlamp.paper.account.measurements import temperatures_of, weights_of
from support.accounts import entries_of, matter_of
from support.made import at, told


def grams(*lines: tuple[float, What]) -> dict[int, list[tuple[float, int]]]:
    """Minutes after two and grams, by pup."""
    return {
        pup.pup: [((one.at - at(0)).total_seconds() / 60, int(one.grams)) for one in pup.weights]
        for pup in weights_of(matter_of(told(*lines)))
    }


def born(pup: int, weight: int | None = None, **more: str) -> Birth:
    return Birth.model_validate({"pup": pup, "weight": weight, **more})


def test_weights_begin_with_the_birth() -> None:
    """The weight of the birth line is the first, then every weight alone or in a round."""
    weighed = Round(weights=(Weighed(pup=1, grams=Decimal(305)), Weighed(pup=2, grams=Decimal(9))))

    assert grams(
        (0, born(1, 300)),
        (5, born(2)),
        (9, Weight(pup=2, grams=Decimal(280))),
        (700, weighed),
    ) == {1: [(0, 300), (700, 305)], 2: [(9, 280), (700, 9)]}


def test_pups_stand_in_the_order_of_their_birth() -> None:
    """A birth that was remembered late keeps its number and takes its place in time."""
    assert list(grams((9, born(1, 300)), (0, born(2, 310)))) == [2, 1]


def test_the_one_weight_of_a_stillborn_pup_is_kept() -> None:
    """It is on no scale afterwards, but what it weighed is known."""
    assert grams((0, born(1, 250, state="dead"))) == {1: [(0, 250)]}


def test_a_pup_that_was_never_weighed_has_no_weights() -> None:
    """It is left out, and so is the weight of the dam."""
    assert grams((0, born(1)), (5, Weight(grams=Decimal(9000)))) == {}


def test_no_weight_comes_after_the_end() -> None:
    """What is written of a dead pup afterwards belongs to no series."""
    dead_and_weighed = [(0, born(1, 300)), (5, Death(pup=1)), (9, Weight(pup=1, grams=Decimal(1)))]

    assert grams(*dead_and_weighed) == {1: [(0, 300)]}


def test_eight_weeks_of_weights_are_all_there() -> None:
    """Every pup of a long record has its series, oldest first, from its birth weight on."""
    found = weights_of(matter_of(entries_of("eight-weeks")))

    assert [pup.pup for pup in found] == [1, 2, 3, 4, 5, 6, 7]
    for pup in found:
        times = [one.at for one in pup.weights]
        assert times == sorted(times)
        assert len(times) > 20


def heat(celsius: str, **more: object) -> Temperature:
    return Temperature.model_validate({"celsius": celsius, **more})


def test_temperatures_say_whose_they_are() -> None:
    """Of the dam, of one pup, or of the box, as they now read."""
    matter = matter_of(
        told(
            (0, born(3)),
            (9, heat("38.2")),
            (5, heat("35.2", where="pup", pup=3)),
            (7, heat("29.5", where="box")),
            (20, Amend(target=2, what=heat("38.4"))),
        )
    )
    found = [(one.entry, str(one.celsius), one.where, one.pup) for one in temperatures_of(matter)]

    assert found == [(3, "35.2", "pup", 3), (4, "29.5", "box", None), (2, "38.4", "dam", None)]
