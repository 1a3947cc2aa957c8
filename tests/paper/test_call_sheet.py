"""The call sheet: what it answers, in which order, on one screen, whatever was typed."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boxlamp.engine import Verdict, assess
from boxlamp.model.entry import Entry
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
    Mating,
    Note,
    Part,
    PupState,
    Rest,
    Sac,
    Step,
    Temperature,
    Treatment,
    VetContact,
    Waters,
    What,
)
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.paper.call_sheet import call_sheet
from boxlamp.paper.call_sheet_data import plain_sheet, sheet_json
from boxlamp.paper.call_sheet_facts import CallSheet, own
from boxlamp.paper.call_sheet_lines import ROOM, sheet_lines
from boxlamp.paper.reader import Reader
from boxlamp.view.board import message_words
from boxlamp.view.layout import Line
from boxlamp.view.text import clean, width_of
from support.accounts import READER
from support.boxes import demo_verdict
from support.happenings import HOSTILE
from support.made import STREAMS, at, entry, told
from support.nights import CASES, DEFAULT, DEMO, Case, chapters

NIGHTS = [case for path in sorted(DEMO.glob("*.night")) for case in chapters(path)]
PUBLISHED = [
    case for path in sorted((CASES / "published").glob("*.night")) for case in chapters(path)
]
PRAGUE = ZoneInfo("Europe/Prague")
TEN_MINUTES = timedelta(minutes=10)
VET = Details(dam="Fern", breed="Boxer", vet="Dr Vrba", vet_phone="000 555 090", travel_minutes=25)


def judged(entries: tuple[Entry, ...], moment: datetime) -> Verdict:
    """What stands at a moment."""
    return assess(Story(entries).until(moment), DEFAULT).verdict(moment)


def sheet_at(minutes: float, *lines: tuple[float, What], reader: Reader = READER) -> CallSheet:
    """The sheet of a made night, so many minutes after two."""
    return call_sheet(judged(told((-600, VET), *lines), at(minutes)), reader)


def text(lines: list[Line]) -> list[str]:
    """Lines as they are read."""
    return ["".join(words for _, words in line) for line in lines]


def said(sheet: CallSheet, label: str) -> str:
    """The words under a label."""
    return next(fact.words for fact in sheet.facts if fact.label == label)


def labels(sheet: CallSheet) -> set[str]:
    """The labels on a sheet."""
    return {fact.label for fact in sheet.facts}


def kept(verdict: Verdict, reader: Reader = READER) -> list[str]:
    """A sheet at 80 columns, after the promises that hold for every sheet were looked at."""
    sheet = call_sheet(verdict, reader)
    lines = text(sheet_lines(sheet, 80))
    whole = " ".join(" ".join(lines).split())
    assert len(lines) <= ROOM, "\n".join(lines)
    assert all(width_of(line) <= 80 for line in lines)
    assert all(line == clean(line) for line in lines)
    assert not any("taller window" in line for line in lines), "\n".join(lines)
    assert "say back what the vet says" in whole.lower()
    assert whole.endswith("the vet's word comes first.")
    assert "REQUEST" in whole
    if verdict.alerts:
        worst = verdict.alerts[0]
        assert lines[0].startswith(f"{worst.level.mark} {worst.level.word.upper()} ")
        assert " ".join(said(sheet, "wrong now").split()) in whole
    return lines


@pytest.mark.parametrize("case", [*NIGHTS, *PUBLISHED], ids=lambda case: case.name)
def test_every_sheet_of_a_night_fits_one_screen(case: Case) -> None:
    """Every ten minutes of it, and at every entry: 22 lines of 80, with the worst alert whole."""
    for verdict in verdicts(case.night.entries):
        lines = kept(verdict)
        if verdict.alerts:
            sentence = READER.sentence(message_words(verdict.alerts[0], verdict.litter))
            assert " ".join(sentence.split()) in " ".join(" ".join(lines).split())


def verdicts(entries: tuple[Entry, ...]) -> Iterator[Verdict]:
    """At each entry and every ten minutes up to the next; a long gap is looked at for an hour."""
    after = [*[one.at for one in entries[1:]], entries[-1].at + timedelta(hours=30)]
    for one, end in zip(entries, after, strict=True):
        if end == one.at:
            continue
        assessment = assess(Story(entries).until(one.at), DEFAULT)
        steps = min(6, (end - one.at) // TEN_MINUTES)
        yield from (assessment.verdict(one.at + step * TEN_MINUTES) for step in range(steps + 1))
        yield assessment.verdict(end - timedelta(seconds=1))


LONG = st.sampled_from(
    ["x" * 500, "ab " * 166, "\u202eevil" * 100, "<script>alert(1)</script>", "=cmd|' /C calc'!A0",
     "\x1b[2J" * 80, "e\u0301" * 250, "\u0301" * 500, "\U0001f415" * 500, "\u4e2d" * 500,
     "\ud800" * 9, "a\nb\tc", "", " "]
)  # fmt: skip
NAMES = LONG | HOSTILE.map(lambda words: words[:500])


@settings(max_examples=60, deadline=None)
@given(st.lists(NAMES, min_size=9, max_size=9), st.integers(1, 900))
def test_nothing_anybody_typed_spoils_it(names: list[str], minutes: int) -> None:
    """Names, marks, numbers, notes of any length and kind: one screen, nothing that acts."""
    dam, breed, vet, phone, night, mark, what, by, advice = names
    details = Details.model_construct(
        dam=dam, breed=breed, vet=vet, vet_phone=phone, night_phone=night, travel_minutes=30,
        age_years=Decimal(4), weight=Decimal(9000), first_litter=False, earlier_dystocia=True,
    )  # fmt: skip
    births = [
        (float(number), Birth.model_construct(pup=number, mark=f"{number}{mark}", state="limp"))
        for number in range(1, 15)
    ]
    states = [
        (20.0 + number, PupState(pup=number, signs=("not-breathing", "cold", "weak")))
        for number in range(1, 15)
    ]
    lines: list[tuple[float, What]] = [
        (0, details), (0.1, Mating()), (0.2, Expect(count=15, method="xray")), *births, *states,
        (40, Treatment.model_construct(what=what, by=by)),
        (41, Treatment.model_construct(what=advice, by=what)),
        (42, VetContact.model_construct(contact="advised", said=advice)),
        (43, DamState(signs=("collapsed", "fits", "cannot-stand", "unresponsive"))),
        (44, Temperature(celsius=Decimal("40.6"))), (45, Discharge(colour="red", amount="heavy")),
        (46, Part(part="feet")), (47, Contraction(strength="strong")), (48, Waters(colour="green")),
    ]  # fmt: skip
    entries = tuple(
        entry(number, 0, Note()).model_copy(update={"at": at(minute), "what": what_})
        for number, (minute, what_) in enumerate(lines, start=1)
    )
    for reader in (READER, Reader(PRAGUE, "12h", "oz", "F")):
        verdict = judged(entries, at(48 + minutes))
        assert len(verdict.alerts) >= 10
        kept(verdict, reader)


@settings(max_examples=60, deadline=None)
@given(STREAMS, st.integers(0, 100_000))
def test_any_night_has_a_sheet(entries: tuple[Entry, ...], minutes: int) -> None:
    """Whatever happened, in whatever order: one screen, and the same facts in every form."""
    verdict = judged(entries, entries[-1].at + timedelta(minutes=minutes))
    kept(verdict)
    sheet = call_sheet(verdict, READER)
    plain = list(plain_sheet(sheet))
    told_there = [
        fact["words"]
        for part in sheet_json(sheet, "ash", PRAGUE)["parts"]
        for fact in part["facts"]
    ]

    assert told_there == [fact.words for fact in sheet.facts]
    assert all(line.count("\t") == 2 and all(line.split("\t")) for line in plain)
    assert [line.split("\t")[2] for line in plain if "\tnot noted\t" in line] == list(sheet.unknown)


@settings(max_examples=30, deadline=None)
@given(STREAMS, st.integers(10, 140), st.integers(1, 40))
def test_any_size_keeps_the_beginning(entries: tuple[Entry, ...], width: int, room: int) -> None:
    """No line is too wide and there are never too many; what is cut off is said to be."""
    sheet = call_sheet(judged(entries, entries[-1].at + timedelta(minutes=40)), READER)
    whole, lines = text(sheet_lines(sheet, width, None)), text(sheet_lines(sheet, width, room))

    assert len(lines) <= room
    assert all(width_of(line) <= width for line in [*whole, *lines])
    if room > 1:
        assert lines[0] == whole[0]
    if len(lines) == room < len(whole) and not lines[-1].endswith(whole[-1]):
        assert "more line" in lines[-1] or width < len("and 99 more lines")


def test_it_begins_with_whom_to_ring_and_what_is_wrong() -> None:
    """The level and the number first; then who she is, the alert, its clock, the limit."""
    verdict = demo_verdict("stalled-labour", datetime(2026, 4, 12, 0, 26, tzinfo=UTC))

    assert text(sheet_lines(call_sheet(verdict, READER), 80))[:5] == [
        "!! CALL      Dr Horak (invented), 000 555 020; 35 min away.",
        "SITUATION    02:26. Juniper, Labrador Retriever: in labour for 3 h 06 min.",
        "wrong now    The last pup came 2 h 07 min ago: 4 more to come by the x-ray.",
        "by the clock Long gap, more pups to come: 2 h 07 min since 00:19. The limit to",
        "             ring the vet is 2 h, reached at 02:19.",
    ]


def test_the_parts_come_in_order() -> None:
    """Situation, background, assessment, request; the words that always stand at the very end."""
    verdict = demo_verdict("pup-stuck", datetime(2026, 5, 17, 20, 52, tzinfo=UTC))
    lines = text(sheet_lines(call_sheet(verdict, READER), 80))
    heads = [line.split()[0] for line in lines if line[:1].isupper() and line.split()[0].isupper()]

    assert heads == ["SITUATION", "BACKGROUND", "ASSESSMENT", "REQUEST"]
    assert lines[-2].startswith("Say back what the vet says")


def test_nothing_wrong_is_said_and_leaves_the_word_to_the_caller() -> None:
    """Without an alert there is a sheet as well: somebody has a reason to ring."""
    sheet = sheet_at(0)

    assert sheet.level is None
    assert said(sheet, "RING") == "Dr Vrba, 000 555 090; 25 min away."
    assert said(sheet, "wrong now").startswith("No alert stands now. Say in your own words")
    assert said(sheet, "ask").startswith("May she wait?")


def test_no_number_is_said() -> None:
    """Whom to ring is known or it is said not to be."""
    sheet = call_sheet(judged(told((0, Details(dam="Fern"))), at(5)), READER)

    assert said(sheet, "RING") == "The vet: no number is written down."


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
    assert said(there, "ask").startswith("What happens next")
    assert said(there, "!!! GO").startswith("The vet is with her.")


def test_an_estimate_is_said_to_be_one() -> None:
    """A time that somebody guessed is "about", in its own fact and where a clock counts from it."""
    lines = [entry(1, -600, VET), entry(2, 0, Contraction(strength="strong"))]
    lines[1] = lines[1].model_copy(update={"certainty": "estimated"})
    sheet = call_sheet(judged(tuple(lines), at(40)), READER)

    assert said(sheet, "pushing").startswith("Last push at about 03:00, 40 min ago, strong.")
    assert "since about 03:00" in said(sheet, "by the clock")
    assert "for about 40 min" in said(sheet, "who")
    assert said(sheet, "so far") == "First push about 03:00."


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
    assert said(before, "pushing") == "None since the last pup; last one at 03:00, 1 h ago."


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


def test_weeks_after_the_birth_other_answers_matter() -> None:
    """Temperature, the dam, weights; the pushes of the night are gone."""
    verdict = demo_verdict("eight-weeks", datetime(2026, 3, 20, 9, 23, tzinfo=UTC))
    sheet = call_sheet(verdict, READER)

    assert {"temperature", "the dam", "weights", "the birth"} <= labels(sheet)
    assert not {"pushing", "at the vulva", "so far"} & labels(sheet)
    assert "3 of 7 pups gained over the last day" in said(sheet, "weights")


def test_a_labour_that_will_not_end_is_still_one() -> None:
    """A day after the last pup the questions of labour come first as long as its alerts stand."""
    born = (0.0, Birth(pup=1))
    stuck = sheet_at(60 * 30, born)
    over = sheet_at(60 * 30, born, (60, Finished(by="scan")))

    assert "what shows at the vulva now" in stuck.unknown
    assert "in labour for 30 h" in said(stuck, "who")
    assert "what shows at the vulva now" not in over.unknown
    assert "whelped 30 h ago" in said(over, "who")


def test_days_after_a_caesarean_nobody_asks_for_pushes() -> None:
    """Even if no birth was written down."""
    sheet = sheet_at(60 * 40, (0, Caesarean()), (60 * 39, Discharge(colour="red", amount="heavy")))

    assert said(sheet, "who").endswith("the whelping ended 40 h ago.")
    assert said(sheet, "pups") == "No birth written down."
    assert "contractions" not in sheet.unknown


def test_a_poorly_pup_is_named_with_its_findings() -> None:
    """Its signs with their age, its temperature, its weight; a call is about that pup."""
    sheet = sheet_at(
        60 * 50, (0, Birth(pup=1, weight=Decimal(300), mark="red")), (1, Afterbirth()),
        (1, Step(pup=1, step="milk")), (2, Finished()),
        (60 * 49, PupState(pup=1, signs=("not-suckling", "cold"))),
        (60 * 49 + 30, Temperature(celsius=Decimal(33), where="pup", pup=1)),
    )  # fmt: skip

    assert said(sheet, "not well").startswith(
        "Pup 1 (marked red): not suckling and cold at 04:00, 1 h ago; 33.0 °C 30 min ago; "
        "300 g 50 h ago, not weighed again."
    )
    assert "pup 1" in said(sheet, "ask")


def test_before_labour_too() -> None:
    """The day count, the temperatures with the ones before, nothing about pups born."""
    verdict = demo_verdict("eight-weeks", datetime(2026, 3, 13, 14, 23, tzinfo=UTC))
    sheet = call_sheet(verdict, READER)

    assert said(sheet, "at term?").startswith("At term: day 64 from the first progesterone rise")
    assert said(sheet, "temperature").count("°C") == 3
    assert said(sheet, "pups") == "7 pups expected by x-ray."
    assert "afterbirths" not in labels(sheet)


def test_other_alerts_get_a_line_each_and_watches_are_counted() -> None:
    """Nothing that asks to ring is hidden behind the worst."""
    verdict = demo_verdict("pup-stuck", datetime(2026, 5, 17, 20, 52, tzinfo=UTC))
    sheet = call_sheet(verdict, READER)
    others = [alert for alert in verdict.alerts[1:] if alert.level >= Level.CALL]
    loud = [fact for fact in sheet.facts[2:] if fact.label.startswith("!!")]

    assert len(loud) == len(others) > 0


@pytest.mark.parametrize(
    ("words", "cells", "left"),
    [("short", 9, "short"), ("longer than that", 9, "longer t~"), (None, 5, ""),
     (" a\n b ", 9, "a b"), ("\u0301" * 99, 9, "\u0301" * 36 + "~")],
)  # fmt: skip
def test_own_words_are_shortened_visibly(words: str | None, cells: int, left: str) -> None:
    """A cut shows; signs without a width do not go on for ever."""
    assert own(words, cells) == left
