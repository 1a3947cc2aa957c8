"""What an alert says of is the newest line, and what a night log cannot say."""

import pytest

from boxlamp.engine import assess
from boxlamp.model.happenings import (
    Birth,
    DamState,
    Discharge,
    Expect,
    Finished,
    Limit,
    PupState,
    What,
)
from boxlamp.model.levels import Level
from boxlamp.model.seen import Colour
from boxlamp.model.story import Story
from support.made import at, told
from support.nights import DEFAULT, SECOND

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
    said = "An afterbirth is missing and she is dull and the discharge is foul."
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
