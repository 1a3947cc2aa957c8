"""Small parts of lines that must not be lost: a comma, a second position, a time half said."""

from datetime import timedelta

import pytest

from boxlamp.language import Context, Heard, NotUnderstood, read_line, say
from boxlamp.model.entry import Draft
from boxlamp.model.happenings import Birth
from support.happenings import NOW

RED = Draft(at=NOW - timedelta(hours=1), what=Birth(pup=1, mark="red")).numbered(1, "ash", NOW)
NIGHT = Context.of([RED], NOW, "Europe/Prague")


def heard(line: str) -> Heard:
    return read_line(line, NIGHT)


def refused(line: str) -> NotUnderstood:
    with pytest.raises(NotUnderstood) as found:
        heard(line)
    return found.value


@pytest.mark.parametrize("ounces", ["3.5", "3,5"])
def test_ounces_have_a_comma_or_a_point(ounces: str) -> None:
    """Whoever types them beside pounds may be used to either."""
    assert say(heard(f"pup dog 1lb {ounces}oz").draft.what) == "pup 2 dog 552.8g"


@pytest.mark.parametrize(
    "line", ["pup head first tail first", "pup tail first head first", "pup breech head first"]
)
def test_two_positions_of_one_pup_are_asked_about(line: str) -> None:
    """Whichever of them comes last, none is dropped."""
    assert "two different positions" in refused(line).why


@pytest.mark.parametrize("time", ["half past 25", "half past 13 pm", "13 minutes past 25"])
def test_a_spoken_time_that_cannot_be_is_named(time: str) -> None:
    """And the line is offered without it."""
    answer = refused(f"{time} pup")

    assert answer.why.startswith(f"There is no clock time {time}: ")
    assert answer.nearest == "pup"


def test_a_time_half_said_is_asked_for_with_the_birth() -> None:
    """The pup is not offered as one that is born now."""
    assert "type: `HH:MM pup`." in refused("quarter past she popped one out").why


@pytest.mark.parametrize(
    ("line", "day"), [("2025-03-02 mated", "2025-03-02"), ("2025-03-02 02:00 waters", "2025-03-02")]
)
def test_a_day_far_from_all_others_is_named_in_the_question(line: str, day: str) -> None:
    """It is most likely the year that is wrong."""
    assert [day in doubt.sentence for doubt in heard(line).doubts] == [True]


def test_only_its_own_words_are_looked_for_a_weight_that_it_had() -> None:
    """``from 300`` is no time, and what it was goes behind a semicolon."""
    assert refused("weigh 1 340 g up from 300").nearest == "weigh 1 340g"


@pytest.mark.parametrize("line", ["temp 45", "temp 21"])
def test_a_reading_that_can_hardly_be_says_what_to_look_at(line: str) -> None:
    """A question without an answer to copy still says what may be wrong."""
    [doubt] = heard(line).doubts
    assert doubt.fix
    assert doubt.sentence.startswith(line.removeprefix("temp "))


def test_what_was_long_ago_is_asked_of_a_birth_and_not_of_a_mating() -> None:
    """The question names the time as it was typed."""
    [doubt] = heard("20h ago waters").doubts
    assert doubt.sentence.startswith("20h ago is ")
    assert not heard("30 days ago mated").doubts


def test_a_limit_is_told_in_hours_minutes_and_seconds() -> None:
    """As it is typed, so that it can be typed again."""
    line = "limit gap-more-expected call 1h30m20s by Dr Novak; calm"
    assert say(heard(line).draft.what).startswith("limit gap-more-expected call 1h30m20s by")
