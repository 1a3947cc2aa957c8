"""The computer's clock set forward or back by hours between two lines: nothing lost or silenced."""

import random
from datetime import timedelta
from pathlib import Path

import pytest

from boxlamp.desk.writing import write
from boxlamp.model.levels import Level
from support.boxes import TWO, Watch, seated, sitting_at
from support.calls import Caller
from support.effort import effort

TURNS = effort(4, nightly=200)
LINES = ("push", "rest", "pup dog 312g", "afterbirth", "dam collapsed", "temp 37.1", "part head",
         "discharge green", "milk 1", "note well", "waters", "ack")  # fmt: skip
JUMPS = (timedelta(0), timedelta(seconds=20), timedelta(minutes=7), timedelta(hours=3),
         timedelta(hours=-2), timedelta(minutes=-61), timedelta(hours=-9))  # fmt: skip


@pytest.mark.parametrize("hours", [-1, -2, -11])
def test_an_alert_stays_when_the_clock_is_set_back_and_more_is_typed(
    call: Caller, hours: int
) -> None:
    """What was typed has still happened, also after the next line under the earlier clock."""
    call.good("new", "--dam", "Ash", "--no-input")
    call("log", "dam", "collapsed")
    call.later(hours * 60)
    assert "GO" in call("check").out
    call("log", "note", "the clock was wrong")
    said = call("check")
    assert said.code == 1
    assert "GO" in said.out


def test_alerts_come_in_real_time_when_the_clock_is_set_back(tmp_path: Path) -> None:
    """At the box the steady clock goes on: watch, call and go come when they are due."""
    watch = Watch()
    with sitting_at(tmp_path / "journal.db", watch) as sitting:
        sitting.enter("push")
        watch.now -= timedelta(hours=2)
        heard = []
        for _ in range(31 * 6):
            watch.later(seconds=10)
            heard.append(sitting.tick())
    assert heard.index(Level.WATCH) == 15 * 6 - 1
    assert heard.index(Level.CALL) == 20 * 6 - 1
    assert heard.index(Level.GO) == 30 * 6 - 1


def test_an_unheard_go_sounds_on_when_the_clock_is_set_back(tmp_path: Path) -> None:
    """Every thirty seconds, by the steady clock, whatever the other one says."""
    watch = Watch()
    with sitting_at(tmp_path / "journal.db", watch) as sitting:
        sitting.enter("dam collapsed")
        assert sitting.tick() is Level.GO
        watch.later(seconds=40)
        assert sitting.tick() is Level.GO
        watch.now -= timedelta(hours=2)
        heard = []
        for _ in range(60):
            watch.later(seconds=10)
            heard.append(sitting.tick())
    assert heard.count(Level.GO) == 20


def test_a_clock_set_forward_raises_what_is_due(tmp_path: Path) -> None:
    """At once, and once."""
    watch = Watch()
    with sitting_at(tmp_path / "journal.db", watch) as sitting:
        sitting.enter("push")
        watch.now += timedelta(hours=3)
        watch.steady += 1
        assert sitting.tick() is Level.GO


def test_any_jumps_between_lines_lose_nothing(tmp_path: Path) -> None:
    """Numbers follow the typing, both times are kept, and no length of time is ever negative."""
    chance = random.Random(20260302)  # noqa: S311 no secret, the same jumps each time
    for turn in range(TURNS):
        now, typed = TWO, list[str]()
        with seated(tmp_path / f"{turn}.db") as here:
            for _ in range(10):
                now += chance.choice(JUMPS)
                line = chance.choice(LINES)
                written = write(here, line, now, accept=True, keep=True)
                typed.append(line)
                assert written.entry.recorded == now
                verdict = here.verdict(now)
                spans = [alert.elapsed for alert in verdict.alerts]
                spans += [clock.elapsed for clock in verdict.clocks]
                assert all(span >= timedelta(0) for span in spans), (turn, typed)
            assert [entry.text for entry in here.entries][1:] == typed
            assert [entry.id for entry in here.entries] == list(range(1, len(typed) + 2))


def test_a_line_is_written_by_the_watch_that_the_prompt_shows(tmp_path: Path) -> None:
    """With the clock set back, what is typed now still comes after what was typed before."""
    watch = Watch()
    with sitting_at(tmp_path / "journal.db", watch) as sitting:
        sitting.enter("push")
        watch.later(minutes=1)
        watch.now -= timedelta(hours=1)
        sitting.tick()
        assert "own watch" in " ".join(sitting.message)
        sitting.enter("push")

        assert sitting.here.entries[-1].at == sitting.verdict().at == TWO + timedelta(minutes=1)


@pytest.mark.parametrize(("back", "times"), [(0, 0), (29, 0), (30, 1), (7200, 1)])
def test_the_command_line_says_when_its_clock_stands_before_what_was_typed(
    call: Caller, back: int, times: int
) -> None:
    """Whoever is told that all is well must know as of when."""
    call.good("new", "--dam", "Ash", "--no-input")
    call.later(-back / 60)

    for command in ("check", "board", "call-sheet"):
        assert call(command).err.count("stands") == times, command
    assert "stands" not in call("check", "--at", "-1s").err
