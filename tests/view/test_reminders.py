"""Reminders of several pups stand in one sentence."""

from datetime import timedelta

import pytest

from boxlamp.engine import assess
from boxlamp.language import read_night
from boxlamp.model.litter import fold
from boxlamp.model.story import Story
from boxlamp.view.reminders import pups_words, reminder_lines
from support.nights import DEFAULT

NIGHT = """dam: Ash
date: 2026-03-02

02:00 pup 1 312g red
02:05 pup 2 298g blue
02:10 pup 3 305g
02:15 pup 4 dead
"""


def told(more: str, minutes: float) -> list[str]:
    """The reminders so many minutes after the last entry that name first milk."""
    story = Story(read_night(NIGHT + more, source="ash").entries)
    moment = story.entries[-1].at + timedelta(minutes=minutes)
    lines = reminder_lines(assess(story, DEFAULT).verdict(moment))
    return [line for line in lines if "first milk" in line]


def test_pups_with_one_reminder_share_a_sentence() -> None:
    """Three pups without milk are one line, told of all that are alive, the oldest first."""
    (line,) = told("", 60)
    assert line.startswith("No first milk for all 3 pups, born 1 h 15 min ago.")


@pytest.mark.parametrize(
    ("more", "named"),
    [("02:20 milk 3\n", "pups 1 and 2,"), ("02:20 milk 1\n02:21 milk 3\n", "pup 2 (marked blue),")],
)
def test_whoever_is_meant_is_named(more: str, named: str) -> None:
    """By number when some are meant, by number and mark when only one is."""
    (line,) = told(more, 58)
    assert f"for {named}" in line


def test_each_pup_has_its_own_time() -> None:
    """A pup whose time has not come is not named yet."""
    (line,) = told("", 47)  # an hour and two minutes after the first birth
    assert "for pup 1 (marked red)," in line


def test_all_pups_are_those_that_are_here() -> None:
    """The dead and those that left home are not among all."""
    litter = fold(Story(read_night(NIGHT + "02:30 left home 3\n", source="ash").entries))
    assert pups_words([1, 2], litter) == "all 2 pups"
    assert pups_words([1], litter) == "pup 1 (marked red)"
    assert pups_words([1, 4], litter) == "pups 1 and 4"


NURSING = """dam: Ash
date: 2026-03-02
weight: 6kg

02:00 pup
02:10 pup
02:20 pup
02:30 pup
02:40 pup
03:00 finished
"""


@pytest.mark.parametrize(
    ("then", "said"),
    [("", "leave for the vet now and ring on the way."), ("left for vet", "tell the vet now."),
     ("vet arrived", "tell the vet now.")],
)  # fmt: skip
def test_what_would_send_her_to_the_vet_is_told_to_who_is_there(then: str, said: str) -> None:
    """A reminder of what to look for asks nobody to leave who is on the way, or with the vet."""
    line = f"2026-03-18 08:00 {then}\n" if then else ""
    story = Story(read_night(f"{NURSING}{line}", source="ash").entries)
    moment = story.entries[0].at.replace(month=3, day=18, hour=9)
    [shown] = [one for one in reminder_lines(assess(story, DEFAULT).verdict(moment))
               if "low calcium" in one]  # fmt: skip

    assert shown.endswith(f"Take the pups off her, {said}")
