"""A computer whose clock was set back: every command that judges now says so in the same words."""

from datetime import timedelta

import pytest

from boxlamp.attend.sitting import Sitting
from support.boxes import Watch, seated
from support.calls import Caller

BEHIND = (
    "The computer's clock stands 2 h 00 min before the newest line, so this is judged as of that "
    "line. Check the clock, and put the time first in what you type.\n"
)
JUDGING = (("check",), ("board",), ("call-sheet",), ("due",), ("weights",), ("kit",))


@pytest.fixture
def pushed(bramble: Caller) -> Caller:
    """She has pushed."""
    bramble.good("log", "push")
    return bramble


@pytest.mark.parametrize("words", JUDGING, ids=lambda words: words[0])
def test_a_clock_set_back_is_told_of(pushed: Caller, words: tuple[str, ...]) -> None:
    """Once, beside the answer, so that a pipe gets the answer alone."""
    pushed.now -= timedelta(hours=2)
    said = pushed(*words)

    assert said.err == BEHIND
    assert "computer's clock" not in said.out


@pytest.mark.parametrize("words", JUDGING, ids=lambda words: words[0])
def test_a_clock_that_goes_right_is_not_spoken_of(pushed: Caller, words: tuple[str, ...]) -> None:
    """Nor one that was corrected by seconds."""
    pushed.now -= timedelta(seconds=29)

    assert pushed(*words).err == ""


@pytest.mark.parametrize("words", JUDGING, ids=lambda words: words[0])
def test_another_moment_needs_no_clock(pushed: Caller, words: tuple[str, ...]) -> None:
    """What is asked of a moment by its name does not rest on the computer's clock."""
    pushed.now -= timedelta(hours=2)

    assert pushed(*words, "--at", "2026-03-02 02:20").err == ""


def test_the_console_says_so_when_it_is_opened(pushed: Caller, watch: Watch) -> None:
    """In the same words, as trouble, before anything is typed; what to do stands below."""
    with seated(pushed.journal) as here:
        watch.now = pushed.now - timedelta(hours=2)
        sitting = Sitting(here, clock=watch.clock, monotonic=watch.monotonic)

        assert sitting.message[0] == BEHIND.strip()
        assert sitting.message[1].startswith("Type what you see")
        assert sitting.mood == "trouble"
