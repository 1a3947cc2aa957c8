"""The history as it was known then."""

from datetime import timedelta

import pytest
from hypothesis import given, settings

from boxlamp.engine import Transition, history_as_known, known
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Contraction, Rest, Strike
from support.made import STREAMS, at, entry
from support.nights import DEFAULT


def told(entries: tuple[Entry, ...], until: float) -> list[tuple[float, str, str, str]]:
    return [
        ((step.at - at(0)).total_seconds() / 60, step.change, step.level.word, step.rule.id)
        for step in history_as_known(entries, DEFAULT, at(until))
        if step.rule.id == "contraction-no-pup"
    ]


def test_a_rest_typed_late_leaves_what_stood_on_the_screen() -> None:
    """The call at 20 minutes stood, although a rest at 5 was typed at 25."""
    entries = (entry(1, 0, Contraction()), entry(2, 5, Rest(), typed=25))

    assert told(entries, 40) == [
        (15, "raised", "watch", "contraction-no-pup"),
        (20, "escalated", "call", "contraction-no-pup"),
        (25, "cleared", "call", "contraction-no-pup"),
    ]


def test_a_struck_birth_brings_the_alert_back_when_it_is_struck() -> None:
    """The past on the screen is not rewritten: the alert returns at the moment of the strike."""
    entries = (
        entry(1, 0, Contraction()),
        entry(2, 10, Birth(pup=1)),
        entry(3, 18, Strike(target=2, why="wrong")),
    )

    assert told(entries, 19) == [(18, "raised", "watch", "contraction-no-pup")]


@settings(max_examples=25, deadline=None)
@given(STREAMS)
def test_the_short_way_says_the_same(entries: tuple[Entry, ...]) -> None:
    """A night typed as it happened is told in one pass, exactly as moment by moment."""
    until = max((one.at for one in entries), default=at(0)) + timedelta(hours=3)
    short = history_as_known(entries, DEFAULT, until)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(known, "_typed_as_it_happened", lambda _entries: False)
        long = history_as_known(entries, DEFAULT, until)

    def key(steps: list[Transition]) -> list[tuple[object, ...]]:
        return sorted(
            (step.at, step.rule.id, step.subject, step.level, step.change) for step in steps
        )

    assert key(short) == key(long)
