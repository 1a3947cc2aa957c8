"""Who says how long she has pushed has told when it began, and that is never lost."""

from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boxlamp.language import Context, Heard, NotUnderstood, if_meant, read_line, say
from boxlamp.model.entry import Draft, Entry
from boxlamp.model.happenings import (
    Birth,
    Caesarean,
    Contraction,
    Finished,
    Rest,
    Temperature,
    What,
)
from support.happenings import NOW

HOUR, MINUTE, SECOND = timedelta(hours=1), timedelta(minutes=1), timedelta(seconds=1)


def box(*rows: tuple[timedelta, What]) -> Context:
    """02:14:05 in Prague, with these facts so long ago."""
    entries: list[Entry] = [
        Draft(at=NOW - ago, what=what).numbered(number, "night", NOW)
        for number, (ago, what) in enumerate(rows, start=1)
    ]
    return Context.of(entries, NOW, "Europe/Prague")


def heard(line: str, *rows: tuple[timedelta, What]) -> Heard:
    return read_line(line, box(*rows))


def refused(line: str, *rows: tuple[timedelta, What]) -> NotUnderstood:
    with pytest.raises(NotUnderstood) as found:
        heard(line, *rows)
    return found.value


@pytest.mark.parametrize(
    ("line", "ago", "strength"),
    [
        ("been pushing for an hour", 60, "unspecified"),
        ("shes been pushing 20 minutes", 20, "unspecified"),
        ("she's been pushing 20 minutes", 20, "unspecified"),
        ("she has been pushing for 2 hours", 120, "unspecified"),
        ("pushing hard for 40 min no pup", 40, "strong"),
        ("pushing hard for 40 min, and still no pup", 40, "strong"),
        ("pushing for half an hour", 30, "unspecified"),
        ("pushing for the last hour", 60, "unspecified"),
        ("pushing for the last half hour", 30, "unspecified"),
        ("pushing for the past 20 minutes", 20, "unspecified"),
        ("still straining for an hour and a half nothing coming", 90, "unspecified"),
        ("1h20m pushing", 80, "unspecified"),
        ("been pushing weakly for 25 min now help", 25, "weak"),
        ("having contractions for 2 hours", 120, "unspecified"),
        ("mum has been pushing 10 mins.", 10, "unspecified"),
    ],
)
def test_how_long_she_has_pushed_says_when_it_began(line: str, ago: int, strength: str) -> None:
    """A push so long ago: the clock counts from there, and nothing is asked."""
    found = heard(line)

    assert found.draft.what == Contraction.model_validate({"strength": strength})
    assert found.draft.at == NOW.replace(microsecond=0) - ago * MINUTE
    assert found.draft.certainty == "seen"
    assert found.doubts == ()


@pytest.mark.parametrize("about", ["about", "nearly", "over", "more than", "at least"])
def test_about_so_long_is_an_estimate(about: str) -> None:
    """The record says that the time is about right; a note stays with it."""
    draft = heard(f"been pushing for {about} an hour; Ash").draft

    assert (draft.certainty, draft.note) == ("estimated", "Ash")
    assert draft.at == NOW.replace(microsecond=0) - HOUR


ENDINGS = [Birth(pup=1), Rest(), Caesarean(), Finished()]


@pytest.mark.parametrize("what", ENDINGS)
@pytest.mark.parametrize("after", [-SECOND, 0 * SECOND, SECOND, 59 * MINUTE])
@pytest.mark.parametrize(
    "line", ["been pushing for an hour", "pushing since an hour ago", "push since 01:14:05"]
)
def test_what_ended_her_pushing_since_does_not_hide_the_push(
    line: str, what: What, after: timedelta
) -> None:
    """From the very second it counts from just after, for a push before a birth runs no clock."""
    hour = NOW.replace(microsecond=0) - HOUR
    found = heard(line, (NOW - hour - after, what))
    hidden = after >= 0 * SECOND

    assert found.draft.what == Contraction()
    assert found.draft.at == (hour + after + SECOND if hidden else hour)
    assert (found.draft.certainty == "estimated") == hidden
    assert ("counted from just after what ended it since" in found.echo) == hidden
    assert ("put that time first: HH:MM contraction" in found.echo) == hidden


def test_what_ended_it_just_now_leaves_a_push_now() -> None:
    """A push that is yet to come would be asked about."""
    found = heard("been pushing for an hour", (0 * SECOND, Birth(pup=1)))

    assert found.draft.at == NOW.replace(microsecond=0)
    assert not found.doubts


@pytest.mark.parametrize("line", ["push an hour ago", "an hour ago push", "push at 1:14am"])
def test_a_push_of_then_stays_one(line: str) -> None:
    """Who writes down what was before a birth catches up, and nothing is taken as of now."""
    found = heard(line, (MINUTE, Birth(pup=1)))

    assert found.draft.at < NOW - 50 * MINUTE
    assert "counted from" not in found.echo


def test_the_last_that_ended_it_is_named() -> None:
    """What stands in the way is said; what ended nothing is not."""
    rows = ((40 * MINUTE, Birth(pup=1)), (20 * MINUTE, Rest()), (MINUTE, Temperature(celsius=38)))

    assert "ended it since: 01:54:05 rest." in heard("pushing for an hour", *rows).echo


@pytest.mark.parametrize(
    "line",
    ["not pushing for an hour", "no pushing for an hour", "stopped pushing for 20 min",
     "hasn't been pushing for an hour", "contractions 5 minutes apart", "pushing every 5 minutes",
     "nothing pushing for an hour", "was pushing for an hour", "had been pushing for an hour",
     "contractions for a minute", "pushing for an hour?", 'pushing "for" an hour',
     "pushing 2 hours after pup 1", "pushing 1.5 hours", "pushing 20-30 minutes",
     "pushing 1 1/2 hours", "pushing 2 hours 30", "pushing for an hour green"],
)  # fmt: skip
def test_what_is_no_length_of_pushing_is_not_taken_for_one(line: str) -> None:
    """A denial, a distance, what is over, or half of a length: nothing is made up."""
    refused(line)


@pytest.mark.parametrize(
    ("line", "hint"),
    [
        ("been pushing on and off for an hour", "an hour ago contraction"),
        ("been pushing on and off for about an hour", "~an hour ago contraction"),
        ("pushing hard on and off for 20 min", "20 min ago contraction"),
        ("pushed for an hour", "an hour ago contraction"),
        ("pushing 1.5 hours", "HH:MM contraction"), ("been pushing for hours", "HH:MM contraction"),
        ("been pushing all night", "HH:MM contraction"),
        ("pushing every 5 minutes", "contraction"), ("push for 20 min", "20 min ago push"),
        ("02:10 been pushing for an hour", "02:10 contraction; been pushing for an hour"),
    ],
)  # fmt: skip
def test_a_hint_keeps_how_long(line: str, hint: str) -> None:
    """Copied without it, the clock would start too late."""
    answer = refused(line)

    assert answer.nearest == hint
    if "HH:MM" not in hint:
        assert isinstance(heard(hint).draft.what, Contraction)


@pytest.mark.parametrize(
    ("line", "to_type"),
    [
        ("been pushing on and off for an hour nothing comes", "an hour ago contraction"),
        ("been pushing on and off for hours nothing comes", "HH:MM contraction"),
        ("been pushing on and off nothing comes", "contraction"),
        ("02:10 been pushing on and off nothing comes", "02:10 contraction"),
    ],
)
def test_a_danger_keeps_how_long(line: str, to_type: str) -> None:
    """The same of the line that is offered for what was not read."""
    assert if_meant(line, box()) == (f"If she has pushed and no pup comes, type: {to_type}",)


@pytest.mark.parametrize(
    ("line", "to_type"),
    [
        ("head stuck for 20 min", "20 min ago part head"),
        ("head stuck 20 min", "20 min ago part head"),
        ("feet showing for half an hour", "half an hour ago part feet"),
        ("shes been bleeding for an hour", "an hour ago discharge red heavy"),
        ("head stuck for 20 min calling the vet", "20 min ago part head"),
        ("head stuck, vet in 20 min", "part head"),
        ("head stuck 20 min till the vet", "part head"),
        ("head stuck, last pup 20 min", "part head"),
        ("head stuck, no change for 20 min", "part head"),
        ("head stuck for 20 min or for an hour", "part head"),
        ("02:10 head stuck for 20 min", "02:10 part head"),
        ("head stuck", "part head"),
    ],
)
def test_any_danger_keeps_how_long_it_has_lasted(line: str, to_type: str) -> None:
    """Where the line surely tells it of the danger; of nothing else is it made a time."""
    assert [said.rsplit("type: ", 1)[1] for said in if_meant(line, box())][:1] == [to_type]


@pytest.mark.parametrize(
    ("line", "hint"),
    [
        ("head stuck for 20 min", "20 min ago part head"),
        ("head stuck, vet in 20 min", "part head"),
        ("02:10 head stuck for 20 min", "02:10 part head"),
    ],
)
def test_the_hint_of_a_danger_keeps_it_too(line: str, hint: str) -> None:
    """Whichever of the two is copied, the clock starts when it should."""
    assert refused(line).nearest == hint


@pytest.mark.parametrize(
    ("line", "to_type"),
    [
        ("no pup yet pushing for 1h20", "1h20 ago contraction"),
        ("no pup after 20 min of hard pushing", "20 min ago contraction"),
        ("no pup for an hour, pushing", "HH:MM contraction"),
        ("no pup and pushing every 5 min", "contraction"),
    ],
)
def test_the_hour_of_something_else_is_left_open(line: str, to_type: str) -> None:
    """``no pup for an hour`` does not say that she has pushed for one."""
    assert [said.rsplit("type: ", 1)[1] for said in if_meant(line, box())] == [to_type]


@pytest.mark.parametrize("line", ["pushing for 1h20", "1h20 of pushing", "pushing 1h20 no pup"])
def test_hours_and_minutes_may_be_written_in_one(line: str) -> None:
    """Read, or offered with all of it."""
    try:
        typed = line
        heard(line)
    except NotUnderstood as answer:
        typed = answer.nearest

    assert heard(typed).draft.at == NOW.replace(microsecond=0) - 80 * MINUTE


@pytest.mark.parametrize(
    ("line", "strength"),
    [
        ("shes pushing hard and nothing is coming", "strong"),
        ("pushing hard but still nothing's coming", "strong"),
        ("pushing but nothing is coming", "unspecified"), ("pushing, no pup", "unspecified"),
        ("still pushing no pup yet", "unspecified"), ("been pushing", "unspecified"),
        ("shes been straining and no puppy", "unspecified"),
    ],
)  # fmt: skip
def test_a_push_that_brings_nothing_is_a_push(line: str, strength: str) -> None:
    """One seen now."""
    draft = heard(line).draft

    assert draft.what == Contraction.model_validate({"strength": strength})
    assert draft.at == NOW.replace(microsecond=0)


@pytest.mark.parametrize("line", ["pushing nothing", "contractions nothing yet", "nothing coming"])
def test_nothing_alone_may_say_that_there_was_no_push(line: str) -> None:
    """So it is not taken for one."""
    refused(line)


def test_a_file_has_no_now_to_count_from() -> None:
    """There the line is not read, and no time is made up."""
    context = Context(NOW, "Europe/Prague", after=NOW)
    with pytest.raises(NotUnderstood) as found:
        read_line("been pushing for an hour", context)
    assert "ago" not in found.value.nearest


@given(st.integers(1, 23), st.sampled_from(["hours", "h", "hrs"]), st.booleans())
def test_it_is_written_back_as_a_push_of_its_own_time(hours: int, unit: str, hard: bool) -> None:  # noqa: FBT001 - a drawn value
    """What it was taken to mean reads the same again."""
    draft = heard(f"been pushing {'hard ' if hard else ''}for {hours} {unit}").draft
    again = read_line(f"{draft.at:%Y-%m-%dT%H:%M:%SZ} {say(draft.what)}", box()).draft

    assert (again.what, again.at) == (draft.what, draft.at)
