"""Call sheets of made nights, and the promises that hold for every one."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from boxlamp.engine import Alert, Verdict, assess, explain
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Details,
    What,
)
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.paper.call_sheet.facts import CallSheet
from boxlamp.paper.call_sheet.lines import ROOM, sheet_lines
from boxlamp.paper.call_sheet.sheet import call_sheet
from boxlamp.paper.reader import Reader
from boxlamp.rules.registry import BY_ID
from boxlamp.rules.spell import Spell
from boxlamp.view.layout import Line
from boxlamp.view.text import clean, width_of
from support.accounts import READER
from support.made import at, told
from support.nights import DEFAULT

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
        worst = max(alert.level for alert in verdict.alerts)
        assert lines[0].startswith(f"{worst.mark} {worst.word.upper()} ")
        now = next(fact for fact in sheet.facts if fact.label == "wrong now")
        assert any(" ".join(words.split()) in whole for words in (now.words, *now.shorter))
    return lines


def asked(sheet: CallSheet) -> str:
    """What is asked at the end."""
    return said(sheet, "ask")


def alert_of(rule: str, clock: str, subject: str = "pup 1", detail: str = "limp") -> Alert:
    """An alert of a rule, as it stands ten minutes after two."""
    spell = Spell(rule, subject, clock, at(0), at(0), None, (2,), (), detail)
    known = BY_ID[rule]
    return Alert(known, subject, Level.CALL, at(0), at(0), TEN_MINUTES, timedelta(0),
                 explain(known, spell, at(10)), (), spell, None, quiet=False)  # fmt: skip
