"""Any night's call sheet: one screen, the worst alert whole, whatever was typed."""

from collections.abc import Iterator
from datetime import timedelta
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boxlamp.engine import Verdict, assess
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Birth,
    Contraction,
    DamState,
    Details,
    Discharge,
    Expect,
    Mating,
    Note,
    Part,
    PupState,
    Temperature,
    Treatment,
    VetContact,
    Waters,
    What,
)
from boxlamp.model.story import Story
from boxlamp.paper.call_sheet.data import plain_sheet, sheet_json
from boxlamp.paper.call_sheet.findings import finding, wrong
from boxlamp.paper.call_sheet.lines import sheet_lines
from boxlamp.paper.call_sheet.sheet import call_sheet
from boxlamp.paper.call_sheet.teller import Teller
from boxlamp.paper.reader import Reader
from boxlamp.view.text import width_of
from support.accounts import READER
from support.happenings import HOSTILE
from support.made import STREAMS, at, entry
from support.nights import CASES, DEFAULT, DEMO, Case, chapters
from support.sheets import PRAGUE, TEN_MINUTES, judged, kept, text

NIGHTS = [case for path in sorted(DEMO.glob("*.night")) for case in chapters(path)]


PUBLISHED = [
    case for path in sorted((CASES / "published").glob("*.night")) for case in chapters(path)
]


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


@settings(max_examples=40, deadline=None)
@given(NAMES, st.integers(0, 4), st.integers(0, 4), st.integers(40, 130), st.integers(3, 40))
def test_a_number_is_whole_on_a_line(
    name: str, first: int, second: int, width: int, room: int
) -> None:
    """However narrow the screen and however much there is to say: never cut, never broken."""
    numbers = NUMBERS[first], NUMBERS[second]
    details = Details.model_construct(
        dam="Fern", vet=name, vet_phone=numbers[0], night_phone=numbers[1], travel_minutes=30
    )
    births = [entry(n + 1, n, Birth(pup=n, state="limp")) for n in range(1, 8)]
    known = entry(1, 0, Note()).model_copy(update={"what": details})
    sheet = call_sheet(judged((known, *births), at(30)), READER)
    lines = text(sheet_lines(sheet, width, room))

    for number in numbers:
        assert any(number in line for line in lines), "\n".join(lines)


NUMBERS = (
    "000 555 090", "+44 (0)1234 567 890", "+1 (555) 010-0199", "01234-567 890", "07700/900123",
)  # fmt: skip
