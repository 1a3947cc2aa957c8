"""What an alert says of is the newest line, and what a night log cannot say."""

from datetime import timedelta
from decimal import Decimal
from typing import get_args

import pytest

from boxlamp.engine import assess
from boxlamp.model.happenings import (
    Birth,
    Contraction,
    DamState,
    Discharge,
    Expect,
    Finished,
    Limit,
    PupState,
    Step,
    Temperature,
    What,
)
from boxlamp.model.levels import Level
from boxlamp.model.seen import Colour, PupSign
from boxlamp.model.spans import ago, lasting
from boxlamp.model.story import Story
from boxlamp.rules import pup_sign
from support.made import at, told
from support.nights import DEFAULT, SECOND

SHOWN = frozenset(get_args(PupSign)) - {"well", "not-breathing"}
MISSING = "afterbirth-missing-at-end"


def alert_of(rule: str, minute: float, *lines: tuple[float, What]) -> tuple[Level, str, object]:
    """Level, message and zero of one rule's alert at a minute."""
    verdict = assess(Story(told(*lines)), DEFAULT).verdict(at(minute))
    (alert,) = (one for one in verdict.alerts if one.rule.id == rule)
    return alert.level, alert.message, alert.since


def test_the_newest_state_of_a_pup_is_told_and_its_clock_goes_on() -> None:
    """Gasping after limp: the alert says gasping, and counts from the birth."""
    level, message, since = alert_of(
        "not-breathing",
        2,
        (0, Birth(pup=1, state="limp")),
        (1, PupState(pup=1, signs=("gasping",))),
    )
    assert (level, since) == (Level.CALL, at(0))
    assert message == "Help pup 1 breathe now: gasping, for 2 min."


def test_a_pup_that_was_blue_is_blue_until_it_breathes() -> None:
    """A newer line that only says that it gasps does not take that away."""
    lines: list[tuple[float, What]] = [
        (0, Birth(pup=1, mark="blue")), (1, PupState(pup=1, signs=("limp", "blue"))),
        (2, PupState(pup=1, signs=("gasping",))),
    ]  # fmt: skip
    said = alert_of("not-breathing", 3, *lines)[1]

    assert said == "Help pup 1 breathe now: gasping and blue, for 2 min."


def test_a_sentence_of_something_new_says_that_it_is_new() -> None:
    """In its first seconds it is "just now": "for a moment" would say that it is over."""
    lines: list[tuple[float, What]] = [(0, Birth(pup=1, state="limp")), (9, Contraction())]

    assert alert_of("not-breathing", 0, *lines[:1])[1] == (
        "Help pup 1 breathe now: limp, since just now."
    )
    assert ago(timedelta(0)) == "just now"
    assert lasting(timedelta(seconds=5)) == "for 5 s"
    assert ago(timedelta(seconds=5)) == "5 s ago"


def test_one_push_is_not_told_as_an_hour_of_pushing() -> None:
    """The sentence says when it began: nobody has written that she pushed all the while."""
    said = "Strong contractions began 1 h 24 min ago and no pup has come."
    assert alert_of("contraction-no-pup", 84, (0, Contraction()))[1] == said


def test_a_fever_of_today_is_not_told_as_one_of_days_ago() -> None:
    """The alert has stood since the missing afterbirth came to be a go; the fever is new."""
    day = 60.0 * 24
    lines: list[tuple[float, What]] = [
        (0, Birth(pup=1)), (30, Finished()), (3 * day, Temperature(celsius=Decimal("39.9"))),
    ]  # fmt: skip
    level, message, since = alert_of(MISSING, 3 * day + 10, *lines)

    assert (level, since) == (Level.GO, at(3 * day))
    assert message == "An afterbirth is missing and she has a fever, written down 10 min ago."


def test_the_discharge_is_called_what_it_was_called() -> None:
    """Its colour and smell, all that was seen since it was bad, and how she is."""
    foul = Discharge(colour="brown", foul=True)
    lines: list[tuple[float, What]] = [(0, foul), (9, Discharge(colour="yellow"))]

    def say(minute: float, *more: tuple[float, What]) -> str:
        return alert_of("foul-discharge", minute, *lines[: 1 + (minute > 8)], *more)[1]

    assert say(1) == "Her discharge is brown and foul."
    assert alert_of("foul-discharge", 1, (0, Discharge(foul=True)))[1] == "Her discharge is foul."
    assert say(10) == "Her discharge is brown, yellow and foul."
    hot = (5.0, Temperature(celsius=Decimal("39.8")))
    assert say(6, hot) == "Her discharge is brown and foul, and she has a fever."


SICK: tuple[tuple[float, What], ...] = (
    (0, Birth(pup=2, mark="blue")), (2, Step(pup=2, step="milk")), (3, Finished(by="vet")),
)  # fmt: skip


def test_several_signs_of_a_pup_are_one_alert_that_names_them_all() -> None:
    """The gravest first, with what it asks for; whichever was written first or became due last."""
    blue = alert_of("pup-sign", 361, *SICK, (360, PupState(pup=2, signs=("blue", "gasping"))))
    tight = alert_of("pup-sign", 448, *SICK, (360, PupState(pup=2, signs=("crying", "bloated"))))

    assert blue[:2] == (
        Level.GO, "Gasping for 1 min: pup 2, also blue. Clear its mouth and nose."
    )  # fmt: skip
    assert tight[:2] == (
        Level.CALL, "Swollen, tight belly in pup 2, first seen 1 h 28 min ago, also crying."
    )  # fmt: skip


def test_a_sign_goes_on_being_named_until_it_is_over() -> None:
    """A line that speaks of another sign does not end it; breathing does."""
    lines = (*SICK, (360.0, PupState(pup=2, signs=("gasping", "blue"))),
             (420.0, PupState(pup=2, signs=("cold",))))  # fmt: skip
    over = alert_of("pup-sign", 431, *lines, (430, Step(pup=2, step="breathing")))

    assert "also blue and cold" in alert_of("pup-sign", 421, *lines)[1]
    assert over[1].endswith("pup 2, cold to the hand for 11 min.")


def test_every_sign_can_be_named_beside_another() -> None:
    """The rule orders all of them, and each sentence but that of the litter has room for more."""
    assert set(SHOWN) | {"diarrhoea-again", "two-signs"} == set(pup_sign.RULE.gravest_first)
    assert all(
        "{also}" in said for clock, said in pup_sign.RULE.says.items() if clock != "litter"
    )  # fmt: skip


def test_the_newest_sign_of_danger_is_told() -> None:
    """All of one line, the worst first."""
    lines = ((0.0, DamState(signs=("collapsed",))), (5.0, DamState(signs=("pale", "fits"))))
    assert alert_of("dam-collapse", 6, *lines)[1] == "She has fits and has pale gums."


def test_every_sign_of_illness_that_stands_is_told() -> None:
    """In the order in which they came."""
    lines: list[tuple[float, What]] = [
        (0, Birth(pup=1)),
        (30, Finished()),
        (40, DamState(signs=("dull",))),
        (50, Discharge(colour="brown", foul=True)),
    ]
    said = (
        "An afterbirth is missing and she is dull and the discharge is foul, written down 1 min "
        "ago."
    )
    assert alert_of(MISSING, 51, *lines)[:2] == (Level.GO, said)


@pytest.mark.parametrize("colour", ["green", "black"])
def test_green_or_black_counts_from_a_day_after_the_last_pup(colour: Colour) -> None:
    """At 24 hours to the second, also when a vet has moved the limit of 12 hours."""
    later = Limit(rule=MISSING, level="go", seconds=48 * 3600, by="Dr Novak", why="she is well")
    day, second = 24 * 60.0, SECOND.total_seconds() / 60
    lines: list[tuple[float, What]] = [(0, Birth(pup=1)), (30, Finished()), (31, later)]
    seen = Discharge(colour=colour)
    early = alert_of(MISSING, day, *lines, (day - second, seen))
    assert early[0] == Level.CALL
    assert alert_of(MISSING, day, *lines, (day, seen))[0] == Level.GO
    none = Discharge(colour=colour, amount="none")
    assert alert_of(MISSING, day, *lines, (day, none))[0] == Level.CALL


def test_a_count_that_becomes_known_late_ends_nothing_in_the_past() -> None:
    """The whelping has looked over since the count was known, not since the calm."""
    story = Story(told((0, Birth(pup=1)), (120, Expect(count=1, method="xray"))))
    spells = [spell for spell in assess(story, DEFAULT).spells if spell.rule == MISSING]
    assert [(spell.since, spell.start) for spell in spells] == [(at(0), at(120))]


def test_a_sore_udder_is_told_as_it_was_seen() -> None:
    """Each word that was used of it, in one sentence, with the lines that said so."""
    lines = ((0.0, Birth(pup=1)), (60.0, Finished()), (3000.0, DamState(signs=("udder-hot",))),
             (3060.0, DamState(signs=("udder-hard", "udder-hot"))))  # fmt: skip
    verdict = assess(Story(told(*lines)), DEFAULT).verdict(at(3061))
    (alert,) = (one for one in verdict.alerts if one.rule.id == "udder")
    assert alert.message == "A gland of her udder is hot and hard."
    assert set(alert.entries) == {3, 4}
