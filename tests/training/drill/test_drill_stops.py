import re
from collections import Counter
from collections.abc import Iterator
from datetime import datetime, timedelta

import pytest
from hypothesis import given, settings

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Birth,
    Contraction,
    Discharge,
    Expect,
    Finished,
    Note,
    Ovulation,
    Part,
    Sign,
    Temperature,
    VetContact,
    Waters,
)
from boxlamp.model.levels import Level
from boxlamp.rules.registry import BY_ID
from boxlamp.training.drill.acts import Act
from boxlamp.training.drill.asking import act_of
from boxlamp.training.drill.facts import facts_lines
from boxlamp.training.drill.mistakes import MISTAKES
from boxlamp.training.drill.moments import after, again
from boxlamp.training.drill.night import Choice, PastNight
from boxlamp.training.drill.points import MOST, Stop, stops_of
from boxlamp.training.drill.telling import heading_lines, stop_lines, story_lines
from boxlamp.view.words import message_words
from support.drills import EVERY, SHIPPED, cut_off, night_of, shown, stops_in
from support.made import STREAMS, at
from support.made import told as told_by
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
def test_nobody_is_asked_what_the_vet_has_heard(name: str) -> None:
    """For hours after a contact no level is asked about what stood at call or above then."""
    night = night_of(name)
    for stop in stops_in(name):
        if stop.kind != "level":
            continue
        worst = {
            (one.rule.id, one.subject)
            for one in night.verdict(stop.at).alerts
            if one.level == night.verdict(stop.at).worst
        }
        for told in night.told:
            assert not (told.at <= stop.at < told.ends and worst & told.heard), stop


@NIGHTS
def test_a_go_that_can_be_decided_is_asked(name: str) -> None:
    """Up to three rises have a stop, those to go before all others."""
    night, stops = night_of(name), stops_in(name)
    gone: dict[str, datetime] = {}
    for rise in night.rises:
        if rise.level is Level.GO and after(night, rise) is not None:
            gone.setdefault(rise.rule.id, rise.at)
    asked = {stop.rise.at for stop in stops if stop.rise is not None}

    assert len(asked & set(gone.values())) >= min(1, len(gone))


@NIGHTS
def test_a_stop_lies_a_little_after_a_limit(name: str) -> None:
    """Never at its second: two to four minutes later, sooner only where its time is short."""
    night = night_of(name)
    for stop in stops_in(name):
        if stop.kind != "level" or stop.rise is None:
            continue
        rise, late = stop.rise, stop.at - stop.rise.at
        assert night.right(stop.at) == Choice(rise.level)
        assert rise.at < stop.at < rise.until
        if not rise.slow:
            half = (rise.until - rise.at) / 2
            assert late <= timedelta(minutes=4)
            assert late >= timedelta(minutes=2) or late <= half or stop.at.second == 0


@NIGHTS
def test_what_still_stands_is_asked_a_second_time(name: str) -> None:
    """A call or go that can be asked again later has another stop at which it stands."""
    night, stops = night_of(name), stops_in(name)
    levels = [stop for stop in stops if stop.kind == "level"]
    for stop in levels:
        rise = stop.rise
        if rise is None or rise.level < Level.CALL or again(night, rise, stop.at) is None:
            continue
        later = [one for one in levels if stop.at < one.at < rise.until]
        assert any(night.right(one.at) == Choice(rise.level) for one in later)


@NIGHTS
def test_silence_is_nobodys_fault(name: str) -> None:
    """That nothing was written down is no stop's reason and no part of what is right."""
    night = night_of(name)
    for stop in stops_in(name):
        verdict = night.verdict(stop.at)
        assert "log-quiet" not in {one.rule.id for one in verdict.alerts}
        assert "log-quiet" not in {one.rule.id for one in verdict.clocks}
        assert "log-quiet" not in {one.rule.id for one in verdict.next}
        assert stop.rise is None or stop.rise.rule.id != "log-quiet"


@NIGHTS
def test_headings_tell_hours_and_minutes(name: str) -> None:
    """No heading shows seconds, whatever the level."""
    night, stops = night_of(name), stops_in(name)
    for place in range(len(stops)):
        heading = next(line for line in stop_lines(night, stops, place) if line)
        assert re.fullmatch(r"---- \d+ of \d+ ---- \w{3} \d+ \w{3} \d\d:\d\d ----", heading)


@pytest.mark.parametrize("name", SHIPPED, ids=shown)
def test_enough_stops_are_calm(name: str) -> None:
    """In every shipped night three of the decisions, or all but one, may be to carry on."""
    night = night_of(name)
    levels = [stop for stop in stops_in(name) if stop.kind == "level"]
    calm = [stop for stop in levels if Choice.CARRY_ON in night.fair(stop.at)]

    assert len(calm) >= min(3, len(levels) - 1), [stop.at for stop in levels]


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
        assert list(story_lines(past, stop.known)) == list(story_lines(night, stop.known))
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


def acts(name: str) -> Iterator[tuple[Stop, Act]]:
    for stop in stops_in(name):
        if stop.kind == "act":
            yield stop, act_of(night_of(name), stop)


@NIGHTS
def test_the_right_step_is_the_rules_own_first(name: str) -> None:
    """Of four different steps one is first in the rule's list, and that one is no telephone."""
    for stop, act in acts(name):
        first = act.options[act.right]
        assert len(set(act.options)) == 4
        assert not first.startswith(("Ring the vet", "Leave for the vet", "Tell the vet"))
        if stop.rise is not None:
            assert first == stop.rise.rule.steps(stop.rise.level)[0]


@NIGHTS
def test_a_step_is_asked_where_one_alert_stands_alone(name: str) -> None:
    """With two at the worst level two first steps could be defended."""
    night = night_of(name)
    for stop, act in acts(name):
        if act.rule is not None:
            verdict = night.verdict(stop.at)
            worst = [one.rule.id for one in verdict.alerts if one.level == verdict.worst]
            assert worst == [act.rule]


def test_a_birth_is_asked_of_a_pup_in_its_sac_or_limp() -> None:
    """And before its line is typed, which then says that it breathes."""
    births = [(stop, name) for name in SHIPPED for stop, act in acts(name) if act.rule is None]

    assert births
    for stop, name in births:
        night, stops = night_of(name), stops_in(name)
        place = stops.index(stop)
        text = told(night, stops, place)
        assert "in its sac" in text or "limp" in text
        for later, one in enumerate(stops):
            if one.kind == "line" and one.entry == stop.entry:
                assert later > place
                said = told(night, stops, later)
                assert "Once it breathes and is dry" in said or "As soon as a hand" in said


def test_first_steps_vary() -> None:
    """No step is the right one in half of all questions."""
    right = Counter(act.steps[0] for name in EVERY for _, act in acts(name))

    assert len(right) >= 8
    assert 2 * max(right.values()) < sum(right.values())


def test_every_mistake_belongs_to_a_rule() -> None:
    """Three different ones, none of them a step of the rule, for a rule with steps of its own."""
    for rule, wrong in MISTAKES.items():
        own = {step for level in Level for step in BY_ID[rule].steps(level)}
        assert len(set(wrong)) == 3
        assert not own & set(wrong)


CALLED = PastNight(
    told_by((0, Expect(count=4, method="xray")), (1, Contraction()),
            (22, VetContact(contact="called", said="two more pushes")), (45, Birth(pup=1)),
            (60, Finished())),
    DEFAULT, at(60),
)  # fmt: skip
"""Call comes at 21 minutes, the vet is rung at 22, go comes at 31."""


def test_a_contact_is_hidden_only_until_it_was_typed() -> None:
    """From then on it is a line like any other; an acknowledgement never is."""
    assert "called" not in "".join(story_lines(CALLED, at(21)))
    assert "vet called" in "".join(story_lines(CALLED, at(22)))


def test_after_a_call_its_rule_is_asked_no_more() -> None:
    """Neither at the go that follows nor after it; before the call it is."""
    assert CALLED.asks(at(21.5))
    assert not CALLED.asks(at(24))
    assert not CALLED.asks(at(35))
    assert CALLED.asks(at(46))
    assert [rise.level for rise in CALLED.rises if rise.at < at(45)] == [Level.WATCH, Level.CALL]


def test_something_new_is_asked_all_the_same() -> None:
    """Heavy bleeding after a call about pushing: the vet has not heard of that."""
    night = PastNight(
        (*CALLED.entries[:3],
         *told_by((30, Discharge(colour="red", amount="heavy")), (60, Finished()))),
        DEFAULT, at(60),
    )  # fmt: skip
    assert night.asks(at(32))
    assert Choice.CALL not in night.fair(at(32))
    assert Level.GO in {rise.level for rise in night.rises}


def test_on_the_way_nobody_is_asked() -> None:
    """From `left for vet` until she is home or finished, whatever rises."""
    night = PastNight(
        told_by((0, Contraction()), (35, VetContact(contact="left-for")),
                (300, Discharge(colour="red", amount="heavy")), (400, Note(words="home again")),
                (500, Finished())),
        DEFAULT, at(500),
    )  # fmt: skip
    assert night.asks(at(33))
    assert not any(night.asks(at(minute)) for minute in (35, 200, 310, 399))
    assert night.asks(at(401))


def test_a_watch_that_says_to_tell_the_vet_makes_a_call_right() -> None:
    """First signs that lead nowhere: the watch itself says so."""
    night = PastNight(
        told_by((0, Sign(signs=("restless",))), (2000, Finished())), DEFAULT, at(2000)
    )
    watch = next(rise for rise in night.rises if rise.level is Level.WATCH)

    assert watch.rule.id == "first-stage-long"
    assert Choice.CALL in night.fair(watch.at + timedelta(minutes=1))


def test_what_decides_is_on_the_screen() -> None:
    """Waters, part, pushes, temperature with its age, and the day of gestation."""
    night = PastNight(
        told_by((-80_000, Ovulation(basis="ovulation")), (0, Waters(colour="clear")),
                (1, Temperature.model_validate({"celsius": "37.1"})), (2, Contraction()),
                (9, Part(part="head")), (30, Birth(pup=1))),
        DEFAULT, at(30),
    )  # fmt: skip
    text = " ".join(facts_lines(night, at(12)))

    for fact in (
        "a part of a pup has shown for 3 min", "first hard push 10 min ago", "waters 12 min ago",
        "her temperature 37.1 °C, 11 min ago", "from ovulation",
    ):  # fmt: skip
        assert fact.casefold() in text.casefold(), text
