"""The lines of a call sheet: the order of the parts, what gives way, the rest of a small window."""

import re
from datetime import UTC, datetime
from decimal import Decimal

import pytest

from boxlamp.model.happenings import (
    Afterbirth,
    Birth,
    Contraction,
    DamState,
    Details,
    Discharge,
    Finished,
    Mating,
    Part,
    PupState,
    Temperature,
    Treatment,
    VetContact,
    Waters,
    Weight,
    What,
)
from boxlamp.paper.call_sheet.data import plain_sheet
from boxlamp.paper.call_sheet.facts import GIVES_WAY, Fact, Topic
from boxlamp.paper.call_sheet.lines import ROOM, all_lines, furthest, sheet_lines, window
from boxlamp.paper.call_sheet.page import Page
from boxlamp.paper.call_sheet.sheet import call_sheet
from boxlamp.paper.call_sheet.words import own
from support.accounts import READER
from support.boxes import demo_verdict
from support.made import at, told
from support.sheets import judged, labels, sheet_at, text


def test_the_parts_come_in_order() -> None:
    """Situation, background, assessment, request; the words that always stand at the very end."""
    verdict = demo_verdict("pup-stuck", datetime(2026, 5, 17, 20, 52, tzinfo=UTC))
    lines = text(sheet_lines(call_sheet(verdict, READER), 80))
    heads = [line.split()[0] for line in lines if line[:1].isupper() and line.split()[0].isupper()]

    assert heads == ["SITUATION", "BACKGROUND", "ASSESSMENT", "REQUEST"]
    assert lines[-2].startswith("Say back what the vet says")


@pytest.mark.parametrize(
    ("words", "cells", "left"),
    [("short", 9, "short"), ("longer than that", 9, "longer t~"), (None, 5, ""),
     (" a\n b ", 9, "a b"), ("\u0301" * 99, 9, "\u0301" * 36 + "~")],
)  # fmt: skip
def test_own_words_are_shortened_visibly(words: str | None, cells: int, left: str) -> None:
    """A cut shows; signs without a width do not go on for ever."""
    assert own(words, cells) == left


STUCK = datetime(2026, 5, 17, tzinfo=UTC)


def test_words_are_whole_while_there_is_room() -> None:
    """What the vet said and what was given is cut only where the sheet would not fit."""
    advice = (
        "bring her in at once if there is no pup within the next twenty minutes, and ring first"
    )
    given_ = "a thing that the vet left here in March for the case that she would be tired again"
    few = sheet_at(5, (0, VetContact(contact="advised", said=advice)), (1, Treatment(what=given_)))
    wide = " ".join(" ".join(text(sheet_lines(few, 80))).split())
    assert advice in wide
    assert given_ in wide

    long = sheet_at(
        5,
        (0, Treatment(what="x" * 500)),
        (1, VetContact(contact="advised", said=advice * 9)),
        *((2.0, Treatment(what=f"{n} {given_}")) for n in range(9)),
    )
    plain = "\n".join(plain_sheet(long))
    assert "x" * 500 in plain
    assert advice * 9 in plain
    assert all(f"{n} {given_}" in plain for n in range(9))
    assert "~" not in plain
    assert len(sheet_lines(long, 80)) <= ROOM


def test_the_rest_of_a_small_window_can_be_reached() -> None:
    """However small: page by page every line is seen, and the last line says what is left."""
    sheet = call_sheet(demo_verdict("pup-stuck", STUCK.replace(hour=20, minute=42)), READER)
    for width, room in ((60, 14), (40, 8), (20, 3)):
        lines = all_lines(sheet, width, room)
        end = furthest(len(lines), room)
        pages = [window(lines, width, room, first) for first in range(end + 1)]
        found = {line for page in pages for line in text(page)}
        assert set(text(lines)) <= found
        assert all(len(page) == room for page in pages)
        assert "PgDn" in " ".join(text(pages[0])[-1:]) or width == 20
        assert window(lines, width, room, 10_000) == pages[-1]


def crowded(*more: tuple[float, What]) -> list[str]:
    """The sheet of a night with too much to say for one screen, made by everything at once."""
    known = Details(
        dam="Fern", breed="Boxer", age_years=Decimal(5), weight=Decimal(24_000), first_litter=False,
        earlier_dystocia=True, vet="Dr Vrba", vet_phone="000 555 090", travel_minutes=25,
    )  # fmt: skip
    births = [(float(n), Birth(pup=n, state="limp", mark=f"colour {n}")) for n in range(1, 8)]
    lines: list[tuple[float, What]] = [
        (-90_000, Mating()), (-300, Temperature(celsius=Decimal("36.8"))), (-200, Waters()),
        (-100, Contraction(strength="strong")), *births, (8, Discharge(colour="green")),
        (9, Afterbirth()), (20, DamState(signs=("dull", "vomited"))),
        (21, Temperature(celsius=Decimal("40.1"))), (22, Discharge(colour="red", amount="heavy")),
        (23, Treatment(what="glucose", by="Ana")), (24, Contraction(strength="strong")),
        (25, Part(part="tail")),
    ]  # fmt: skip
    verdict = judged(told((-90_001, known), *lines, *more), at(60))
    return text(sheet_lines(call_sheet(verdict, READER), 80))


def test_what_was_known_before_gives_way_before_what_is_seen() -> None:
    """Her temperature and her signs stand when the day count and the stages have gone."""
    lines = crowded()
    whole = " ".join(" ".join(lines).split())

    assert len(lines) <= ROOM
    for seen in ("40.1 °C", "ull and vomited", "ed, heavy", "a tail", "Last push"):
        assert seen in whole, "\n".join(lines)
    assert re.search(r"eft out:? [^.]*\bso far\b.* \(no room\)", whole)
    assert not re.search(r"eft out:? [^.]*\b(temperature|the dam|discharge|pushing)\b", whole)


def test_every_pup_that_is_left_out_is_named() -> None:
    """One whose row leans on the label above it too: no poorly pup is passed over in silence."""
    whole = " ".join(crowded())

    assert all(re.search(rf"[Pp]ups? (?:\d, )*(?:\d and )?{n}\b", whole) for n in range(1, 8))


def test_the_order_of_giving_way_puts_tonight_last() -> None:
    """Whoever reads the table reads it from history to what is seen now."""
    order = list(GIVES_WAY)
    history: tuple[Topic, ...] = ("past", "so far", "her history", "term", "limits")
    seen: tuple[Topic, ...] = (
        "discharge",
        "signs",
        "temperature",
        "pushing",
        "sickest pup",
        "given",
    )

    assert max(order.index(one) for one in history) < min(order.index(one) for one in seen)
    assert order[-1] == "stays"


def test_a_sheet_that_is_turned_page_by_page_is_whole() -> None:
    """Nothing is shortened for a window that cannot hold it anyhow."""
    verdict = demo_verdict("stalled-labour", datetime(2026, 4, 12, 0, 26, tzinfo=UTC))
    sheet = call_sheet(verdict, READER)
    whole = all_lines(sheet, 50, None)

    assert all_lines(sheet, 50, 13) == whole
    assert all_lines(sheet, 80, 12) == all_lines(sheet, 80, None)


def test_what_is_over_goes_before_what_was_found_tonight() -> None:
    """On the third day the loss of weight stands, and the day on which she whelped need not."""
    lines: list[tuple[float, What]] = [
        (-60 * 24 * 62, Mating()), (-300, Waters()), (-30, Contraction(strength="strong")),
        *((float(n), Birth(pup=n, weight=Decimal(300))) for n in range(1, 7)), (90, Finished()),
        *((60.0 * 48 + n, Weight(pup=n, grams=Decimal(310))) for n in range(1, 7)),
        *((60.0 * 70 + n, Weight(pup=n, grams=Decimal(280 + n))) for n in range(1, 7)),
        (60 * 70 + 10, Temperature(celsius=Decimal("39.9"))),
        (60 * 70 + 11, Treatment(what="milk")),
        (60 * 70 + 12, PupState(pup=2, signs=("weak", "crying"))),
        (60 * 70 + 13, DamState(signs=("dull",))), (60 * 70 + 14, Discharge(colour="brown")),
    ]  # fmt: skip
    words = " ".join(" ".join(text(sheet_lines(sheet_at(60 * 71, *lines), 80))).split())

    assert "0 of 6 pups gained since the weighing before" in words
    assert "first pup on day" not in words
    assert re.search(r"eft out:? [^.]*at term", words)


def test_what_the_request_says_again_is_told_once_where_room_is_short() -> None:
    """The vet's words stand in the question, and the row of their own goes first."""
    quiet = sheet_at(5, (0, VetContact(contact="advised", said="said to wait an hour")))
    assert "the vet" in labels(quiet)
    full = " ".join(crowded((40, VetContact(contact="advised", said="said to wait an hour"))))

    assert full.count("wait an hour") == 1
    assert "You told me at 03:40: wait an hour." in full


def test_advice_outlives_a_later_call_where_room_is_short() -> None:
    """What the vet has said is read out, though nobody wrote what was said in the last call."""
    advice = "bring her in if there is no pup by two"
    advised, called = VetContact(contact="advised", said=advice), VetContact(contact="called")
    full = " ".join(" ".join(crowded((40, advised), (50, called))).split())

    assert full.count(advice) == 1
    assert f"You told me at 03:40: {advice}. I rang you at 03:50." in full


@pytest.mark.parametrize(
    ("rows", "left"), [(14, "and much more"), (17, "Pup 4 weak."), (18, "ut: pup 4")]
)
def test_a_pup_is_told_in_a_word_before_it_is_left_out(rows: int, left: str) -> None:
    """The less room there is the less is said of it, and at last that there was none."""
    page = Page("Caution.", 80, ROOM)
    words = "Pup 4 (marked yellow): weak and cold, and much more that was found in it"
    pup = Fact("assessment", "", f"{words}{', all of it told' * 20}.", (f"{words} {'x ' * 60}", ""),
               "second pup", least="Pup 4 weak.")  # fmt: skip
    facts = [
        *(Fact("situation", f"row {n}", "An alert.", role="call") for n in range(rows)),
        Fact("assessment", "HEAD", "x" * 140),
        pup,
        Fact("request", "REQUEST", "What now?", role="do"),
    ]
    whole = " ".join(text(page.set(page.fitted(facts))))

    assert left in whole
    assert ("Pup 4 weak." in whole) == (left == "Pup 4 weak.")
