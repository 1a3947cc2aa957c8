"""A pass over a record grows with its length and no faster, whatever the record is full of.

Steps are counted and not timed: every line of Python that is run, so that a loop over all entries
at each entry shows. What a pass costs at any length, such as what is foreseen of twelve pups, is
left out by looking at what more entries add.
"""

import sys
from collections.abc import Callable
from datetime import timedelta
from types import FrameType
from typing import TYPE_CHECKING

import pytest

from boxlamp.engine import Assessment, assess
from boxlamp.model.entry import Entry
from boxlamp.model.story import Story
from support.long_logs import KINDS, Record
from support.nights import DEFAULT

if TYPE_CHECKING:
    from _typeshed import TraceFunction

FEW = 300
MOST = 2.1
"""Twice as many more entries add twice the steps; sorting and searching add a little to that."""


def steps(work: Callable[[], object]) -> int:
    """How many lines of Python a piece of work runs."""
    count = 0

    def note(_frame: FrameType, event: str, _what: object) -> "TraceFunction":
        nonlocal count
        count += event == "line"
        return note

    before = sys.gettrace()
    sys.settrace(note)
    try:
        work()
    finally:
        sys.settrace(before)
    return count


def whole(entries: list[Entry]) -> Assessment:
    """One pass, with all that is asked of it when a line has been typed."""
    assessment, now = assess(Story(entries), DEFAULT), entries[-1].recorded
    assessment.verdict(now)
    assessment.history(now)
    assessment.story.until(entries[len(entries) // 2].at)
    return assessment


def _pass_over(entries: list[Entry]) -> int:
    return steps(lambda: whole(entries))


@pytest.mark.parametrize("make", KINDS.values(), ids=KINDS)
def test_a_pass_grows_with_the_record(make: Record) -> None:
    """From two to four times as many entries adds about twice what the first doubling added."""
    whole(make(FEW))  # what is looked up only once, such as the protocol's bands, is not counted
    once, twice, four = (_pass_over(make(times * FEW)) for times in (1, 2, 4))
    assert four - twice <= MOST * (twice - once)


@pytest.mark.parametrize("make", KINDS.values(), ids=KINDS)
def test_what_the_board_asks_every_second_does_not_grow(make: Record) -> None:
    """The verdict looks at what stands now: a record four times as long adds hardly a step."""
    asked = []
    for entries in (make(FEW), make(4 * FEW)):
        assessment, now = whole(entries), entries[-1].recorded + timedelta(minutes=7)
        asked.append(steps(lambda one=assessment, now=now: one.verdict(now)))  # type: ignore[misc]
    assert asked[1] <= 1.5 * asked[0]
