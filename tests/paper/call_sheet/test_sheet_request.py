"""The request on a call sheet: what is asked, of whom, after what the vet has said before."""

from datetime import UTC, datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

import pytest

from boxlamp.model.happenings import (
    Afterbirth,
    Birth,
    Contraction,
    DamState,
    Discharge,
    Feed,
    Finished,
    Part,
    PupState,
    Step,
    VetContact,
    Weight,
)
from boxlamp.model.levels import Level
from boxlamp.paper.call_sheet.sheet import call_sheet
from boxlamp.paper.reader import Reader
from support.accounts import READER
from support.boxes import demo_verdict
from support.made import at, entry, told
from support.sheets import VET, asked, judged, said, sheet_at


@pytest.mark.parametrize(
    ("level", "minutes", "question"),
    [(Level.WATCH, 12, "May she wait?"), (Level.CALL, 17, "Shall I bring her in now?"),
     (Level.GO, 24, "I am about to leave with her.")],
)  # fmt: skip
def test_what_is_asked_goes_with_the_level(level: Level, minutes: int, question: str) -> None:
    """Watch asks whether she may wait, call whether to bring her, go says that they are leaving."""
    verdict = None
    entries = told((-600, VET), (0, Contraction(strength="strong")))
    for minute in range(minutes, minutes + 30):
        verdict = judged(entries, at(minute))
        if verdict.worst is level:
            break
    assert verdict is not None
    assert verdict.worst is level
    asked = said(call_sheet(verdict, READER), "ask")
    assert asked.startswith(question)
    assert ("25 min" in asked) == (level > Level.WATCH)


def test_on_the_way_and_with_the_vet() -> None:
    """Who has left says so; who is at the vet's asks what happens next."""
    strong = (0.0, Contraction(strength="strong"))
    left = sheet_at(40, strong, (30, VetContact(contact="left-for")))
    there = sheet_at(40, strong, (30, VetContact(contact="arrived")))

    assert said(left, "ask").startswith("We left for you at 03:30, 10 min ago.")
    rung = sheet_at(
        40, strong, (30, VetContact(contact="left-for")), (35, VetContact(contact="called"))
    )
    assert "I rang you at 03:35." in said(rung, "ask")
    assert "We left for you at 03:30, 10 min ago." in said(rung, "ask")
    assert "about to leave" not in said(rung, "ask")
    assert said(there, "ask").startswith("Nothing to ask on the telephone: the vet is with her.")
    assert said(there, "!!! GO").startswith("The vet is with her.")


def test_what_asks_at_once_to_leave_is_told_by_those_who_have_left() -> None:
    """Nobody on the road reads aloud that they are asked to leave."""
    down = (0.0, DamState(signs=("collapsed",)))
    home, road = (
        said(sheet_at(10, down, *more), "by the clock")
        for more in ((), ((5, VetContact(contact="left-for")),))
    )

    assert home.endswith("It asks at once to leave for the vet.")
    assert road.endswith("We are on the way.")


STUCK = datetime(2026, 5, 17, tzinfo=UTC)


def test_a_pup_that_does_not_breathe_asks_what_to_do_now() -> None:
    """Nobody asks whether it may wait or be brought; the finding is no order."""
    verdict = demo_verdict("stuck-in-sac", datetime(2026, 3, 29, 0, 31, tzinfo=UTC))
    sheet = call_sheet(verdict, READER)

    assert said(sheet, "wrong now") == "Pup 3 is limp, and breathing is not noted, for 2 min."
    assert asked(sheet) == "What do I do now for pup 3? Please stay on the line."
    gasping = sheet_at(3, (0, Birth(pup=1)), (1, PupState(pup=1, signs=("gasping", "limp"))))
    assert said(gasping, "wrong now") == "Pup 1 is gasping and limp, for 2 min."
    assert asked(gasping).startswith("What do I do now for pup 1?")


def test_she_is_asked_about_after_a_pup_that_does_not_breathe() -> None:
    """Breath comes first, then what is wrong with her; or that they leave, and how far it is."""
    hers = sheet_at(
        2, (0, Discharge(colour="pus")), (1, Birth(pup=1, state="limp")),
    )  # fmt: skip
    leaves = sheet_at(3, (0, Birth(pup=1, state="limp")), (1, DamState(signs=("collapsed",))))

    help_now = "What do I do now for pup 1? Please stay on the line."
    assert asked(hers).startswith(f"{help_now} Then: Shall I bring her in now?")
    assert asked(leaves) == (f"{help_now} I am 25 min away and about to leave with her and pup 1.")


def test_what_the_vet_said_comes_first() -> None:
    """Who was told already to come does not ask whether to come."""
    verdict = demo_verdict("pup-stuck", STUCK.replace(hour=20, minute=42))
    sheet = call_sheet(verdict, Reader(ZoneInfo("Europe/London")))

    assert asked(sheet).startswith(
        "I rang you at 21:39; noted: come at once. Since then: 1 push, no pup written down. I am "
    )
    assert "coming with her." in asked(sheet)
    assert "Shall I bring her" not in asked(sheet)
    rung = sheet_at(20, (0, Contraction(strength="strong")), (19, VetContact(contact="called")))
    assert asked(rung).startswith("I rang you at 03:19. Since then: no push, no pup")


def test_a_vet_who_is_coming_is_asked_how_long_and_not_told_that_i_leave() -> None:
    """Of her and of a pup that does not breathe alike."""
    coming = VetContact(contact="called", said="coming")
    hers = sheet_at(31, (0, Contraction(strength="strong")), (25, coming))
    pups = sheet_at(
        3, (0, Birth(pup=1, state="limp")), (1, DamState(signs=("collapsed",))), (2, coming)
    )

    assert "Are you on the way to us, and how long will it take?" in asked(hers)
    assert asked(hers).endswith("What should I do until then?")
    assert asked(pups).endswith("Are you on the way to us, and how long will it take?")
    for sheet in (hers, pups):
        assert "I am coming" not in asked(sheet)
        assert "about to leave" not in asked(sheet)


ADVICE = VetContact(contact="advised", said="bring her in if there is no pup by two")


def test_a_call_without_words_does_not_take_the_advice_away() -> None:
    """The newest talk is said again, and before it the newest of which words are written down."""
    sheet = sheet_at(
        90, (0, VetContact(contact="advised", said="walk her")), (31, ADVICE),
        (60, Contraction()), (80, VetContact(contact="called")), (82, Contraction()),
    )  # fmt: skip

    assert asked(sheet).startswith(
        "You told me at 03:31: bring her in if there is no pup by two. I rang you at 04:20. Since "
        "then: 1 push, no pup written down. "
    )
    told = {fact.topic: fact.words for fact in sheet.facts if fact.label == "the vet"}
    assert "bring her in" in told["said below"]
    assert told["vet"] == "Advised at 03:00, 1 h 30 min ago: walk her."


def test_a_note_behind_advice_stays_where_the_request_leaves_it_out() -> None:
    """Only what is said again whole may go; the rest keeps a row of its own."""
    line = entry(3, 19, ADVICE).model_copy(update={"note": "Dr Vrba will be there"})
    sheet = call_sheet(judged((entry(1, -600, VET), line), at(40)), READER)

    [fact] = [fact for fact in sheet.facts if fact.label == "the vet"]
    assert fact.topic == "vet"
    assert "(Dr Vrba will be there)" in fact.words


@pytest.mark.parametrize(
    ("words", "request_says"),
    [("told her it is 25 minutes now", "Until when may I wait"),
     ("told her a pup is coming", "Until when may I wait"),
     ("come in if no pup by half past two", "Until when may I wait"),
     ("come at once", "I am coming with her.")],
)  # fmt: skip
def test_whose_words_stand_behind_a_call_is_not_claimed(words: str, request_says: str) -> None:
    """They may be the caller's: nobody tells the vet that the vet has said them."""
    line = entry(3, 19, VetContact(contact="called")).model_copy(update={"note": words})
    push = entry(2, 0, Contraction(strength="strong"))
    sheet = call_sheet(judged((entry(1, -600, VET), push, line), at(19.5)), READER)

    assert asked(sheet).startswith(f"I rang you at 03:19; noted: {words}. Since then: ")
    assert "You told me" not in asked(sheet)
    assert request_says in asked(sheet)


@pytest.mark.parametrize("words", ["come", "bring her", "come in at once", "bring her in now"])
def test_who_was_told_to_come_says_that_they_come(words: str) -> None:
    """Behind the line as a note, or as its own words; nobody asks how long it may wait."""
    line = entry(3, 19, VetContact(contact="called")).model_copy(update={"note": f"said {words}"})
    push = entry(2, 0, Contraction(strength="strong"))
    noted = call_sheet(judged((entry(1, -600, VET), push, line), at(20)), READER)
    said_so = sheet_at(20, (0, Contraction()), (19, VetContact(contact="advised", said=words)))

    for sheet in (noted, said_so):
        assert asked(sheet).endswith(
            "I am coming with her. The drive to you takes 25 min. What should I do on the way?"
        )
        assert "wait" not in asked(sheet)


@pytest.mark.parametrize(
    "words", ["do not come yet", "come if no pup by four", "no need to come", "don't bring her",
              "come tomorrow", "ring again in an hour"],
)  # fmt: skip
def test_who_was_told_to_wait_or_under_a_condition_still_asks(words: str) -> None:
    """It is no word to come."""
    advised = VetContact(contact="advised", said=words)
    sheet = sheet_at(17, (0, Contraction(strength="strong")), (16, advised))

    assert "I am coming" not in asked(sheet)
    assert "Until when may I wait" in asked(sheet)


def test_an_alert_that_is_newer_than_the_advice_asks_again() -> None:
    """What was said before is said first, and what is wrong since is still asked about."""
    sheet = sheet_at(
        40, (0, Birth(pup=1)), (1, VetContact(contact="advised", said="wait an hour")),
        (39, Discharge(colour="red", amount="some")), (39, DamState(signs=("dull", "vomited"))),
        (40, Part(part="feet")),
    )  # fmt: skip

    assert asked(sheet).startswith("You told me at 03:01: wait an hour. Since then: ")
    assert "Shall I bring her in now?" in asked(sheet)


def test_advice_from_another_day_is_no_answer() -> None:
    """It stands among the facts and not before the question."""
    sheet = sheet_at(60 * 20, (0, VetContact(contact="advised", said="wait")), (60 * 20, Part()))

    assert asked(sheet).startswith("Shall I bring her in now?")
    assert "wait" in said(sheet, "the vet")


def test_an_afterbirth_is_hers() -> None:
    """A pup whose afterbirth is owed need not wait for anything."""
    owed = sheet_at(
        60 * 5, (0, Birth(pup=1)), (1, Step(pup=1, step="breathing")),
        (2, Step(pup=1, step="milk")), (60 * 5, Finished()),
    )  # fmt: skip
    rules = [alert.rule.group for alert in judged(told(
        (-600, VET), (0, Birth(pup=1)), (1, Step(pup=1, step="breathing")),
        (2, Step(pup=1, step="milk")), (60 * 5, Finished())), at(60 * 5)).alerts]  # fmt: skip

    assert "afterbirths" in rules
    assert "the afterbirth" in asked(owed)
    assert "May pup 1" not in asked(owed)


@pytest.mark.parametrize(("minutes", "until"), [(60 * 20, "the morning"), (60 * 30, "tomorrow")])
def test_a_watch_about_weight_asks_until_when(minutes: int, until: str) -> None:
    """At night until the morning, in the day until tomorrow."""
    sheet = sheet_at(
        minutes, (0, Birth(pup=1, weight=Decimal(300))), (1, Afterbirth()), (2, Finished()),
        (3, Birth(pup=2, weight=Decimal(300))), (4, Afterbirth()), (5, Step(pup=1, step="milk")),
        (6, Step(pup=2, step="milk")), (7, Finished()), (8, VetContact(contact="seen")),
        (minutes - 2, Feed(pup=1)), (minutes - 2, Feed(pup=2)),
        (minutes - 1, Weight(pup=1, grams=Decimal(272))),
        (minutes - 1, Weight(pup=2, grams=Decimal(310))),
    )  # fmt: skip

    assert sheet.level is Level.WATCH
    assert f"May this wait until {until}?" in asked(sheet)


def test_with_pups_to_come_she_comes_first() -> None:
    """A poorly pup in the middle of a labour does not push the dam out of the question."""
    sheet = sheet_at(
        70, (0, Birth(pup=1)), (1, Step(pup=1, step="breathing")), (2, Afterbirth()),
        (60, Contraction()), (69, PupState(pup=1, signs=("bloated",))),
    )  # fmt: skip

    assert "her and pup 1" in asked(sheet)
