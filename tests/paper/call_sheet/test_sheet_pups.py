"""The pups on a call sheet: who lives, who is poorly, and in the weeks after their weight."""

from datetime import UTC, datetime
from decimal import Decimal

import pytest

from boxlamp.model.happenings import (
    Afterbirth,
    Birth,
    Death,
    Feed,
    Finished,
    PupState,
    Step,
    Temperature,
    Waters,
    Weight,
)
from boxlamp.model.levels import Level
from boxlamp.model.seen import PupSign
from boxlamp.paper.call_sheet.facts import CallSheet
from boxlamp.paper.call_sheet.sheet import call_sheet
from support.accounts import READER
from support.boxes import demo_verdict
from support.made import at, entry
from support.sheets import judged, labels, said, sheet_at


def test_weeks_after_the_birth_other_answers_matter() -> None:
    """Temperature, the dam, weights; the pushes of the night are gone."""
    verdict = demo_verdict("eight-weeks", datetime(2026, 3, 20, 9, 23, tzinfo=UTC))
    sheet = call_sheet(verdict, READER)

    assert {"temperature", "the dam", "weights", "the birth"} <= labels(sheet)
    assert not {"pushing", "at the vulva", "so far"} & labels(sheet)
    assert said(sheet, "weights").startswith("3 of 7 pups gained since the weighing before")


def test_a_poorly_pup_is_named_with_its_findings() -> None:
    """Its signs with their age, its temperature, its weight; a call is about that pup."""
    sheet = sheet_at(
        60 * 50, (0, Birth(pup=1, weight=Decimal(300), mark="red")), (1, Afterbirth()),
        (1, Step(pup=1, step="milk")), (2, Finished()),
        (60 * 49, PupState(pup=1, signs=("not-suckling", "cold"))),
        (60 * 49 + 30, Temperature(celsius=Decimal(33), where="pup", pup=1)),
    )  # fmt: skip

    assert said(sheet, "not well").startswith(
        "Pup 1 (marked red): cold and not suckling at 04:00, 1 h ago; 33.0 °C 30 min ago; "
        "300 g 2 days ago, not weighed again."
    )
    assert "pup 1" in said(sheet, "ask")


def test_all_alive_is_said_only_of_pups_that_showed_it() -> None:
    """A pup of which nothing is written down but its birth is not noted dead, no more."""
    born = [(0.0, Birth(pup=1)), (1.0, Birth(pup=2))]
    none = sheet_at(5, *born, (2, Step(pup=1, step="breathing")))
    limp = sheet_at(5, *born, (2, Step(pup=1, step="milk")), (3, PupState(pup=2, signs=("limp",))))
    every = sheet_at(
        5, *born, (2, PupState(pup=1, signs=("crying",))), (3, Weight(pup=2, grams=Decimal(300)))
    )
    dead = sheet_at(5, *born, (2, Death(pup=2)))

    assert "2 born, none noted dead." in said(none, "pups")
    assert "none noted dead" in said(limp, "pups")
    assert "2 born, all alive." in said(every, "pups")
    assert "2 born, 1 dead, no other noted dead." in said(dead, "pups")


@pytest.mark.parametrize("sign", ["limp", "not-breathing", "gasping", "blue"])
def test_an_early_sign_of_life_proves_nothing_of_a_pup_that_failed_since(sign: PupSign) -> None:
    """A pup that breathed at first and does not now is not told as alive until it shows it."""
    lines = [
        (0.0, Birth(pup=1)), (1.0, Step(pup=1, step="breathing")),
        (9.0, PupState(pup=1, signs=(sign,))),
    ]  # fmt: skip

    assert "1 born, none noted dead." in said(sheet_at(10, *lines), "pups")
    better = sheet_at(20, *lines, (12, Step(pup=1, step="breathing")))
    assert "1 born, all alive." in said(better, "pups")


def test_every_trouble_of_a_pup_has_its_own_time() -> None:
    """A second one is not counted from the first; while one lasts nothing is told as over."""
    lines = [
        (0.0, Birth(pup=1, state="limp")), (3.0, Step(pup=1, step="breathing")),
        (40.0, PupState(pup=1, signs=("blue",))),
    ]  # fmt: skip
    over = sheet_at(60, *lines, (45, Step(pup=1, step="breathing")))

    assert said(over, "came round") == (
        "Pup 1: limp at birth, breathing after 3 min, then blue at 03:40, breathing after 5 min."
    )
    assert "came round" not in labels(sheet_at(42, *lines))
    well = sheet_at(9, (0, Birth(pup=1, state="limp")), (4, PupState(pup=1, signs=("well",))))
    assert said(well, "came round") == "Pup 1: limp at birth, well after 4 min."


def test_a_hard_start_is_told_for_some_hours() -> None:
    """What it was, and after how long it breathed; half a day later it is no news."""
    lines = [(0.0, Birth(pup=1, state="limp")), (3.0, Step(pup=1, step="breathing"))]

    assert said(sheet_at(60, *lines), "came round") == (
        "Pup 1: limp at birth, breathing after 3 min."
    )
    assert "came round" not in labels(sheet_at(60 * 13, *lines))
    assert "came round" not in labels(sheet_at(1, *lines))
    later = sheet_at(9, (0, Birth(pup=1)), (4, PupState(pup=1, signs=("gasping",))),
                     (6, PupState(pup=1, signs=("crying",))))  # fmt: skip
    assert said(later, "came round") == "Pup 1: gasping, crying after 2 min."


def test_eight_weeks_after_the_pups_are_what_is_told() -> None:
    """Their age, how many are here, the newest weighing; nothing of the dam weeks ago."""
    verdict = demo_verdict("eight-weeks", datetime(2026, 5, 3, 8, 0, tzinfo=UTC))
    sheet = call_sheet(verdict, READER)

    assert said(sheet, "age") == "The pups are 50 days old; 7 still here."
    assert said(sheet, "weights").startswith("7 of 7 pups gained since the weighing before, on 26")
    assert "(weighed " in said(sheet, "weights")
    assert said(sheet, "weights").endswith("now 2530 g to 5160 g.")
    assert "how the pups gain weight" not in sheet.unknown
    assert not {"temperature", "at term?", "discharge", "afterbirths"} & labels(sheet)
    assert "her temperature" not in sheet.unknown
    assert said(sheet, "who").endswith("last pup 50 days ago.")


def poorly(*signs: tuple[PupSign, ...]) -> CallSheet:
    """A litter a day old in which each pup shows something, an hour ago."""
    born = [(float(n), Birth(pup=n)) for n, _ in enumerate(signs, 1)]
    milk = [(20.0 + n, Step(pup=n, step="milk")) for n, _ in enumerate(signs, 1)]
    states = [(1440.0 + n, PupState(pup=n, signs=shown)) for n, shown in enumerate(signs, 1)]
    return sheet_at(1500, *born, *milk, (60, Finished()), *states)


def test_every_poorly_pup_says_what_is_wrong() -> None:
    """Beyond the third in a few words each, the gravest first, those alike together."""
    sheet = poorly(("limp",), ("cold",), ("gasping",), ("bloated",), ("bloated",),
                   ("diarrhoea", "crying", "weak"))  # fmt: skip

    assert said(sheet, "also poorly") == "Pups 4 and 5 bloated, pup 6 weak, diarrhoea and crying."


def test_the_pup_that_may_be_lost_first_is_told_first() -> None:
    """One that is limp comes before those that have drunk too late, whatever the level."""
    born = [(float(n), Birth(pup=n)) for n in (1, 2, 3)]
    sheet = sheet_at(
        60 * 12, *born, (60, Finished()), (60 * 12 - 5, PupState(pup=2, signs=("limp",))),
    )  # fmt: skip

    assert sheet.level is Level.GO
    assert "first milk" in said(sheet, "wrong now")
    assert said(sheet, "not well").startswith("Pup 2: limp")


def sick(minutes: float, *states: tuple[float, tuple[PupSign, ...]]) -> CallSheet:
    """A pup six hours old and well, then these signs; the sheet so many minutes after two."""
    well = [(0.0, Birth(pup=1, mark="blue")), (1.0, Step(pup=1, step="milk")), (2.0, Afterbirth())]
    shown = [(when, PupState(pup=1, signs=signs)) for when, signs in states]
    return sheet_at(minutes, *well, (9, Finished()), *shown)


def test_every_sign_is_named_the_gravest_first() -> None:
    """A colour is never left to be guessed from the mark, and a tight belly is no crying."""
    blue = said(sick(363, (360, ("blue", "gasping"))), "wrong now")
    tight = said(sick(448, (360, ("crying", "bloated"))), "wrong now")

    assert blue == "Pup 1 (marked blue) has been gasping for 3 min, also blue."
    assert tight == (
        "Swollen, tight belly in pup 1 (marked blue), first seen 1 h 28 min ago, also crying."
    )


def test_what_was_written_behind_a_line_about_a_pup_is_told() -> None:
    """In that pup's line if it has one, else in one for all of them; never lost."""
    born = (
        entry(1, 0, Birth(pup=1)), entry(2, 5, Birth(pup=2)), entry(3, 9, Finished()),
        entry(4, 10, Step(pup=1, step="milk")), entry(5, 11, Step(pup=2, step="milk")),
    )  # fmt: skip
    feed = entry(6, 300, Feed(pup=2, how="bottle")).model_copy(
        update={"note": "milk came out of its nose."}
    )
    weak = entry(7, 310, PupState(pup=2, signs=("weak",)))
    behind = "by bottle at 08:00, 20 min ago (milk came out of its nose)"

    assert said(call_sheet(judged((*born, feed), at(320)), READER), "of the pups") == (
        f"Pup 2 fed {behind}."
    )
    poor = call_sheet(judged((*born, feed, weak), at(320)), READER)
    assert f"; fed {behind}" in said(poor, "not well")
    assert "of the pups" not in labels(poor)
    well = entry(8, 315, PupState(pup=2, signs=("well",))).model_copy(update={"note": "cold feet"})
    better = call_sheet(judged((*born, weak, well), at(320)), READER)
    assert said(better, "of the pups") == "Pup 2 well at 08:15, 5 min ago (cold feet)."


def test_a_cold_pup_stands_above_one_that_was_not_weighed() -> None:
    """What is felt in a pup comes before the scale, whatever the level."""
    sheet = sheet_at(
        60 * 75, (0, Birth(pup=1, weight=Decimal(300))), (1, Birth(pup=2, weight=Decimal(300))),
        (9, Finished()), (60 * 24, Weight(pup=1, grams=Decimal(299))),
        (60 * 70, Weight(pup=1, grams=Decimal(255))), (60 * 70, Weight(pup=2, grams=Decimal(350))),
        (60 * 71, Feed(pup=1)), (60 * 71, Feed(pup=2)),
        (60 * 74, PupState(pup=2, signs=("cold",))),
    )  # fmt: skip
    pups = [fact.words for fact in sheet.facts if fact.topic in {"sickest pup", "second pup"}]

    assert pups[0].startswith("Pup 2: cold")
    assert pups[1].startswith("Pup 1: ")


def test_a_sign_not_spoken_of_again_is_still_told() -> None:
    """With its own time, until something ends it."""
    later = sick(425, (360, ("gasping", "blue")), (420, ("cold",)))
    breathing = sheet_at(
        425, (0, Birth(pup=1)), (360, PupState(pup=1, signs=("gasping", "blue"))),
        (400, Step(pup=1, step="breathing")), (420, PupState(pup=1, signs=("cold",))),
    )  # fmt: skip

    assert said(later, "not well").startswith(
        "Pup 1 (marked blue): gasping and blue at 09:00, 1 h 05 min ago; cold at 10:00, 5 min ago."
    )
    assert said(breathing, "not well").startswith("Pup 1: cold at 10:00")


def test_a_newborn_pups_danger_does_not_vanish_behind_a_smaller_sign() -> None:
    """In its first hour too."""
    sheet = sheet_at(
        9, (0, Birth(pup=1)), (4, PupState(pup=1, signs=("gasping", "blue"))),
        (6, PupState(pup=1, signs=("cold",))),
    )  # fmt: skip

    assert said(sheet, "not well").startswith(
        "Pup 1: gasping and blue at 03:04, 5 min ago; cold at 03:06, 3 min ago"
    )


def test_a_pup_weighed_twice_is_not_called_unweighed() -> None:
    """Its shortest telling says what it lost since the first weight."""
    sheet = sheet_at(
        60 * 15, (0, Birth(pup=1, weight=Decimal(200))), (1, Step(pup=1, step="milk")),
        (9, Finished()), (60 * 12, Weight(pup=1, grams=Decimal(190))),
        (60 * 14, PupState(pup=1, signs=("weak",))),
    )  # fmt: skip
    [fact] = [fact for fact in sheet.facts if fact.label == "not well"]

    assert all("not weighed again" not in words for words in (fact.words, *fact.shorter))
    assert "-5.0 % since the first weight" in fact.shorter[-1]


def test_how_warm_they_lie() -> None:
    """The newest reading in the box of the last hours; none before there is a pup."""
    box = Temperature(celsius=Decimal(24), where="box")

    assert said(sheet_at(9, (0, Birth(pup=1)), (4, box)), "in the box") == (
        "24.0 °C at 03:04, 5 min ago."
    )
    assert "in the box" not in labels(sheet_at(9, (0, Waters()), (4, box)))
    assert "in the box" not in labels(sheet_at(60 * 14, (0, Birth(pup=1)), (4, box)))


def test_a_cry_that_ended_a_trouble_is_said_once() -> None:
    """As what showed that the pup came round; with anything else of it, it is not well."""
    lines = [(0.0, Birth(pup=1, state="limp")), (6.0, PupState(pup=1, signs=("crying",)))]
    once = sheet_at(8, *lines)
    cold = sheet_at(8, *lines, (7, Temperature(celsius=Decimal(33), where="pup", pup=1)))
    weak = sheet_at(8, *lines, (7, PupState(pup=1, signs=("crying", "weak"))))
    alone = sheet_at(8, (0, Birth(pup=1)), lines[1])
    later = sheet_at(
        128, (0, Birth(pup=1)), (120, PupState(pup=1, signs=("limp",))),
        (126, PupState(pup=1, signs=("crying",))),
    )  # fmt: skip

    assert said(once, "came round") == "Pup 1: limp at birth, crying after 6 min."
    assert "not well" not in labels(once)
    assert "33.0 °C" in said(cold, "not well")
    assert "weak" in said(weak, "not well")
    assert said(alone, "not well").startswith("Pup 1: crying at 03:06")
    assert "crying" in said(later, "not well")


def test_what_was_typed_as_not_breathing_is_not_told_as_limp_alone() -> None:
    """Both are kept as one state of a newborn; the sheet claims no more than the line did."""
    typed = entry(2, 0, Birth(pup=1, state="limp")).model_copy(update={"text": "pup not breathing"})
    sheet = call_sheet(judged((typed,), at(3)), READER)

    assert said(sheet, "wrong now") == "Pup 1 is limp or not breathing, for 3 min."
    assert said(sheet, "not well") == (
        "Pup 1: limp or not breathing at birth, breathing not written down."
    )
    assert said(sheet_at(3, (0, Birth(pup=1, state="limp"))), "wrong now") == (
        "Pup 1 is limp, and breathing is not noted, for 3 min."
    )
