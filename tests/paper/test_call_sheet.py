"""The call sheet: what it answers, in which order, on one screen, whatever was typed."""

import re
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boxlamp.engine import Alert, Verdict, assess, explain
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Afterbirth,
    Birth,
    Caesarean,
    Contraction,
    DamState,
    Death,
    Details,
    Discharge,
    Expect,
    Feed,
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
    Weight,
    What,
)
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.paper.call_sheet.data import plain_sheet, sheet_json
from boxlamp.paper.call_sheet.facts import CallSheet
from boxlamp.paper.call_sheet.findings import finding, wrong
from boxlamp.paper.call_sheet.lines import ROOM, all_lines, furthest, sheet_lines, window
from boxlamp.paper.call_sheet.sheet import call_sheet
from boxlamp.paper.call_sheet.teller import Teller
from boxlamp.paper.call_sheet.words import own
from boxlamp.paper.reader import Reader
from boxlamp.rules.registry import BY_ID
from boxlamp.rules.spell import Spell
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
        now = next(fact for fact in sheet.facts if fact.label == "wrong now")
        assert any(" ".join(words.split()) in whole for words in (now.words, *now.shorter))
    return lines


@pytest.mark.parametrize("case", [*NIGHTS, *PUBLISHED], ids=lambda case: case.name)
def test_every_sheet_of_a_night_fits_one_screen(case: Case) -> None:
    """Every ten minutes of it, and at every entry: 22 lines of 80, with the worst alert whole."""
    for verdict in verdicts(case.night.entries):
        lines, teller = kept(verdict), Teller(verdict, READER)
        loud = [alert for alert in verdict.alerts if wrong(alert, teller)]
        if loud:
            sentence = finding(loud[0], teller)
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
        assert "more line" in lines[-1] or width <= len("and 99 more lines")


def test_it_begins_with_whom_to_ring_and_what_is_wrong() -> None:
    """The level and the number first; then who she is, the alert, its clock, the limit."""
    verdict = demo_verdict("stalled-labour", datetime(2026, 4, 12, 0, 26, tzinfo=UTC))

    assert text(sheet_lines(call_sheet(verdict, READER), 80))[:5] == [
        "!! CALL      Dr Horak (invented), 000 555 020; 35 min away.",
        "SITUATION    02:26. Juniper, Labrador Retriever: in labour for 3 h 06 min.",
        "wrong now    The last pup came 2 h 07 min ago: 4 more to come by the x-ray.",
        "by the clock Long gap, more pups to come: 2 h 07 min since 00:19; limit 2 h.",
        "to watch     Low birth weight.",
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
    assert said(there, "ask").startswith("Nothing to ask on the telephone: the vet is with her.")
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
    assert said(before, "pushing") == (
        "None written down since the last pup; last one at 03:00, 1 h ago."
    )


def test_the_first_waters_and_every_colour_are_told() -> None:
    """The next pup's clear waters do not undo the green ones that labour began with."""
    sheet = sheet_at(60, (0, Waters(colour="green")), (20, Birth(pup=1)),
                     (40, Waters(colour="clear")))  # fmt: skip

    assert "aters broke 03:00, green, then clear" in said(sheet, "so far")


def test_a_later_discharge_does_not_undo_the_one_before() -> None:
    """The newest first, and the other one that was seen before it."""
    sheet = sheet_at(60, (0, Discharge(colour="green")), (30, Discharge(amount="none")))
    told = said(sheet, "discharge")

    assert told.startswith("None seen, at 03:30, 30 min ago; before that green, some, at 03:00")


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
    assert said(sheet, "weights").startswith("3 of 7 pups gained since the weighing before")


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
        "300 g 2 days ago, not weighed again."
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


STUCK = datetime(2026, 5, 17, tzinfo=UTC)
ORDER = re.compile(
    r"^(Help|Open|Warm|Keep|Off|Stop|Score|Ask|Weigh|Ring|Look|Cool|Clear|Rub)\b|\?|"
    r"\. (Warm|Clear|Keep|Do not|Think|Rub)\b"
)
RULES_BY_CLOCK = sorted(
    {(one.rule, one.clock) for one in DEFAULT.limit if one.level != "prompt"}
    | {(one.rule, one.clock) for one in DEFAULT.band if one.level != "prompt"}
)


def asked(sheet: CallSheet) -> str:
    """What is asked at the end."""
    return said(sheet, "ask")


def alert_of(rule: str, clock: str, subject: str = "pup 1", detail: str = "limp") -> Alert:
    """An alert of a rule, as it stands ten minutes after two."""
    spell = Spell(rule, subject, clock, at(0), at(0), None, (2,), (), detail)
    known = BY_ID[rule]
    return Alert(known, subject, Level.CALL, at(0), at(0), TEN_MINUTES, timedelta(0),
                 explain(known, spell, at(10)), (), spell, None, quiet=False)  # fmt: skip


@pytest.mark.parametrize(("rule", "clock"), RULES_BY_CLOCK)
def test_what_is_read_aloud_is_a_finding(rule: str, clock: str) -> None:
    """No alert gives the vet an order or asks them what the breeder should look at."""
    teller = Teller(judged(told((-600, VET), (0, Birth(pup=1))), at(10)), READER)
    words = finding(alert_of(rule, clock), teller)

    assert not ORDER.search(words), words
    assert words[0] == words[0].upper()


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
    """Breath comes first, then what is wrong with her."""
    sheet = sheet_at(3, (0, Birth(pup=1, state="limp")), (1, DamState(signs=("collapsed",))))

    assert asked(sheet).startswith("What do I do now for pup 1? Please stay on the line. Then: I ")


def test_what_the_vet_said_comes_first() -> None:
    """Who was told already to come does not ask whether to come."""
    verdict = demo_verdict("pup-stuck", STUCK.replace(hour=20, minute=42))
    sheet = call_sheet(verdict, Reader(ZoneInfo("Europe/London")))

    assert asked(sheet).startswith(
        "You told me at 21:39: come at once. Since then: 1 push, no pup written down. What now?"
    )
    assert "Shall I bring her" not in asked(sheet)
    rung = sheet_at(20, (0, Contraction(strength="strong")), (19, VetContact(contact="called")))
    assert asked(rung).startswith("I rang you at 03:19. Since then: no push, no pup")


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


def test_a_light_pup_is_not_what_is_wrong_in_a_labour() -> None:
    """Nothing calls for a call, and what to keep an eye on is named without its source."""
    sheet = sheet_at(
        5, (0, Details(breed="Labrador Retriever")), (0, Birth(pup=1, weight=Decimal(330))),
        (1, Step(pup=1, step="breathing")),
    )  # fmt: skip

    assert sheet.level is Level.WATCH
    assert said(sheet, "wrong now") == "Nothing that calls for a call stands."
    assert said(sheet, "to watch") == "Low birth weight."
    after = sheet_at(
        5, (0, Details(breed="Labrador Retriever")), (0, Birth(pup=1, weight=Decimal(330))),
        (1, Afterbirth()), (4, Finished()),
    )  # fmt: skip
    assert said(after, "wrong now").startswith("Birth weight low, pup 1: Labrador Retriever pups")
    assert "(" not in said(after, "wrong now")
    assert "watch her" not in said(after, "by the clock")


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


def test_after_a_caesarean_the_vulva_is_not_asked_about() -> None:
    """It is said when it was; and of the afterbirths only that none is counted as owed."""
    sheet = sheet_at(30, (0, Contraction()), (5, Caesarean()), (9, Birth(pup=1)))

    assert said(sheet, "who").endswith("caesarean 25 min ago.")
    assert not {"what shows at the vulva now", "contractions"} & set(sheet.unknown)
    assert said(sheet, "afterbirths") == ("None passed; none counted as owed after the caesarean.")


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


def test_it_counts_from_the_last_pup() -> None:
    """Not from the first, which may be half a day before; in days from the second on."""
    lines = [(0.0, Birth(pup=1)), (300.0, Birth(pup=2)), (330.0, Finished())]

    assert said(sheet_at(359, *lines), "who").endswith("last pup 59 min ago.")
    assert said(sheet_at(300 + 48 * 60, *lines), "who").endswith("last pup 2 days ago.")


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


def test_a_date_without_a_time_has_no_hours() -> None:
    """Days of gestation are days: nobody knows at what hour she was mated."""
    mated = entry(2, -60 * 24 * 68 - 120, Mating()).model_copy(update={"certainty": "day"})
    sheet = call_sheet(judged((entry(1, -60 * 24 * 69, VET), mated), at(0)), READER)

    assert re.match(r"It is \d+ days since the first mating", said(sheet, "wrong now"))
    assert not re.search(r"\d h\b|:00", said(sheet, "by the clock"))


def test_before_anything_was_known_it_says_so() -> None:
    """It does not list everything as not noted, as if somebody had forgotten it."""
    sheet = call_sheet(judged(told((0, VET)), at(-60)), READER)

    assert said(sheet, "who").endswith("Nothing was written down of her by then.")
    assert sheet.unknown == ()


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
