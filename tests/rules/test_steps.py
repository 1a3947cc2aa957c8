"""The newborn steps, and which of them are missing."""

from decimal import Decimal
from typing import get_args

import pytest

from boxlamp.model.happenings import (
    Birth,
    Caesarean,
    Death,
    Feed,
    PupState,
    Step,
    Temperature,
    What,
)
from boxlamp.model.litter import fold
from boxlamp.model.seen import StepName
from boxlamp.model.story import Story
from boxlamp.rules.feeding import WARM_FIRST
from boxlamp.rules.steps import NEWBORN_STEPS, missing_steps
from support.made import at, told
from support.nights import SECOND


def missing(*whats: What) -> tuple[str, ...]:
    """What is missing of pup 1 after these."""
    entries = told(*((float(minute), what) for minute, what in enumerate(whats)))
    return missing_steps(fold(Story(entries)).pups[1], entries[-1].at)


def measured(celsius: str, pup: int = 1) -> Temperature:
    """A temperature of a pup."""
    return Temperature(celsius=Decimal(celsius), where="pup", pup=pup)


def test_every_step_is_a_step_people_can_type() -> None:
    """Each once, and no other; being put to the teat is not yet first milk."""
    names = [name for name, _ in NEWBORN_STEPS]
    assert sorted([*names, "teat"]) == sorted(get_args(StepName))


def test_a_bare_birth_misses_all_but_the_sac() -> None:
    """In the order in which they are done."""
    assert missing(Birth(pup=1)) == (
        "mouth and nose", "breathing", "dried", "cord", "mark", "palate", "first milk",
    )  # fmt: skip


def test_a_birth_in_the_sac_misses_that_too() -> None:
    """Until it is open, or something shows that it must be."""
    born = Birth(pup=1, in_sac=True)
    assert missing(born)[0] == "sac open"
    for step in ("sac-open", "airway", "breathing"):
        done = Step.model_validate({"pup": 1, "step": step})
        assert "sac open" not in missing(born, done)


def test_what_was_written_down_is_not_missing() -> None:
    """Each step by its own line, a mark by the birth line, milk by a feed at the teat."""
    assert "dried" not in missing(Birth(pup=1), Step(pup=1, step="dried"))
    assert "mark" not in missing(Birth(pup=1, mark="red"))
    assert "mark" not in missing(Birth(pup=1), Step(pup=1, step="marked", finding="red"))
    assert "first milk" not in missing(Birth(pup=1), Feed(pup=1))
    assert "first milk" in missing(Birth(pup=1), Feed(pup=1, how="tube"))
    assert "first milk" in missing(Birth(pup=1), Step(pup=1, step="teat"))


def test_a_live_pup_breathes() -> None:
    """Born alive, crying or well: nobody needs to write the breath down."""
    assert "breathing" not in missing(Birth(pup=1, state="alive"))
    assert "breathing" not in missing(Birth(pup=1), PupState(pup=1, signs=("crying",)))
    assert "breathing" in missing(Birth(pup=1, state="limp"))


def test_a_bleeding_cord_is_not_done() -> None:
    """It is once it is tied or has stopped."""
    bleeding = Step(pup=1, step="cord", finding="bleeding")
    assert "cord" in missing(Birth(pup=1), bleeding)
    assert "cord" not in missing(Birth(pup=1), bleeding, Step(pup=1, step="cord", finding="tied"))


def test_a_dead_pup_misses_nothing() -> None:
    """Born dead, or dead since."""
    assert missing(Birth(pup=1, state="dead")) == ()
    assert missing(Birth(pup=1), Death(pup=1)) == ()


def test_a_pup_by_caesarean_misses_what_is_done_at_home() -> None:
    """Sac, airway, towel and cord were the surgeon's."""
    assert missing(Caesarean(), Birth(pup=1)) == ("breathing", "mark", "palate", "first milk")


@pytest.mark.parametrize("minutes", [10.0, 300.0, 60_000.0])
def test_a_cold_pup_is_warmed_before_it_is_fed(minutes: float) -> None:
    """Under 35.0 °C nothing sends it to the teat, in its first hour and in its sixth week."""
    lines: list[tuple[float, What]] = [(0, Birth(pup=1)), (minutes, measured("34.9"))]
    cold = missing_steps(fold(Story(told(*lines))).pups[1], at(minutes))
    assert cold[0] == WARM_FIRST
    assert "first milk" not in cold
    assert "palate" in cold
    lines.append((minutes + 1, measured("35.0")))
    warm = missing_steps(fold(Story(told(*lines))).pups[1], at(minutes + 1))
    assert WARM_FIRST not in warm
    assert "first milk" in warm


def test_a_pup_cold_to_the_hand_is_warmed_before_it_is_fed() -> None:
    """As one that is cold by the thermometer, for an hour, until that says better."""
    felt = PupState(pup=1, signs=("cold",))
    pup = fold(Story(told((0, Birth(pup=1)), (5, felt)))).pups[1]
    assert missing_steps(pup, at(65))[0] == WARM_FIRST
    assert WARM_FIRST not in missing_steps(pup, at(65) + SECOND)
    assert WARM_FIRST not in missing(Birth(pup=1), felt, measured("35.0"))
    assert WARM_FIRST not in missing(Birth(pup=1), felt, PupState(pup=1, signs=("well",)))


def test_a_cold_pup_that_has_had_its_milk_is_warmed_too() -> None:
    """The gate is for every feed and not for the first alone."""
    assert WARM_FIRST in missing(Birth(pup=1), Step(pup=1, step="milk"), measured("34.0"))


def test_an_old_reading_forbids_nothing() -> None:
    """It speaks for an hour, to the second."""
    pup = fold(Story(told((0, Birth(pup=1)), (5, measured("34.0"))))).pups[1]
    assert WARM_FIRST in missing_steps(pup, at(65))
    assert WARM_FIRST not in missing_steps(pup, at(65) + SECOND)


def test_a_reading_is_of_one_pup() -> None:
    """Another pup's, the dam's and the box's say nothing of it."""
    born = (Birth(pup=1), Birth(pup=2))
    for other in (measured("34.0", 2), Temperature(celsius=Decimal(34)),
                  Temperature(celsius=Decimal(24), where="box")):  # fmt: skip
        assert WARM_FIRST not in missing(*born, other)


def test_a_dead_pup_is_not_warmed() -> None:
    """Whatever its last reading was."""
    assert missing(Birth(pup=1), measured("30.0"), Death(pup=1)) == ()


def test_a_pup_that_drank_breathes() -> None:
    """First milk shows that it breathes, without a line that says so."""
    assert "breathing" in missing(Birth(pup=1))
    assert "breathing" not in missing(Birth(pup=1), Step(pup=1, step="milk"))
