"""Small parts of lines that must not be lost: a comma, a second position, a time half said."""

from datetime import timedelta

import pytest

from boxlamp.language import Context, Heard, NotUnderstood, if_meant, read_line, say
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


@pytest.mark.parametrize(
    ("line", "typed"),
    [
        ("pup born 02:00 boy blue collar not breathing", "02:00 pup limp"),
        ("pup out! 02:00 girl, not breathing, grey", "02:00 pup limp"),
        ("pup 1 at 02:00 not breathing bad", "02:00 state 1 not-breathing"),
    ],
)
def test_a_birth_that_is_not_read_and_not_breathing_is_offered_as_a_birth(
    line: str, typed: str
) -> None:
    """With its time; a pup that is named by its number was born before."""
    assert typed in [told.rsplit("type: ", 1)[1] for told in if_meant(line, NIGHT, _nearest(line))]


def _nearest(line: str) -> str:
    return refused(line).nearest


def test_breathing_where_a_sign_is_expected_is_answered_with_its_line() -> None:
    """It ends the clock, and a note would not."""
    assert refused("state 1 breathing").nearest == "breathing 1"


@pytest.mark.parametrize(
    "line", ["pushing stopped she's resting", "stopped pushing and resting", "pushing stopped"]
)
def test_that_she_rests_now_is_the_end_of_pushing(line: str) -> None:
    """However it is said."""
    assert say(heard(line).draft.what) == "rest"


def test_who_has_not_stopped_pushing_does_not_rest() -> None:
    """It is a push, and is offered as one."""
    told = if_meant("not stopped pushing", NIGHT, _nearest("not stopped pushing"))
    assert told == ("If she pushes, type: contraction",)


@pytest.mark.parametrize("moved", ["dropped to ", "down to ", "fell to ", "has dropped to ", ""])
def test_how_a_temperature_moved_stands_before_it(moved: str) -> None:
    """The reading is what counts."""
    assert say(heard(f"temp {moved}37.1").draft.what) == "temp 37.1c"


@pytest.mark.parametrize("said", ["was ", "should be ", "should have been ", "to ", "at ", ""])
def test_a_correction_says_what_the_time_was(said: str) -> None:
    """``amend 1 was 01:10`` is an answer to what is asked, and no question."""
    assert say(heard(f"amend 1 {said}01:10").draft.what) == "amend 1 time"


def test_a_correction_of_no_entry_is_offered_in_a_form_that_is_read() -> None:
    """With its number put in it works as it stands."""
    nearest = refused("correct that was 01:10").nearest
    assert nearest == "amend N 01:10"
    assert heard(nearest.replace("N", "1"))


@pytest.mark.parametrize(("number", "read"), [("112", True), ("20 min", False), ("99", False)])
def test_a_number_to_ring_has_three_digits(number: str, *, read: bool) -> None:
    """A while typed in the place of a number would be told to ring in every alert."""
    if read:
        heard(f"set night-phone {number}")
    else:
        assert "nobody can be rung" in refused(f"set night-phone {number}").why
