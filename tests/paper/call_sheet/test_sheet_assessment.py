"""The assessment on a call sheet: what was seen of her, how old it is, what nobody wrote down."""

import re
from datetime import UTC, datetime
from decimal import Decimal

import pytest

from boxlamp.model.happenings import (
    Afterbirth,
    Birth,
    Caesarean,
    Contraction,
    DamState,
    Details,
    Discharge,
    Expect,
    Finished,
    Note,
    Part,
    Rest,
    Sac,
    Temperature,
    Treatment,
    Waters,
    What,
)
from boxlamp.paper.call_sheet.lines import sheet_lines
from boxlamp.paper.call_sheet.sheet import call_sheet
from boxlamp.paper.reader import Reader
from support.accounts import READER
from support.boxes import demo_verdict
from support.made import at, entry
from support.sheets import PRAGUE, VET, judged, labels, said, sheet_at, text


def test_pushing_and_resting() -> None:
    """The last push with its strength and age, then the rest, then how often since the last pup."""
    sheet = sheet_at(
        60, (0, Birth(pup=1)), (10, Contraction(strength="strong")),
        (20, Contraction(strength="weak")), (30, Rest()),
    )  # fmt: skip

    assert said(sheet, "pushing") == (
        "Last push at 03:20, 40 min ago, weak. Resting since 03:30, for 30 min. "
        "First since the last pup 03:10; 1 strong, 1 weak written down."
    )
    before = sheet_at(60, (0, Contraction()), (10, Birth(pup=1)))
    assert said(before, "pushing") == (
        "None written down since the last pup; last one at 03:00, 1 h ago."
    )


def test_a_pup_that_came_since_has_ended_the_rest() -> None:
    """Nobody is told to rest since an hour before a pup was born."""
    sheet = sheet_at(
        40, (0, Contraction(strength="strong")), (10, Rest()), (30, Birth(pup=1)),
    )  # fmt: skip

    assert "Resting" not in said(sheet, "pushing")
    again = sheet_at(40, (0, Contraction()), (30, Birth(pup=1)), (35, Rest()))
    assert "Resting since 03:35, for 5 min." in said(again, "pushing")


@pytest.mark.parametrize(
    ("count", "words"),
    [(0, "None written down yet; 1 not yet seen, of pup 1."), (1, "1 passed; none missing."),
     (2, "2 passed; one more than pups."), (4, "4 passed; 3 more than pups.")],
)  # fmt: skip
def test_afterbirths_are_counted_and_none_is_not_claimed(count: int, words: str) -> None:
    """What nobody wrote down is said to be unwritten; what is too much is counted."""
    passed = [(1.0 + one, Afterbirth()) for one in range(count)]

    assert said(sheet_at(6, (0, Birth(pup=1)), *passed), "afterbirths") == words


def test_a_heavy_bleed_does_not_vanish_behind_smaller_ones() -> None:
    """The same colour in another amount is another finding; the heaviest is told as well."""
    heavy = (10.0, Discharge(colour="red", amount="heavy"))
    streak = (15.0, Discharge(colour="red", amount="streak"))
    clear = (16.0, Discharge(colour="clear"))

    assert said(sheet_at(20, heavy, streak), "discharge") == (
        "Red, a streak, at 03:15, 5 min ago; before that red, heavy, at 03:10, 10 min ago."
    )
    assert said(sheet_at(20, heavy, streak, clear), "discharge").endswith(
        "; before that red, a streak, at 03:15, 5 min ago; the heaviest of that hour red, heavy, "
        "at 03:10, 10 min ago."
    )
    assert "heavy" not in said(sheet_at(90, heavy, (80, streak[1]), (81, clear[1])), "discharge")


def test_the_first_waters_and_every_colour_are_told() -> None:
    """The next pup's clear waters do not undo the green ones that labour began with."""
    sheet = sheet_at(60, (0, Waters(colour="green")), (20, Birth(pup=1)),
                     (40, Waters(colour="clear")))  # fmt: skip

    assert "aters broke 03:00, green, then clear" in said(sheet, "so far")


def test_a_later_discharge_does_not_undo_the_one_before() -> None:
    """The newest first, and the other one that was seen before it."""
    sheet = sheet_at(60, (0, Discharge(colour="green")), (30, Discharge(amount="none")))
    told = said(sheet, "discharge")

    assert told.startswith("None seen, at 03:30, 30 min ago; before that green, at 03:00")


@pytest.mark.parametrize(
    ("lines", "words"),
    [
        ([(0, Part(part="feet"))], "Feet, seen at 03:00, 9 min ago."),
        ([(0, Sac())], "A sac, seen at 03:00, 9 min ago."),
        ([(0, Sac()), (1, Rest())], "A sac, seen at 03:00, 9 min ago."),
        ([(0, Sac()), (1, Rest(sac_gone=True))],
         "Nothing: the sac slipped back, seen at 03:01, 8 min ago."),
    ],
)  # fmt: skip
def test_what_shows_at_the_vulva(lines: list[tuple[float, What]], words: str) -> None:
    """The newest line about it, with its age; a pup that has come takes it away."""
    assert said(sheet_at(9, *lines), "at the vulva") == words
    born = sheet_at(9, *lines, (2, Birth(pup=1)))
    assert "at the vulva" not in labels(born)
    assert "what shows at the vulva now" in born.unknown


def test_what_nobody_wrote_down_is_said() -> None:
    """In one line at the end of the assessment; what is known is not in it."""
    empty = sheet_at(5, (0, Waters()))
    full = sheet_at(
        5, (0, Waters()), (1, Discharge(colour="green")), (2, Temperature(celsius=Decimal(38))),
        (3, Contraction()), (4, DamState(signs=("bright",))), (4, Treatment(what="glucose")),
        (4, Part(part="head")), (4, Expect(count=4, method="scan")),
    )  # fmt: skip
    asked = {
        "discharge", "her temperature", "contractions", "how she is in herself",
        "anything given", "what shows at the vulva now", "how many pups are expected",
    }  # fmt: skip

    assert asked <= set(empty.unknown)
    assert not asked & set(full.unknown)
    lines = text(sheet_lines(empty, 80))
    place = next(place for place, line in enumerate(lines) if line.startswith("not noted"))
    assert lines.index(next(line for line in lines if line.startswith("REQUEST"))) > place


def test_units_and_clock_are_the_readers() -> None:
    """Times of day, weights and temperatures as the reader is used to them, in alerts as well."""
    american = Reader(PRAGUE, "12h", "oz", "F")
    hot = (0.0, Temperature(celsius=Decimal("40.6")))
    weighed = Details(weight=Decimal(12_400))
    sheet = sheet_at(5, (0, weighed), hot, reader=american)
    words = " ".join(fact.words for fact in sheet.facts)

    assert said(sheet, "temperature") == "105.1 °F at 3:00 am, 5 min ago."
    assert "27.3 lb" in words
    assert "°C" not in words
    assert "kg" not in said(sheet, "the dam")


def test_a_labour_that_will_not_end_is_still_one() -> None:
    """A day after the last pup the questions of labour come first as long as its alerts stand."""
    born = (0.0, Birth(pup=1))
    stuck = sheet_at(60 * 30, born)
    over = sheet_at(60 * 30, born, (60, Finished(by="scan")))

    assert "what shows at the vulva now" in stuck.unknown
    assert "in labour for 30 h" in said(stuck, "who")
    assert "what shows at the vulva now" not in over.unknown
    assert "last pup 30 h ago" in said(over, "who")


def test_days_after_a_caesarean_nobody_asks_for_pushes() -> None:
    """Even if no birth was written down."""
    sheet = sheet_at(60 * 40, (0, Caesarean()), (60 * 39, Discharge(colour="red", amount="heavy")))

    assert said(sheet, "who").endswith("caesarean 40 h ago.")
    assert said(sheet, "pups") == "No birth written down."
    assert "contractions" not in sheet.unknown


def test_before_labour_too() -> None:
    """The day count, the temperatures with the ones before, nothing about pups born."""
    verdict = demo_verdict("eight-weeks", datetime(2026, 3, 13, 14, 23, tzinfo=UTC))
    sheet = call_sheet(verdict, READER)

    assert said(sheet, "at term?").startswith("At term: day 64 from the first progesterone rise")
    assert said(sheet, "temperature").count("°C") == 3
    assert said(sheet, "pups") == "7 pups expected by x-ray."
    assert "afterbirths" not in labels(sheet)


def test_after_a_caesarean_the_vulva_is_not_asked_about() -> None:
    """It is said when it was; and of the afterbirths only that none is counted as owed."""
    sheet = sheet_at(30, (0, Contraction()), (5, Caesarean()), (9, Birth(pup=1)))

    assert said(sheet, "who").endswith("caesarean 25 min ago.")
    assert not {"what shows at the vulva now", "contractions"} & set(sheet.unknown)
    assert said(sheet, "afterbirths") == (
        "None written down yet; none counted as owed after the caesarean."
    )


def test_a_fall_of_her_temperature_is_called_one() -> None:
    """The low readings before labour say what they are; one alone is not sure yet."""
    verdict = demo_verdict("eight-weeks", datetime(2026, 3, 13, 14, 23, tzinfo=UTC))
    assert ": a fall before labour; before that" in said(call_sheet(verdict, READER), "temperature")
    once = sheet_at(5, (0, Temperature(celsius=Decimal("36.9"))))
    assert ": low, not confirmed" in said(once, "temperature")
    usual = sheet_at(5, (0, Temperature(celsius=Decimal("38.4"))))
    assert said(usual, "temperature") == "38.4 °C at 03:00, 5 min ago."


def test_days_are_named_as_people_say_them() -> None:
    """``yesterday at 2:00 pm``, ``on 27 Feb at 6:00 am``; never ``at yesterday``."""
    american = Reader(PRAGUE, "12h", "oz", "F")
    sheet = sheet_at(
        60 * 12, (-60 * 12, Temperature(celsius=Decimal("38.2"))),
        (-60 * 36, Temperature(celsius=Decimal("38.1"))),
        (0, Temperature(celsius=Decimal("38.4"))), reader=american,
    )  # fmt: skip

    assert said(sheet, "temperature") == (
        "101.1 °F at 3:00 am, 12 h ago; before that 100.8 °F yesterday at 3:00 pm, 100.6 °F on "
        "28 Feb at 3:00 pm."
    )


def test_a_note_is_told_behind_what_it_belongs_to() -> None:
    """What was given, what shows, the push, the discharge, the dam: each with its own words.

    Where there is no room a cut shows.
    """
    whats: tuple[tuple[What, str], ...] = (
        (Treatment(what="glucose", by="Ana"), "given"), (Part(part="feet"), "at the vulva"),
        (Contraction(strength="strong"), "pushing"), (Discharge(colour="green"), "discharge"),
        (DamState(signs=("dull",)), "the dam"),
    )  # fmt: skip
    for what, label in whats:
        note = "as never before, and the sheet is full of other things."
        line = entry(2, 0, what).model_copy(update={"note": note})
        sheet = call_sheet(judged((entry(1, -60, VET), line), at(9)), READER)
        [fact] = [fact for fact in sheet.facts if fact.label == label and fact.part == "assessment"]
        assert "(as never before, and the sheet is full of other things)" in fact.words
        assert "(as never before, and th~)" in fact.shorter[-1]


def test_what_was_given_names_who_and_why() -> None:
    """``given X by Y; note`` is told whole, as the summary does."""
    line = entry(2, 0, Treatment(what="tablet", by="Hillside")).model_copy(
        update={"note": "brought it up after ten minutes"}
    )
    sheet = call_sheet(judged((entry(1, -60, VET), line), at(9)), READER)

    assert said(sheet, "given") == (
        "Tablet by Hillside at 03:00, 9 min ago (brought it up after ten minutes)."
    )


def test_notes_that_stand_alone_are_told_last() -> None:
    """Those of the last hours, the newest first."""
    sheet = sheet_at(
        60, (-800, Note(words="an old one")), (0, Note(words="fell down the stairs at noon")),
        (10, Note(words="tail wagging", unread=True)), (20, Note(words="ears are cold")),
    )  # fmt: skip

    assert said(sheet, "noted") == (
        "Ears are cold (at 03:20, 40 min ago); fell down the stairs at noon (at 03:00, 1 h ago)."
    )
    assert said(sheet, "own words") == "Tail wagging (at 03:10, 50 min ago)."
    assert not {"noted", "own words"} & labels(sheet_at(60, (0, Waters())))


def test_a_note_behind_any_line_about_her_is_told() -> None:
    """That of an afterbirth, a rest, an earlier push: its own line on the sheet has no room."""
    lines = [
        entry(number, number, what).model_copy(update={"note": note})
        for number, (what, note) in enumerate(
            [(Birth(pup=1), ""), (Afterbirth(of=1), "torn"), (Contraction(), "very loud"),
             (Rest(), "pants hard"), (Contraction(), "the last")], 2,
        )
    ]  # fmt: skip
    words = said(call_sheet(judged((entry(1, -60, VET), *lines), at(9)), READER), "noted")

    assert words == (
        "Rest: pants hard (at 03:05, 4 min ago); push: very loud (at 03:04, 5 min ago); "
        "afterbirth: torn (at 03:03, 6 min ago)."
    )


def test_what_was_not_understood_is_a_finding() -> None:
    """Where it is newer than what the log says of her, that is said beside it."""
    sheet = sheet_at(
        44, (-10, Contraction()), (5, Rest()),
        (20, Note(words="03:20 push. she is crying", unread=True)),
    )  # fmt: skip
    before = sheet_at(44, (-20, Note(words="hm", unread=True)), (-10, Contraction()), (5, Rest()))

    assert said(sheet, "own words") == "Push. she is crying (at 03:20, 24 min ago)."
    assert "Resting since 03:05, for 39 min. Then own words at 03:20: see below." in (
        said(sheet, "pushing")
    )
    assert "own words" not in said(before, "pushing")


def test_what_was_not_understood_goes_after_what_was_known_before() -> None:
    """On a full screen the newest are there, and those that are not are counted."""
    many: list[tuple[float, What]] = [
        (float(n), Note(words=f"thing number {n}", unread=True)) for n in range(20, 40)
    ]  # fmt: skip
    full: list[tuple[float, What]] = [
        (-9000, Details(age_years=Decimal(6), weight=Decimal(9000), toy=True)), (-90, Waters()),
        (-60, Contraction()), (-50, Birth(pup=1)), (-40, Birth(pup=2, state="limp")),
        (-30, Contraction()), (-20, Discharge(colour="green")), (-10, Part(part="feet")),
        (-5, Treatment(what="oxygen")), (-4, Temperature(celsius=Decimal(39))),
    ]  # fmt: skip
    words = " ".join(" ".join(text(sheet_lines(sheet_at(44, *full, *many), 80))).split())

    assert re.search(r"thing number 39 \(.*?\)(; thing number \d+ \(.*?\))*; and \d+ more\.", words,
                     re.IGNORECASE)  # fmt: skip


def test_what_can_be_seen_is_named_to_be_looked_at() -> None:
    """All of it; what stands in own words may be the answer, and then that is said."""
    bare = sheet_at(5, (0, Waters()), (1, DamState(signs=("bright",))))
    noted = sheet_at(5, (0, Waters()), (1, DamState(signs=("bright",))),
                     (2, Note(words="something dark at vulva")))  # fmt: skip
    going = sheet_at(35, (0, Contraction(strength="strong")), (1, DamState(signs=("bright",))))
    first, second, third = (
        " ".join(" ".join(text(sheet_lines(sheet, 80))).split()) for sheet in (bare, noted, going)
    )

    look = "contractions, what shows at the vulva now, discharge and her temperature."
    assert f"Look before you ring: {look}" in first
    assert f"Look before you ring, unless your own words above say it: {look}" in second
    assert "Look now: what shows at the vulva now, discharge and her temperature." in third
    assert "more." not in first
    limp = " ".join(text(sheet_lines(sheet_at(2, (0, Birth(pup=1, state="limp"))), 80)))
    assert "Look when your hands are free: " in limp
    assert "before you ring" not in limp


def test_what_was_given_tonight_is_told_whole() -> None:
    """What is older is counted where there is no room for it."""
    lines: list[tuple[float, What]] = [
        (-2000, Treatment(what="worm tablet")), (-1000, Treatment(what="calcium")),
        (10, Treatment(what="oxygen")), (20, Treatment(what="glucose")), (30, Waters()),
    ]  # fmt: skip
    [fact] = [fact for fact in sheet_at(40, *lines).facts if fact.label == "given"]

    assert all("lucose" in words and "oxygen" in words for words in (fact.words, *fact.shorter))
    assert fact.shorter[-1].endswith("; 2 more before that.")


def test_an_amount_that_nobody_said_is_not_told() -> None:
    """``discharge green`` is green; ``some`` is only told where it was typed."""
    silent, some = (
        entry(2, 0, Discharge(colour="green")).model_copy(update={"text": typed})
        for typed in ("discharge green", "discharge green some")
    )
    bare, typed = (
        said(call_sheet(judged((entry(1, -60, VET), one), at(9)), READER), "discharge")
        for one in (silent, some)
    )

    assert bare == "Green, at 03:00, 9 min ago."
    assert typed == "Green, some, at 03:00, 9 min ago."
