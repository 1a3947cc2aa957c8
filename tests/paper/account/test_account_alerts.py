from collections.abc import Iterator
from datetime import datetime, timedelta

import pytest
from hypothesis import given, settings

from boxlamp.engine import assess
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Ack,
    Amend,
    Birth,
    Caesarean,
    Contraction,
    Limit,
    PupState,
    Rest,
    Round,
    Step,
    Strike,
    Temperature,
    Treatment,
    VetContact,
    Weighed,
    Weight,
    What,
)
from boxlamp.model.story import Story
from boxlamp.paper.account.alerts import alerts_of
from boxlamp.paper.account.matter import Matter
from boxlamp.paper.account.models import AlertAccount
from boxlamp.rules.registry import BY_ID, RULES
from boxlamp.rules.spell import Spell, Yardstick
from support.accounts import entries_of, matter_of
from support.made import STREAMS, at, entry, told
from support.nights import DEFAULT

PUSHING = "contraction-no-pup"
WEAK = "weak-contraction-no-pup"
HOT = "dam-hot"


def heat(celsius: str) -> Temperature:
    return Temperature.model_validate({"celsius": celsius})


def the_alert(rule: str, *entries: Entry, until: float = 60, subject: str = "dam") -> AlertAccount:
    """The only alert of a rule about a subject by a minute."""
    [alert] = alerts(rule, *entries, until=until, subject=subject)
    return alert


def alerts(
    rule: str, *entries: Entry, until: float = 60, subject: str = "dam"
) -> list[AlertAccount]:
    """The alerts of a rule about a subject by a minute."""
    found = alerts_of(matter_of(entries, at(until)))
    return [one for one in found if (one.rule, one.subject) == (rule, subject)]


def levels(alert: AlertAccount) -> list[tuple[str, float]]:
    """Each level and the minute at which it was reached."""
    return [(one.level, minute(one.at)) for one in alert.levels]


def minute(moment: datetime | None) -> float:
    assert moment is not None
    return (moment - at(0)).total_seconds() / 60


def test_an_alert_is_told_from_its_first_level_to_its_end() -> None:
    """Three levels of one clock are one alert; its sentence is that of its worst level."""
    alert = the_alert(PUSHING, *told((0, Contraction()), (45, Birth(pup=1))))

    assert (alert.title, alert.level) == ("Strong contractions, no pup", "go")
    assert levels(alert) == [("watch", 15), ("call", 20), ("go", 30)]
    assert (minute(alert.raised), minute(alert.ended), minute(alert.since)) == (15, 45, 0)
    assert alert.limit == timedelta(minutes=30)
    assert alert.message == "Strong contractions began 30 min ago and no pup has come."
    assert [(one.entry, one.words) for one in alert.ended_by] == [(2, "Pup 1 born")]
    assert alert.entries == (1,)


def test_an_alert_that_stands_has_no_end() -> None:
    """Its sentence is that of the moment asked about, and nothing later is known."""
    alert = the_alert(PUSHING, *told((0, Contraction()), (45, Birth(pup=1))), until=22)

    assert levels(alert) == [("watch", 15), ("call", 20)]
    assert (alert.ended, alert.ended_by) == (None, ())
    assert "22 min ago" in alert.message


def test_a_fall_to_a_lower_level_is_no_new_alert() -> None:
    """While something stands it is one alert; how bad it became at worst is what it is."""
    fever = told((0, heat("39.6")), (9, heat("40.6")), (20, heat("39.6")), (40, heat("38.5")))
    alert = the_alert(HOT, *fever)

    assert alert.level == "go"
    assert [word for word, _ in levels(alert)] == ["watch", "go"]
    assert (minute(alert.raised), minute(alert.ended)) == (0, 40)
    assert "40.6" in alert.message
    assert minute(alert.since) == 9


def test_after_a_break_it_is_another_alert() -> None:
    """What was over and comes again is told twice, in the order of time."""
    pushes = told((0, Contraction()), (17, Birth(pup=1)), (30, Contraction()))
    first, second = alerts(PUSHING, *pushes)

    assert (minute(first.raised), minute(first.ended)) == (15, 17)
    assert (minute(second.raised), second.ended) == (45, None)


def test_reminders_are_no_alerts() -> None:
    """Nothing under watch is told as an alert."""
    matter = matter_of(told((0, Birth.model_validate({"pup": 1, "state": "alive"}))), at(90))

    assert "first-milk" in {prompt.rule.id for prompt in matter.verdict.prompts}
    assert "first-milk" not in {alert.rule for alert in alerts_of(matter)}


def test_the_acknowledgement_is_that_of_the_highest_level() -> None:
    """Whoever took notice of a watch has not yet heard of the call; the first who did counts."""
    lines = told((0, Contraction()), (16, Ack()), (22, Ack()), (24, Ack()))
    named = tuple(one.model_copy(update={"by": f"person {one.id}"}) for one in lines)
    alert = the_alert(PUSHING, *named, until=25)

    assert (minute(alert.acknowledged), alert.acknowledged_by) == (22, "person 3")
    assert the_alert(PUSHING, *named, until=35).acknowledged is None


def test_the_moment_of_typing_is_kept_beside_that_of_the_clock() -> None:
    """A push typed half an hour late could not be shown before, and the account says so."""
    alert = the_alert(PUSHING, entry(1, 0, Contraction(), typed=33), until=40)

    assert (minute(alert.raised), minute(alert.typed)) == (15, 33)


def test_a_correction_that_made_the_alert_is_when_it_was_typed() -> None:
    """A reading that was put right an hour later alarmed nobody until then."""
    misread = (entry(1, 0, heat("38.4")), entry(2, 60, Amend(target=1, what=heat("40.6"))))
    unrested = (
        entry(1, 0, Contraction()), entry(2, 5, Rest()), entry(3, 50, Strike(target=2)),
    )  # fmt: skip

    assert minute(the_alert(HOT, *misread, until=70).typed) == 60
    assert minute(the_alert(PUSHING, *unrested).typed) == 50


def test_a_correction_of_something_else_does_not_make_it_late() -> None:
    """What a screen could show at once was typed at once, whatever was added afterwards."""
    added = (
        entry(1, 0, Birth(pup=1, in_sac=True)),
        entry(2, 50, Amend(target=1, what=Birth(pup=1, sex="dog", in_sac=True))),
    )

    assert minute(the_alert("sac-on-pup", *added, subject="pup 1").typed) == 0


def test_what_was_done_meanwhile_is_told() -> None:
    """Calls, treatments and a caesarean while it stood; not what ended it, nor what was before."""
    alert = the_alert(
        PUSHING,
        *told(
            (0, Contraction()),
            (5, VetContact(contact="called", said="wait")),
            (21, VetContact(contact="called", said="come")),
            (25, Treatment(what="sugar water", by="Ann")),
            (40, Caesarean()),
            (50, VetContact(contact="advised", said="rest")),
        ),
    )

    assert [one.words for one in alert.done] == [
        "Vet called: come",
        "Given: sugar water; by Ann",
    ]
    assert [one.words for one in alert.ended_by] == ["Caesarean"]


def test_what_was_done_for_a_pup_answers_its_own_alert() -> None:
    """Its own steps count, those of another pup and the mere record do not."""
    limp = the_alert(
        "not-breathing",
        *told(
            (0, Birth(pup=1)),
            (1, Birth(pup=2, state="limp")),
            (2, Step(pup=2, step="airway")),
            (2, Step(pup=1, step="airway")),
            (3, Step(pup=2, step="marked", finding="red")),
            (4, Step(pup=2, step="breathing")),
        ),
        subject="pup 2",
    )

    assert [one.words for one in limp.done] == ["Pup 2 (marked red): mouth and nose cleared"]
    assert [one.words for one in limp.ended_by] == ["Pup 2 (marked red): breathing"]
    assert "pup 2 (marked red)" in limp.message


def test_a_step_answers_an_alert_only_while_minutes_count() -> None:
    """A cleared airway answers a pup that gasps, and is no answer to one that only cries."""
    lines = [(0.0, Birth(pup=1)), (1.0, Step(pup=1, step="breathing"))]
    for sign, answers in (("gasping", ["Pup 1: mouth and nose cleared"]), ("crying", [])):
        seen = PupState.model_validate({"pup": 1, "signs": [sign]})
        cleared = Step(pup=1, step="airway")
        found = the_alert(
            "pup-sign", *told(*lines, (1440, seen), (1515, cleared)), until=1520, subject="pup 1"
        )
        assert [one.words for one in found.done] == answers, sign


def test_of_a_round_only_the_pup_in_question_is_told() -> None:
    """What ended an alert about one pup is that pup's weight and not the whole litter's."""
    weights = [{"pup": 1, "grams": 320}, {"pup": 2, "grams": 330}]
    lines = told(
        (0, Birth.model_validate({"pup": 1, "weight": 300})),
        (9, Birth.model_validate({"pup": 2, "weight": 310})),
        (1440, Weight.model_validate({"pup": 1, "grams": 280})),
        (2880, Round(weights=tuple(Weighed.model_validate(one) for one in weights))),
    )
    alert = the_alert("weight-loss", *lines, until=3000, subject="pup 1")

    assert [(one.entry, one.words) for one in alert.ended_by] == [(4, "Pup 1 weighed: 320 g")]


def test_an_alert_that_a_changed_limit_ended_was_ended_by_no_entry() -> None:
    """Where the limit was moved away from it, nothing that was seen is said to have ended it."""
    weak, later = (
        Contraction(strength="weak"),
        Limit.model_validate(
            {"rule": WEAK, "level": "watch", "seconds": 90 * 60, "by": "Dr Ash", "why": "calm"}
        ),
    )
    first, second = alerts(WEAK, *told((0, weak), (70, later), (95, Rest())), until=100)

    assert (minute(first.raised), minute(first.ended), first.ended_by) == (60, 70, ())
    assert (minute(second.raised), second.limit) == (90, timedelta(minutes=90))


def _fails(_story: Story, _yardstick: Yardstick) -> Iterator[Spell]:
    raise ZeroDivisionError("no weight")


def test_a_rule_that_failed_is_told() -> None:
    """The vet reads that it watched nothing, and so does the breeder."""
    broken = BY_ID["log-quiet"]._replace(watch=_fails)
    rules = tuple(broken if rule.id == broken.id else rule for rule in RULES)
    matter = matter_of(told((0, Contraction())))
    assessment = assess(Story(matter.entries), DEFAULT, rules)
    failed = matter._replace(assessment=assessment, verdict=assessment.verdict(at(5)))
    [alert] = alerts_of(failed)

    assert (alert.rule, alert.subject, alert.level, alert.ended) == (
        "log-quiet", "litter", "call", None,
    )  # fmt: skip
    assert alert.message.startswith(
        "The rule log-quiet could not be worked out and watches nothing."
    )


@given(STREAMS)
@settings(max_examples=100, deadline=None)
def test_the_account_agrees_with_the_engine(night: tuple[Entry, ...]) -> None:
    """What stands is what the verdict says stands; every raising of the history is in a run."""
    matter = matter_of(night)
    found = alerts_of(matter)
    standing = {(one.rule, one.subject) for one in found if one.ended is None}

    assert standing == {(one.rule.id, one.subject) for one in matter.verdict.alerts}
    assert list(found) == sorted(found, key=lambda one: one.raised)
    for step in matter.assessment.history(matter.verdict.at):
        mine = [one for one in found if (one.rule, one.subject) == (step.rule.id, step.subject)]
        assert any(_covers(one, step.at) for one in mine)


def _covers(alert: AlertAccount, moment: datetime) -> bool:
    return alert.raised <= moment and (alert.ended is None or moment <= alert.ended)


@given(STREAMS)
@settings(max_examples=100, deadline=None)
def test_nothing_later_than_the_moment_is_told(night: tuple[Entry, ...]) -> None:
    """Asked about an earlier moment, the account ends there."""
    moment = night[len(night) // 2].at
    for alert in alerts_of(matter_of(night, moment)):
        times = [one.at for one in alert.levels]
        times += [one.at for one in (*alert.done, *alert.ended_by)]
        times += [when for when in (alert.ended, alert.acknowledged) if when is not None]
        assert max(times) <= moment
        assert alert.levels[0].at == alert.raised
        assert alert.levels[-1].level == alert.level


@pytest.mark.parametrize("night", ["stalled-labour", "eight-weeks", "pup-stuck"])
def test_a_whole_night_is_told_once(night: str) -> None:
    """As many alerts as the history raises without their rises and falls, in order of time."""
    matter: Matter = matter_of(entries_of(night))
    found = alerts_of(matter)
    raised = [
        (step.at, step.rule.id, step.subject)
        for step in matter.assessment.history(matter.verdict.at)
        if step.change == "raised"
    ]

    assert {(one.raised, one.rule, one.subject) for one in found} <= set(raised)
    assert len({(one.raised, one.rule, one.subject) for one in found}) == len(found)


def test_a_sign_that_passes_is_ended_by_the_line_that_says_so() -> None:
    """The entry that closed it is told in plain words."""
    lines: list[tuple[float, What]] = [
        (0, Birth(pup=1)),
        (9, PupState(pup=1, signs=("gasping",))),
        (15, PupState(pup=1, signs=("well",))),
    ]
    ended = [
        one.ended_by[0].words
        for one in alerts_of(matter_of(told(*lines)))
        if one.subject == "pup 1" and one.ended_by
    ]

    assert ended
    assert set(ended) == {"Pup 1: well"}
