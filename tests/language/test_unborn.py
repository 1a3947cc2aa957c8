"""A line about a pup that was not yet born then is asked about, unless it must not wait."""

import pytest

from boxlamp.language import NotUnderstood, read_line
from support.heard import box

BORN = ("02:00 pup dog 300g", "02:20 pup bitch red")


def asked(line: str, *more: str) -> list[str]:
    """The codes of what is asked about a line."""
    return [doubt.code for doubt in read_line(line, box(*BORN, *more)).doubts]


@pytest.mark.parametrize(
    "line",
    ["02:14 milk 2", "02:14:59 milk 2", "02:10 weigh red 290g", "02:10 died 2", "02:10 cord 2",
     "02:10 round 1 300 2 290"],
)  # fmt: skip
def test_a_pup_that_was_born_later(line: str) -> None:
    """It may be another pup, or the birth is written down too late: both are said."""
    (doubt,) = read_line(line, box(*BORN)).doubts

    assert doubt.code == "unborn"
    assert "born later, at 02:20" in doubt.sentence
    assert doubt.fix.startswith("If it was born earlier: amend 3 02:1")


@pytest.mark.parametrize("line", ["02:20 milk 2", "02:15 milk 2", "02:10 milk 1", "~02:10 milk 2"])
def test_a_few_minutes_or_about_is_no_contradiction(line: str) -> None:
    """A birth is often typed when the pup already breathes."""
    assert asked(line) == []


def test_a_birth_to_the_second_and_a_step_to_the_minute() -> None:
    """Five minutes are counted from the minute of the birth, to the second."""
    late = ("02:40:30 pup",)

    assert asked("02:35 dried 3", *late) == []
    assert asked("02:34:59 dried 3", *late) == ["unborn"]


def test_a_birth_about_then_is_not_held_to_the_minute() -> None:
    """Nobody knows when it was."""
    assert asked("02:25 milk 3", "~02:40 pup") == []


def test_a_sign_that_must_not_wait_is_taken_and_answered() -> None:
    """The clock of a limp pup runs; the answer says what does not fit."""
    heard = read_line("02:10 2 limp", box(*BORN))

    assert heard.doubts == ()
    assert "pup 2 (red) is written down as born later, at 02:20" in heard.echo


def test_a_correction_is_not_asked() -> None:
    """Who amends knows what stands."""
    assert asked("amend 3 02:10") == []
    assert asked("amend 4 02:10", "02:30 milk 2") == []


@pytest.mark.parametrize("line", ["pup 2 35 degrees", "pup 1 34.5"])
def test_how_warm_a_pup_is_is_not_offered_as_a_weight(line: str) -> None:
    """No pup weighs thirty-five grams: the line that is offered is a temperature."""
    with pytest.raises(NotUnderstood) as refused:
        read_line(line, box(*BORN))
    assert refused.value.nearest.startswith(f"temp pup {line[4]} ")


def test_a_sign_of_nobody_after_a_birth_typed_late_is_asked_about() -> None:
    """The pup typed last and the pup born last are two: neither is guessed."""
    assert asked("limp", "05:25 pup") == []
    with pytest.raises(NotUnderstood, match="Which pup"):
        read_line("limp", box("05:25 pup", "2026-03-02 04:00 pup"))
