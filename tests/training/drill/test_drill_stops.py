from datetime import datetime

import pytest
from hypothesis import given, settings

from boxlamp.model.entry import Entry
from boxlamp.model.levels import Level
from boxlamp.training.drill.acts import act_of_alert
from boxlamp.training.drill.night import Choice, PastNight
from boxlamp.training.drill.points import MOST, Stop, stops_of
from boxlamp.training.drill.telling import heading_lines, stop_lines
from boxlamp.view.board import message_words
from support.drills import EVERY, SHIPPED, cut_off, night_of, shown, stops_in
from support.made import STREAMS
from support.nights import DEFAULT

NIGHTS = pytest.mark.parametrize("name", EVERY, ids=shown)


def told(night: PastNight, stops: tuple[Stop, ...], place: int) -> str:
    return " ".join(" ".join(stop_lines(night, stops, place)).split())


@NIGHTS
def test_the_same_night_has_the_same_stops(name: str) -> None:
    """In order of time, each once, within the night, and not too many."""
    night, stops = night_of(name), stops_in(name)

    assert stops_of(PastNight(night.entries, DEFAULT, night.end)) == stops
    assert [stop.at for stop in stops] == sorted(stop.at for stop in stops)
    assert len({(stop.at, stop.kind) for stop in stops}) == len(stops)
    assert 1 <= len(stops) <= MOST
    assert all(night.begins <= stop.at <= night.end for stop in stops)


@NIGHTS
def test_nobody_is_asked_while_a_vet_is_with_her(name: str) -> None:
    """A level is asked only where a person can still decide."""
    night = night_of(name)

    assert not any(night.in_hands(stop.at) for stop in stops_in(name) if stop.kind == "level")


@NIGHTS
def test_every_go_is_asked_at_its_second(name: str) -> None:
    """Each rule's first go at which somebody can decide has a stop of its own, up to four."""
    night, stops = night_of(name), stops_in(name)
    gone: dict[str, datetime] = {}
    for rise in night.rises:
        if rise.level is Level.GO and rise.at >= night.begins and not night.in_hands(rise.at):
            gone.setdefault(rise.rule.id, rise.at)
    asked = {stop.rise.at for stop in stops if stop.rise is not None}

    assert set(list(gone.values())[:4]) <= asked


@NIGHTS
def test_a_stop_before_a_limit_asks_for_less(name: str) -> None:
    """Where a rise is asked, the level is reached at that second and not one before."""
    night = night_of(name)
    for stop in stops_in(name):
        if stop.kind == "level" and stop.rise is not None:
            assert night.right(stop.at) == Choice(stop.rise.level)
            assert stop.rise.at == stop.at


@pytest.mark.parametrize("name", SHIPPED, ids=shown)
def test_enough_stops_are_calm(name: str) -> None:
    """In every shipped night at least three of the decisions may be to carry on."""
    night = night_of(name)
    levels = [stop for stop in stops_in(name) if stop.kind == "level"]
    calm = [stop for stop in levels if Choice.CARRY_ON in night.fair(stop.at)]

    assert len(calm) >= 3, [stop.at for stop in levels]


@NIGHTS
def test_a_stop_says_nothing_of_alerts(name: str) -> None:
    """No sentence of an alert, nothing it tells to do, no mark, no limit that is near."""
    night, stops = night_of(name), stops_in(name)
    for place, stop in enumerate(stops):
        text = told(night, stops, place)
        verdict = night.verdict(stop.known)
        if stop.kind == "act":
            continue  # its four options are steps on purpose; two of them may be an alert's
        for alert in verdict.alerts:
            assert message_words(alert, verdict.litter) not in text
            assert not any(step in text for step in alert.do)
        assert "!!" not in text
        assert not any(word in text for word in ("WATCH", "CALL", "GO ", "limit", "comes at"))


@NIGHTS
def test_a_stop_knows_nothing_of_the_future(name: str) -> None:
    """It reads the same when nothing after it was ever typed, but for the line it asks for."""
    night, stops = night_of(name), stops_in(name)
    for place, stop in enumerate(stops):
        past = cut_off(night, stop.known, keep=stop.entry)

        assert told(past, stops, place) == told(night, stops, place)
    start = cut_off(night, night.begins)
    assert list(heading_lines(start)) == list(heading_lines(night))


@settings(max_examples=30, deadline=None)
@given(STREAMS)
def test_any_night_can_be_stopped(entries: tuple[Entry, ...]) -> None:
    """Whatever was typed, the stops are in order, in the night, and know no future."""
    night = PastNight(entries, DEFAULT, max(one.recorded for one in entries))
    stops = stops_of(night)

    assert [stop.at for stop in stops] == sorted(stop.at for stop in stops)
    assert len(stops) <= MOST
    for place, stop in enumerate(stops):
        past = cut_off(night, stop.known, keep=stop.entry)
        assert told(past, stops, place) == told(night, stops, place)


@NIGHTS
def test_the_right_step_is_the_rules_own_first(name: str) -> None:
    """Of four different steps one is first in the rule's list; no other begins like it."""
    night = night_of(name)
    for stop in stops_in(name):
        act = act_of_alert(night, stop.rise) if stop.kind == "act" else None
        if act is None or stop.rise is None:
            continue
        assert act.options[act.right] == stop.rise.rule.steps(stop.rise.level)[0]
        assert len({tuple(option.split()[:2]) for option in act.options}) == 4
