"""The phase of the whelping, in the head of the board and in the list of litters."""

from boxlamp.model.happenings import Birth, Contraction, Finished, What
from boxlamp.model.litter import fold
from boxlamp.model.story import Story
from boxlamp.view.board import phase_words
from support.made import at, told

FIRST, OVER = Birth(pup=1), Finished()


def phase(*lines: tuple[int, What]) -> str:
    """What is said of the phase an hour after two."""
    return phase_words(fold(Story(told(*lines))), at(60))


def test_labour_counts_from_its_first_line() -> None:
    """The birth that follows begins nothing anew."""
    assert phase((10, Contraction()), (40, FIRST)) == "in labour, 50 min"


def test_what_was_called_finished_too_early_goes_on() -> None:
    """A pup after `finished` is labour again, not the first minutes of it."""
    assert phase((10, FIRST), (30, OVER)) == "after whelping, 30 min"
    assert phase((10, FIRST), (30, OVER), (50, Birth(pup=2))) == "in labour again, 10 min"
    assert phase((10, FIRST), (30, OVER), (50, Birth(pup=2)), (55, OVER)) == (
        "after whelping, 5 min"
    )
