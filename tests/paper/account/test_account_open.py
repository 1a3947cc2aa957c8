"""What is still open, on paper; and every part of the account at every hour of long nights."""

from datetime import datetime

import pytest
from hypothesis import given, settings

from boxlamp.model.entry import Entry
from boxlamp.paper.account.afterbirths import afterbirths_of
from boxlamp.paper.account.dam import dam_of, due_of
from boxlamp.paper.account.labour import longest_interval, pushing_of, stages_of
from boxlamp.paper.account.matter import Matter
from boxlamp.paper.account.models import OpenPoint
from boxlamp.paper.account.open_points import open_points
from boxlamp.paper.account.pups import pups_of
from support.accounts import matter_of
from support.made import STREAMS
from support.short_nights import clock, judged, long_nights, moments_of

NIGHTS = long_nights()
ORDER = ("alert", "afterbirth", "finish", "next", "reminder")


def of_kind(kind: str, matter: Matter) -> list[OpenPoint]:
    """The open points of one kind."""
    return [point for point in open_points(matter) if point.kind == kind]


def test_an_alert_says_when_it_will_be_worse() -> None:
    """Sixteen minutes of pushing: watch now, and the call in four minutes."""
    [point] = of_kind("alert", judged("02:00 push\n", clock(2, 16)))
    assert point.words == "Strong contractions began 16 min ago and no pup has come."
    assert (point.level, point.when, point.becomes) == ("watch", clock(2, 20), "call")
    assert not point.do


def test_the_worst_alert_has_nothing_worse_ahead() -> None:
    """At the highest level there is no time to look again."""
    point = of_kind("alert", judged("02:00 push\n", clock(2, 40)))[0]
    assert (point.level, point.when, point.becomes) == ("go", None, None)


@pytest.mark.parametrize(
    ("lines", "advice"),
    [
        ("02:00 push\n", "Ring the vet now."),
        ("02:00 push\n02:10 vet arrived\n", "Tell the vet who is with her, now."),
    ],
)
def test_a_call_says_first_what_brings_the_vet_in(lines: str, advice: str) -> None:
    """In the words of the board: who is with her already is told, and nobody is rung."""
    point = of_kind("alert", judged(lines, clock(2, 25)))[0]
    assert (point.level, point.do) == ("call", advice)


def test_a_go_on_the_way_says_to_drive_on() -> None:
    """Who has left already is not sent off once more."""
    point = of_kind("alert", judged("02:00 push\n02:32 left for vet\n", clock(2, 40)))[0]
    assert (point.level, point.do) == ("go", "Drive on to the vet, and ring ahead to say this.")


def test_every_call_and_go_of_every_night_has_its_advice() -> None:
    """At whatever hour a paper is printed."""
    for entries in NIGHTS.values():
        for moment in list(moments_of(entries))[::5]:
            for point in of_kind("alert", matter_of(entries, moment)):
                assert bool(point.do) == (point.level != "watch")
                assert (point.when is None) == (point.becomes is None)


def test_owed_afterbirths_are_said_together_with_their_time() -> None:
    """The pups are named, and the time is that of the first that would be raised."""
    matter = judged("02:00 pup\n02:30 pup red\n02:40 afterbirth\n", clock(2, 50))
    [point] = of_kind("afterbirth", matter)
    assert point.words == "Afterbirth not accounted for yet: pup 2 (marked red)."
    assert (point.level, point.when) == (None, clock(4, 30))


def test_an_afterbirth_whose_alert_stands_is_said_once() -> None:
    """The alert names the pup; no second line does, nor a clock about afterbirths."""
    matter = judged("02:00 pup\n02:05 milk 1\n", clock(4, 10))
    told = [point for point in open_points(matter) if "fterbirth" in point.words]
    assert [point.kind for point in told] == ["alert"]


def test_a_next_deadline_names_the_clock_once() -> None:
    """One line for each rule, the soonest of it, and none for what an alert or reminder tells."""
    matter = judged("02:00 pup\n02:05 pup\n", clock(2, 10), "expected: 4 xray\n")
    words = [point.words for point in of_kind("next", matter)]
    assert "Being timed: First milk to come, pup 1." in words
    assert "Being timed: Since the last pup." in words
    assert not [one for one in words if "pup 2" in one or "fterbirth" in one or "down" in one]


def test_a_reminder_becomes_an_alert_at_its_time() -> None:
    """Pups with the same reminder share it, and their clock is told there and not again."""
    matter = judged("02:00 pup\n02:05 pup\n", clock(3, 10))
    [point] = [one for one in of_kind("reminder", matter) if "first milk" in one.words]
    assert point.words.startswith("No first milk for all 2 pups")
    assert point.when == clock(4)
    assert not [one for one in of_kind("next", matter) if "milk" in one.words]


def test_nobody_is_shown_the_words_of_the_entry_language() -> None:
    """A vet who reads it types nothing: the sentence stands without them."""
    matter = judged("02:00 pup\n02:30 afterbirth\n03:00 finished\n", clock(3, day=9))
    points = open_points(matter)
    assert any("Cord stump off? Look at" in point.words for point in points)
    assert any(point.words.endswith("Take it and write it down.") for point in points)
    assert not any("`" in point.words for point in points)


@pytest.mark.parametrize(
    ("lines", "at", "asked"),
    [
        ("02:00 push\n02:20 pup\n", clock(2, 30), False),  # in the middle of it
        ("02:20 pup\n", clock(2, day=9), True),
        ("02:20 pup\n02:30 rest\n", clock(4), True),  # the one counted is out
        ("02:20 pup\n02:30 finished\n", clock(2, day=9), False),
        ("02:20 pup\n02:30 finished\n03:00 pup\n", clock(3, day=9), True),
        ("02:00 caesarean\n02:10 pup\n", clock(4), True),
        ("02:00 sign panting\n", clock(4), False),
    ],
)
def test_an_end_that_was_not_written_down_is_asked_for(
    lines: str, at: datetime, *, asked: bool
) -> None:
    """Once labour goes on no more and nobody has called it finished."""
    assert bool(of_kind("finish", judged(lines, at, "expected: 1 xray\n"))) is asked


def test_a_quiet_litter_has_nothing_open() -> None:
    """Before anything happens there is nothing to do."""
    assert open_points(judged("02:00 note box ready\n")) == ()


@settings(max_examples=60, deadline=None)
@given(STREAMS)
def test_open_points_are_in_order_and_said_once(entries: tuple[Entry, ...]) -> None:
    """Kinds follow one another by weight, no sentence comes twice, no time is past."""
    matter = matter_of(entries)
    points = open_points(matter)
    places = [ORDER.index(point.kind) for point in points]
    assert places == sorted(places)
    assert len({point.words for point in points}) == len(points)
    assert all(point.when is None or point.when > matter.verdict.at for point in points)
    assert len(of_kind("alert", matter)) == len(matter.verdict.alerts)


@pytest.mark.parametrize("name", NIGHTS, ids=str)
def test_every_part_is_made_at_every_hour_of_every_night(name: str) -> None:
    """Nothing later than the moment is told, and no part breaks in the middle of anything."""
    entries = NIGHTS[name]
    for at in moments_of(entries):
        matter = matter_of(entries, at)
        stages, pups = stages_of(matter), pups_of(matter)
        dam_of(matter), due_of(matter), pushing_of(matter), longest_interval(matter)
        points = open_points(matter)

        born = [one.at for one in matter.verdict.story.entries if one.what.kind == "birth"]
        assert [one.born for one in pups] == born
        assert afterbirths_of(matter).pups == len(born)
        assert all(one.end is None or one.end <= at for one in stages)
        assert all(one.when is None or one.when > at for one in points)
