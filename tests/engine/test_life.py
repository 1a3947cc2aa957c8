"""The life of an alert: raised, escalated, acknowledged, sounding again, cleared."""

from collections.abc import Iterator
from datetime import timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boxlamp.engine import Alert, Assessment, assess
from boxlamp.engine.alert import pressing
from boxlamp.engine.life import Stretch, lives
from boxlamp.engine.standing import standings
from boxlamp.model.happenings import (
    Ack,
    Birth,
    Contraction,
    DamState,
    Details,
    Limit,
    PupState,
    Rest,
    Temperature,
    Waters,
    What,
)
from boxlamp.model.levels import LITTER, Level
from boxlamp.model.story import Story
from boxlamp.rules.registry import BY_ID, RULES
from boxlamp.rules.rule import Rule
from boxlamp.rules.spell import Spell, Yardstick
from support.made import at, entry, told
from support.nights import DEFAULT, SECOND

PUSHING = "contraction-no-pup"


def night(*lines: tuple[float, What], rules: tuple[Rule, ...] = RULES) -> Assessment:
    return assess(Story(told(*lines)), DEFAULT, rules)


def only(*names: str) -> tuple[Rule, ...]:
    return tuple(rule for rule in RULES if rule.id in names)


def heat(celsius: str) -> Temperature:
    return Temperature.model_validate({"celsius": celsius})


def steps(
    assessment: Assessment, until: float, rule: str = PUSHING
) -> list[tuple[float, str, str]]:
    """The history of one rule: minute, change, level."""
    return [
        ((step.at - at(0)).total_seconds() / 60, step.change, step.level.word)
        for step in assessment.history(at(until))
        if step.rule.id == rule
    ]


def alert_at(assessment: Assessment, minute: float, rule: str = PUSHING) -> Alert | None:
    """The alert of one rule at a minute."""
    found = [one for one in assessment.verdict(at(minute)).alerts if one.rule.id == rule]
    return found[0] if found else None


def standing_at(assessment: Assessment, minute: float, rule: str = PUSHING) -> Alert:
    alert = alert_at(assessment, minute, rule)
    assert alert is not None
    return alert


def test_one_alert_climbs_and_is_cleared_once() -> None:
    """Raised, escalated twice, cleared from the level it had reached."""
    pushing = night((0, Contraction()), (40, Birth(pup=1)))
    assert steps(pushing, 60) == [
        (15, "raised", "watch"), (20, "escalated", "call"), (30, "escalated", "go"),
        (40, "cleared", "go"),
    ]  # fmt: skip


def test_the_history_goes_no_further_than_asked() -> None:
    """A step in the very second asked for belongs to it."""
    pushing = night((0, Contraction()))
    assert [change for _, change, _ in steps(pushing, 20)] == ["raised", "escalated"]
    assert len(pushing.history(at(20) - SECOND)) == len(pushing.history(at(20))) - 2


def test_an_alert_explains_itself() -> None:
    """Since when, how long, held against what, because of which lines, and what to do."""
    alert = standing_at(night((0, Contraction())), 22)
    assert (alert.level, alert.raised, alert.since) == (Level.CALL, at(20), at(0))
    assert (alert.elapsed, alert.limit) == (timedelta(minutes=22), timedelta(minutes=20))
    assert alert.message == "Strong contractions began 22 min ago and no pup has come."
    assert alert.do[0].startswith("Ring the vet now")
    assert alert.entries == (1,)


def test_a_level_that_falls_is_cleared_and_raised() -> None:
    """A better reading is no new worry, and the fall is seen in the history."""
    hot = night((0, Waters()), (1, heat("40.5")), (11, heat("40.0")), (21, heat("38.5")))
    assert steps(hot, 60, "dam-hot") == [
        (1, "raised", "go"), (11, "cleared", "go"), (11, "raised", "call"), (21, "cleared", "call"),
    ]  # fmt: skip


def test_a_second_reading_at_one_level_goes_on_and_explains_it_from_then() -> None:
    """One alert, raised once; the newest reading is the one it speaks of."""
    hot = night((0, Waters()), (1, heat("40.0")), (11, heat("40.2")))
    assert steps(hot, 60, "dam-hot") == [(1, "raised", "call")]
    assert standing_at(hot, 10, "dam-hot").message == "Her temperature is 40 °C."
    later = standing_at(hot, 11, "dam-hot")
    assert later.message == "Her temperature is 40.2 °C."
    assert (later.raised, later.since, later.entries) == (at(1), at(11), (3,))


def test_a_pause_between_two_spells_is_a_clearing_and_a_raising() -> None:
    """Two stretches with a gap are two alerts in the history."""
    pushing = night((0, Contraction()), (16, Rest()), (47, Contraction()))
    assert steps(pushing, 63) == [(15, "raised", "watch"), (16, "cleared", "watch"),
                                  (62, "raised", "watch")]  # fmt: skip


def test_an_ack_of_one_rule_quietens_that_rule_only() -> None:
    """And it quietens the sound, never the display."""
    both = night((0, Contraction()), (0, Waters()), (61, Ack(rule="waters-no-pup")))
    assert standing_at(both, 61, "waters-no-pup").quiet
    assert standing_at(both, 61, "waters-no-pup").acknowledged == at(61)
    assert not standing_at(both, 61).quiet
    assert standing_at(both, 61).acknowledged is None


def test_an_ack_without_a_rule_quietens_everything_that_stands() -> None:
    """And nothing that comes later."""
    both = night((0, Contraction()), (0, Waters()), (17, Ack()))
    assert standing_at(both, 17).quiet
    assert not standing_at(both, 60, "waters-no-pup").quiet


def test_an_ack_before_the_alert_is_no_ack_of_it() -> None:
    """Nobody can take notice of what is not there yet."""
    assert not standing_at(night((0, Contraction()), (14, Ack())), 15).quiet
    assert standing_at(night((0, Contraction()), (15, Ack())), 15).quiet


def test_an_alert_that_escalates_sounds_again() -> None:
    """A watch that was heard is no call that was heard."""
    pushing = night((0, Contraction()), (16, Ack()))
    assert standing_at(pushing, 19).quiet
    assert not standing_at(pushing, 20).quiet
    assert standing_at(pushing, 20).acknowledged is None


def test_an_acknowledged_call_stays_quiet() -> None:
    """Only a `go` is repeated."""
    waters = night((0, Waters()), (121, Ack()))
    assert standing_at(waters, 200, "waters-no-pup").quiet


@pytest.mark.parametrize(
    ("minute", "quiet"), [(31, True), (36 - 1 / 60, True), (36, False), (50, False)]
)
def test_a_go_that_is_still_true_sounds_again(minute: float, quiet: bool) -> None:  # noqa: FBT001
    """Five minutes after it was acknowledged, to the second."""
    pushing = night((0, Contraction()), (31, Ack()))
    assert standing_at(pushing, minute).quiet is quiet
    assert standing_at(pushing, minute).acknowledged == at(31)


def test_a_second_ack_starts_the_five_minutes_anew() -> None:
    """As often as it is heard."""
    pushing = night((0, Contraction()), (31, Ack()), (36, Ack()))
    assert standing_at(pushing, 40).quiet
    assert not standing_at(pushing, 41).quiet


def test_an_ack_is_part_of_the_history() -> None:
    """With the level that was heard and the line that said so."""
    pushing = night((0, Contraction()), (16, Ack()))
    assert steps(pushing, 19)[-1] == (16, "acknowledged", "watch")
    heard = [step for step in pushing.history(at(19)) if step.change == "acknowledged"]
    assert [step.entries for step in heard] == [(2,)]


def test_an_ack_of_an_unknown_rule_does_nothing() -> None:
    """It is kept, and no alert minds it."""
    assert not standing_at(night((0, Contraction()), (16, Ack(rule="full-moon"))), 17).quiet


def _broken(_story: Story, _yardstick: Yardstick) -> Iterator[Spell]:
    raise KeyError("the tide")


def test_a_rule_that_crashes_is_a_loud_finding_and_the_others_still_run() -> None:
    """Nobody may take the silence of a broken rule for good news."""
    broken = Rule(
        id="tide", group="labour", title="The tide", watch=_broken, says={}, do={}, page=""
    )
    verdict = night((0, Contraction()), rules=(broken, *only(PUSHING))).verdict(at(16))
    found = {alert.rule.id: alert for alert in verdict.alerts}
    assert set(found) == {"tide", PUSHING}
    assert (found["tide"].level, found["tide"].subject) == (Level.CALL, LITTER)
    assert "the tide" in found["tide"].spell.detail
    assert found["tide"].message == (
        "The rule tide could not be worked out and watches nothing. Watch the clock yourself, and "
        "in doubt ring the vet. (KeyError: 'the tide')"
    )
    assert "yourself" in found["tide"].do[0]
    assert "ring the vet" in found["tide"].do[1]
    assert found["tide"].raised == at(0)
    assert found["tide"].entries == (1,)


def test_a_rule_that_crashes_half_way_gives_no_half_answer() -> None:
    """Spells noted before the failure are not shown as if they were all."""

    def half(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
        yield from only(PUSHING)[0].watch(story, yardstick)
        raise ValueError("half way")

    broken = Rule(id=PUSHING, group="labour", title="x", watch=half, says={}, do={}, page="")
    assert [spell.clock for spell in night((0, Contraction()), rules=(broken,)).spells] == [
        "failure"
    ]


def vets_word(level: str, minutes: float) -> Limit:
    return Limit.model_validate(
        {"rule": "waters-no-pup", "level": level, "seconds": int(minutes * 60), "by": "Dr Novak",
         "why": "her last whelping"}
    )  # fmt: skip


def test_a_limit_tightened_while_the_clock_runs_raises_at_the_change() -> None:
    """The alert is raised when the vet's word comes, and its clock counts from the start."""
    waters = night((0, Waters()), (40, vets_word("watch", 30)))
    assert steps(waters, 50, "waters-no-pup") == [(40, "raised", "watch")]
    alert = standing_at(waters, 41, "waters-no-pup")
    assert (alert.elapsed, alert.limit) == (timedelta(minutes=41), timedelta(minutes=30))


def test_a_limit_loosened_while_an_alert_stands_clears_it_at_the_change() -> None:
    """It comes back at the new limit."""
    waters = night((0, Waters()), (70, vets_word("watch", 90)))
    assert steps(waters, 95, "waters-no-pup") == [
        (60, "raised", "watch"), (70, "cleared", "watch"), (90, "raised", "watch")
    ]  # fmt: skip


def test_the_history_is_in_order_and_clearings_come_first() -> None:
    """At one instant what is over is told before what is new, and the worst of that first."""
    busy = night(
        (0, Waters()), (0, Contraction()), (10, heat("39.6")),
        (60, Birth(pup=1, state="limp")), (60, DamState(signs=("collapsed",))),
    )  # fmt: skip
    history = busy.history(at(200))
    assert [step.at for step in history] == sorted(step.at for step in history)
    at_the_birth = [step for step in history if step.at == at(60)]
    changes = [step.change != "cleared" for step in at_the_birth]
    assert changes == sorted(changes)
    raised = [step.level for step in at_the_birth if step.change == "raised"]
    assert raised == sorted(raised, reverse=True)
    assert raised[0] == Level.GO


def test_alerts_stand_worst_first_and_then_newest() -> None:
    """The board is read from the top: the highest level, where minutes count, the newest."""
    busy = night((0, Waters()), (0, Contraction()), (10, heat("39.6")), (20, heat("39.7")))
    alerts = busy.verdict(at(61)).alerts
    order = [(-alert.level, not alert.rule.in_minutes(alert.spell.clock)) for alert in alerts]
    assert order == sorted(order)
    assert busy.verdict(at(61)).worst == Level.GO
    assert night((0, Rest())).verdict(at(1)).worst is None


def alert_of(rule: str, level: Level = Level.CALL, clock: str = "", raised: float = 0) -> Alert:
    """An alert of a rule that stands at a level since a minute."""
    spell = Spell(rule, "pup 1", clock, at(raised), at(raised), None, (1,))
    return Alert(BY_ID[rule], "pup 1", level, at(raised), at(raised), timedelta(0), timedelta(0),
                 "", (), spell, None, quiet=False)  # fmt: skip


IN_ORDER = (
    alert_of("gap-more-expected", Level.GO),
    # Hands first: a watch of seconds stands among the calls.
    alert_of("cord-bleeding", Level.WATCH, raised=4),
    alert_of("not-breathing", raised=3), alert_of("part-showing", raised=2),
    alert_of("contraction-no-pup", raised=1), alert_of("green-before-first-pup"),
    alert_of("bleeding", clock="heavy", raised=-1), alert_of("dam-collapse", raised=-2),
    alert_of("pup-sign", clock="gasping", raised=-3),
    alert_of("bleeding", clock="some", raised=1), alert_of("gap-more-expected"),
    alert_of("overdue", raised=5), alert_of("dam-hot", raised=6),
    alert_of("afterbirths-behind", raised=7),
    alert_of("pup-sign", clock="diarrhoea", raised=9), alert_of("first-milk", raised=8),
    alert_of("log-quiet", raised=10),
    alert_of("waters-no-pup", Level.WATCH),
)  # fmt: skip


@given(st.permutations(IN_ORDER))
def test_what_a_vet_wants_first_stands_first(alerts: list[Alert]) -> None:
    """Life within minutes, the labour, the dam, afterbirths, the pups' feeding, lines not typed."""
    assert sorted(alerts, key=pressing) == list(IN_ORDER)


def test_a_pup_that_does_not_breathe_stands_before_every_call() -> None:
    """Nobody rings about a weight first; the worst level is still the call's."""
    born = Birth(pup=1, state="limp", weight=Decimal(88))
    verdict = night((0, Details(breed="Chihuahua", weight=Decimal(2400))), (1, born)).verdict(at(1))

    assert [one.rule.id for one in verdict.alerts][:2] == ["not-breathing", "birth-weight"]
    assert [one.level for one in verdict.alerts][:2] == [Level.WATCH, Level.CALL]
    assert verdict.worst is Level.CALL


def test_prompts_are_no_alerts() -> None:
    """A reminder is shown apart, and never in the history."""
    born = night((0, Birth(pup=1)), rules=only("first-milk"))
    verdict = born.verdict(at(70))
    assert [(prompt.rule.id, prompt.since) for prompt in verdict.prompts] == [
        ("first-milk", at(60))
    ]
    assert "first-milk" not in {alert.rule.id for alert in verdict.alerts}
    assert steps(born, 70, "first-milk") == []
    assert steps(born, 120, "first-milk") == [(120, "raised", "watch")]


def test_clocks_and_deadlines_say_what_comes_next() -> None:
    """Each running clock with its limits, and the levels ahead in the order of their coming."""
    verdict = night((0, Contraction()), rules=only(PUSHING)).verdict(at(16))
    (clock,) = verdict.clocks
    assert (clock.elapsed, clock.level) == (timedelta(minutes=16), Level.WATCH)
    assert [due for _, due in clock.limits] == [at(15), at(20), at(30)]
    assert clock.next_limit(at(16)) == (Level.CALL, at(20))
    assert clock.next_limit(at(30)) is None
    assert [(line.level, line.due) for line in verdict.next] == [
        (Level.CALL, at(20)), (Level.GO, at(30))
    ]  # fmt: skip


def test_a_clock_that_has_stopped_is_not_shown() -> None:
    """Nor are its deadlines."""
    verdict = night((0, Contraction()), (16, Rest()), rules=only(PUSHING)).verdict(at(17))
    assert verdict.clocks == ()
    assert verdict.next == ()


def test_asking_for_what_does_not_stand_is_an_error_of_the_asker() -> None:
    """A stretch is only to be had while there is one."""
    pushing = night((0, Contraction()), rules=only(PUSHING))
    (life,) = pushing.lives
    assert life.level_at(at(14)) is None
    with pytest.raises(LookupError):
        life.stretch_at(at(14))


def test_stretches_are_the_highest_level_at_every_moment() -> None:
    """Two spells of one rule about one dam make one alert."""
    low = Spell("dam-hot", "dam", "labour", at(0), at(0), at(30), (1,), level=Level.WATCH)
    high = Spell("dam-hot", "dam", "labour", at(10), at(10), at(20), (2,), level=Level.CALL)
    book = night((0, Waters())).book
    found = lives([own for spell in (low, high) for own in standings(spell, book)], [])
    shape = [(one.level, one.start, one.end) for one in found[0].stretches]
    assert shape == [
        (Level.WATCH, at(0), at(10)), (Level.CALL, at(10), at(20)), (Level.WATCH, at(20), at(30)),
    ]  # fmt: skip
    assert all(isinstance(one, Stretch) for one in found[0].stretches)


def test_an_acknowledgement_covers_only_what_was_known() -> None:
    """What is typed after it with an earlier time was not on the screen and still sounds."""
    entries = (
        entry(1, 0, Contraction()),
        entry(2, 25, Ack()),
        entry(3, 10, PupState(pup=2, signs=("limp",)), typed=26),
    )
    verdict = assess(Story(entries), DEFAULT).verdict(at(26))
    quiet = {alert.rule.id: alert.quiet for alert in verdict.alerts}

    assert quiet["contraction-no-pup"]
    assert not quiet["not-breathing"]


def test_what_was_just_typed_is_not_silence() -> None:
    """A line typed now about half an hour ago shows that somebody is there."""
    entries = (entry(1, 0, Contraction()), entry(2, 3, Rest(), typed=40))

    assert alert_at(assess(Story(entries), DEFAULT), 45, "log-quiet") is None
    assert alert_at(assess(Story(entries), DEFAULT), 60, "log-quiet") is not None
