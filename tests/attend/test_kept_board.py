"""What the console keeps between two keys is what it would find if it looked again."""

from datetime import timedelta
from functools import partial

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boxlamp.attend.sitting import Sitting
from boxlamp.desk.kept import Kept
from boxlamp.view.board import board
from support.boxes import Watch

asked = st.lists(st.tuples(st.integers(0, 2), st.sampled_from("ab")), max_size=20)


@given(asked)
def test_a_kept_answer_is_the_right_one_and_found_only_when_the_question_changes(
    questions: list[tuple[int, str]],
) -> None:
    """Every answer is that of its own question; the same question in a row is looked up once."""
    kept: Kept[str] = Kept()
    found: list[tuple[int, str]] = []

    def find(question: tuple[int, str]) -> str:
        found.append(question)
        return f"{question}"

    for question in questions:
        assert kept.answer(question, partial(find, question)) == f"{question}"

    assert found == [
        one for place, one in enumerate(questions) if questions[place - 1 : place] != [one]
    ]


def test_keys_within_a_second_meet_the_same_board(sitting: Sitting, watch: Watch) -> None:
    """Nothing on the board changes between two ticks, so nothing is worked out again."""
    first = sitting.board()
    watch.now += timedelta(milliseconds=400)

    assert sitting.board() is first
    assert sitting.sheet() is sitting.sheet()


@pytest.mark.parametrize("later", [timedelta(seconds=1), timedelta(hours=1), timedelta(hours=-1)])
def test_every_second_is_judged_for_itself(
    sitting: Sitting, watch: Watch, later: timedelta
) -> None:
    """A second on, or the clock set anew: the board is that of the new second."""
    sitting.enter("push")
    sitting.board()
    watch.now += later

    here = sitting.here
    assert sitting.verdict().at == here.verdict(watch.now).at
    assert sitting.board() == board(here.verdict(watch.now), here.entries, here.zone)


def test_a_line_is_on_the_board_in_the_very_second_it_was_written(sitting: Sitting) -> None:
    """The record grew, so the board is worked out anew though no second has gone by."""
    assert not sitting.board().pups
    sitting.enter("pup dog 312g red")

    assert [pup.weight for pup in sitting.board().pups] == ["312 g"]
    sitting.undo()
    assert not sitting.board().pups
