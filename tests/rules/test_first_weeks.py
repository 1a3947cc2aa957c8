"""Eight weeks of a healthy litter: nothing to ring about, and no more reminders than help."""

from datetime import UTC, datetime, timedelta
from functools import cache

import pytest

from boxlamp.engine import Assessment, assess
from boxlamp.language import read_night
from boxlamp.model.entry import Entry
from boxlamp.model.story import Story
from boxlamp.rules.registry import BY_ID
from boxlamp.view.reminders import reminder_lines
from support.nights import DEFAULT

BORN = datetime(2026, 3, 1, tzinfo=UTC)
QUIET = ("dam-hot", "lochia-long", "dam-off-food", "udder")
REMINDERS = ("eclampsia-window", "temperature-due", "milestone-due")
NIGHT = """\
dam: Ash
weight: 8kg
date: 2026-03-01

2026-03-01 00:00 pup red
2026-03-01 00:01 pup
2026-03-01 00:02 pup
2026-03-01 00:03 pup
2026-03-01 00:30 finished
"""
DAYS = """\
2026-03-01 20:00 temp 38.9
2026-03-02 08:00 temp 39.1
2026-03-02 08:10 discharge green
2026-03-03 08:00 temp 38.9
2026-03-03 08:10 discharge brown
2026-03-04 08:00 temp 38.7
2026-03-05 08:00 temp 38.8
2026-03-05 08:10 discharge brown
2026-03-06 08:00 temp 38.6
2026-03-10 08:00 dam ate drank bright
2026-03-12 08:00 discharge brown streak
2026-03-12 08:10 temp 38.4
2026-03-18 08:00 discharge none
2026-03-25 08:00 dam ate
2026-04-02 08:00 temp 38.5
2026-04-20 08:00 dam bright
"""
MOST = 6
"""Lines of these reminders that may stand at once when nobody writes anything down."""


@cache
def entries(text: str) -> tuple[Entry, ...]:
    """The entries of a log."""
    return read_night(text).entries


def judged(text: str, day: float, rules: tuple[str, ...] = REMINDERS) -> Assessment:
    """The log as it stood so many days after the first birth."""
    moment = BORN + timedelta(days=day)
    return assess(Story(entries(text)).until(moment), DEFAULT, tuple(BY_ID[name] for name in rules))


def lines(day: float, *said: str) -> list[str]:
    """The reminders on the board on a day, with these lines written down by then."""
    moment = BORN + timedelta(days=day)
    text = NIGHT + "".join(f"{line}\n" for line in said)
    return list(reminder_lines(judged(text, day).verdict(moment)))


@pytest.mark.parametrize("log", [NIGHT, NIGHT + DAYS], ids=["nothing typed", "ordinary days"])
def test_eight_weeks_of_a_healthy_litter_are_quiet(log: str) -> None:
    """No fever, no udder, no refused food and no discharge of weeks."""
    end = BORN + timedelta(weeks=8)
    assert judged(log, 56, QUIET).history(end) == []


def test_a_reminder_never_becomes_an_alert() -> None:
    """Not in half a year of silence."""
    assert judged(NIGHT, 180).history(BORN + timedelta(days=180)) == []


def test_reminders_do_not_drown_the_board() -> None:
    """Nothing on the first day; later some lines, also for a small dam with nothing written."""
    assert lines(0.9) == []
    assert max(len(lines(day + 0.5)) for day in range(100)) == MOST


def test_all_are_silent_in_the_end() -> None:
    """A log that nobody goes on with asks nothing any more."""
    assert lines(90.9)
    assert lines(91.1) == []


def test_pups_with_the_same_reminder_share_a_line() -> None:
    """Each sentence reads well for one pup, for some, and for all."""
    stump = (
        "Cord stump off (`cord off`)? Look at {}. Red, wet, swollen or smelly: ring the vet now."
    )
    for said, named in (
        ((), "all 4 pups"),
        (("2026-03-05 08:00 cord off 1",), "pups 2, 3 and 4"),
        (tuple(f"2026-03-05 08:0{pup} cord off {pup}" for pup in (2, 3, 4)), "pup 1 (marked red)"),
    ):
        found = [line for line in lines(6, *said) if line.startswith("Cord")]
        assert [line.partition(" Write")[0] for line in found] == [stump.format(named)]


@pytest.mark.parametrize(
    ("word", "asked", "ring", "over"),
    [
        ("cord stump", 5, None, 14),
        ("eyes", 17, 21, 35),
        ("ears", 19, 24, 35),
        ("walking", 21, 24, 35),
        ("urine", 23, None, 35),
        ("worming", 14, None, 91),
        ("first vaccination", 42, None, 91),
        ("a chip", 49, None, 91),
    ],
)
def test_each_has_its_days(word: str, asked: int, ring: int | None, over: int) -> None:
    """Asked from one day on, the telephone named from another, and given up in the end."""

    def asks(day: float) -> list[bool]:
        """Whether each line about this says to ring the vet before anything else."""
        found = [line for line in lines(day) if word in line.casefold()]
        return [line.startswith("Ring") for line in found]

    assert asks(asked - 0.01) == []
    assert asks(asked + 0.01) == [False]
    if ring is not None:
        assert asks(ring - 0.01) == [False]
        assert asks(ring + 0.01) == [True]
    assert asks(over - 0.01) == [ring is not None]
    assert asks(over + 0.01) == []


def test_a_reminder_is_answered_for_one_or_for_all() -> None:
    """By the line of its own word, whenever it is written."""
    assert any("pups 2, 3 and 4" in line for line in lines(18, "2026-03-12 08:00 eyes open 1"))
    assert not any("Eyes" in line for line in lines(18, "2026-03-12 08:00 eyes open"))
    assert not any("yes" in line for line in lines(25, "2026-03-25 08:00 eyes open"))


def test_who_nurses_what_is_told_as_it_is_now() -> None:
    """The count is that of the pups alive and in the house."""
    assert any("nurses 4 pups" in line for line in lines(8))
    assert not any("nurses" in line for line in lines(9, "2026-03-09 08:00 died 2"))
    assert any("nurses 4 pups" in line for line in lines(39.9))
    assert not any("nurses" in line for line in lines(40.1))
