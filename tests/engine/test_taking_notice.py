"""Taking notice of an alert, and what is said to be a matter of minutes."""

from datetime import timedelta

from boxlamp.engine import also_words, assess, history_as_known
from boxlamp.model.happenings import (
    Ack,
    Birth,
    Contraction,
    Discharge,
    Limit,
    PupState,
    Strike,
    Waters,
)
from boxlamp.model.levels import Level
from boxlamp.model.spans import in_words
from boxlamp.model.story import Story
from boxlamp.rules.registry import BY_ID
from support.made import at, entry, told
from support.nights import DEFAULT


def test_noticed_in_the_very_second_of_a_correction() -> None:
    """Taking notice in the second in which something else is struck is told, and told once."""
    entries = (
        entry(1, 0, Contraction()),
        entry(2, 1, Waters()),
        entry(3, 17, Strike(target=2, why="wrong")),
        entry(4, 17, Ack()),
    )
    steps = [
        (step.at, step.change)
        for step in history_as_known(entries, DEFAULT, at(19))
        if step.rule.id == "contraction-no-pup"
    ]
    assert steps == [(at(15), "raised"), (at(17), "acknowledged")]


def test_where_minutes_count_is_said_of_the_alert() -> None:
    """A pup that does not breathe is a matter of minutes; an afterbirth that is owed is not."""
    entries = told((0, Birth(pup=1)), (120, PupState(pup=1, signs=("not-breathing",))))
    alerts = assess(Story(entries), DEFAULT).verdict(at(130)).alerts
    found = {alert.rule.id: alert.in_minutes for alert in alerts}
    assert found["not-breathing"] is True
    assert found["afterbirth-owed"] is False


def test_a_verdict_brings_the_limits_it_was_reached_by() -> None:
    """Who shows a verdict can say which limits were in force, with what had changed them."""
    change = Limit(rule="waters-no-pup", level="call", seconds=5400, by="Dr Novak", why="fluid")
    verdict = assess(Story(told((0, Waters()), (10, change))), DEFAULT).verdict(at(20))
    assert verdict.at == at(20)
    assert [one.limit for one in verdict.book.changes] == [change]
    assert verdict.book.now.spans["waters-no-pup", "main"][Level.CALL] == timedelta(minutes=90)


def test_every_step_says_which_spell_it_speaks_of() -> None:
    """Whoever tells a step can tell since when and of whom, and what else stood beside it."""
    entries = told((0, Waters()), (30, Contraction()), (65, Birth(pup=1)))
    steps = assess(Story(entries), DEFAULT).history(at(240))
    assert {step.rule.id for step in steps} >= {"waters-no-pup", "contraction-no-pup"}
    for step in steps:
        assert (step.spell.rule, step.spell.subject) == (step.rule.id, step.subject)
        assert step.spell.since == step.since


def test_a_step_names_what_else_stood() -> None:
    """What is told of a pup afterwards names its other signs, the gravest first, as it did then."""
    entries = told((0, Birth(pup=1)), (360, PupState(pup=1, signs=("blue", "gasping"))))
    steps = assess(Story(entries), DEFAULT).history(at(400))
    (raised, *_) = (step for step in steps if step.rule.id == "pup-sign")
    assert (raised.spell.clock, raised.also) == ("gasping", ("blue",))
    (alert,) = (
        alert
        for alert in assess(Story(entries), DEFAULT).verdict(at(361)).alerts
        if alert.rule.id == "pup-sign"
    )
    assert alert.also == ("blue",)


def test_one_sign_is_named_once() -> None:
    """Diarrhoea that is there again is not told as diarrhoea, also diarrhoea."""
    rule = BY_ID["pup-sign"]
    (*_, spell) = assess(
        Story(told((0, Birth(pup=1)), (360, PupState(pup=1, signs=("blue",))))), DEFAULT
    ).spells
    again = spell._replace(clock="diarrhoea-again", detail="")
    assert also_words(rule, again, ("diarrhoea",)) == ""
    assert also_words(rule, again, ("blue", "cold", "diarrhoea")) == ", also blue and cold"
    assert also_words(rule, again, ("blue", "limp", "cold")) == ", also blue, limp and cold"


def test_a_history_as_known_reaches_to_its_last_second() -> None:
    """What is raised in the second that is asked for is told, not only what came before it."""
    entries = (entry(1, 0, Contraction(), typed=1),)
    steps = [step.at for step in history_as_known(entries, DEFAULT, at(15))]
    assert at(15) in steps


def test_reminders_stand_in_the_order_in_which_they_came() -> None:
    """The oldest reminder first, whichever rule or pup it is of."""
    entries = told((0, Birth(pup=2)), (30, Birth(pup=1)))
    prompts = assess(Story(entries), DEFAULT).verdict(at(95)).prompts
    starts = [prompt.since for prompt in prompts]
    assert len({prompt.subject for prompt in prompts}) > 1
    assert starts == sorted(starts)
    assert {prompt.subject for prompt in prompts[:1]} == {"pup 2"}


def test_a_sentence_says_how_long_it_has_been() -> None:
    """What is counted from the last pup is said with its length at the moment it is read."""
    entries = told((0, Birth(pup=1)), (60 * 13, Discharge(colour="green")))
    alerts = assess(Story(entries), DEFAULT).verdict(at(60 * 14)).alerts
    (green,) = (alert for alert in alerts if alert.rule.id == "green-after-whelping")
    assert green.message == (
        f"Her discharge is still green, {in_words(timedelta(hours=14))} after the last pup."
    )


def test_a_line_typed_late_may_raise_the_level_at_once() -> None:
    """A push that began earlier than was thought makes a watch a call when it is written down."""
    entries = (entry(1, 0, Contraction()), entry(2, -4, Contraction(), typed=17))
    steps = [
        (step.at, step.change, step.level)
        for step in history_as_known(entries, DEFAULT, at(18))
        if step.rule.id == "contraction-no-pup"
    ]
    assert steps == [(at(15), "raised", Level.WATCH), (at(17), "escalated", Level.CALL)]
