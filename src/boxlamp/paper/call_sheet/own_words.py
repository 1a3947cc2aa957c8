"""What was written down in words of one's own: notes, and lines that were not understood.

Such a line may hold the very thing the vet needs. It is read aloud as it was typed.
"""

import re
from datetime import timedelta

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Afterbirth,
    Contraction,
    Discharge,
    Note,
    Rest,
    Settled,
    Sign,
    Temperature,
    Waters,
    What,
)
from boxlamp.paper.call_sheet.facts import Fact, Known
from boxlamp.paper.call_sheet.teller import Teller
from boxlamp.paper.call_sheet.words import OWN_WORDS, capital

# Our choice: an older note is about another hour.
_HOURS = timedelta(hours=12)
# Our choices: how many are told when there is no room for all of them.
_UNREAD = (4, 2, 1)
_NOTES = (2, 1)
# The time that a line begins with is told behind it.
_TIME = re.compile(r"^\s*~?(?:\d{1,2}:\d{2}(?::\d{2})?|-(?:\d+\s?(?:h|m|min)\s?)+)\s+(?=\S)")
_BEHIND: dict[type[What], str] = {
    Afterbirth: "afterbirth",
    Contraction: "push",
    Discharge: "discharge",
    Rest: "rest",
    Settled: "settled",
    Sign: "signs",
    Temperature: "temperature",
    Waters: "waters",
}


def unread(teller: Teller) -> Known:
    """The lines of the last hours that were not understood, the newest first."""
    told = [_told(entry, teller) for entry in _unread(teller)]
    if not told:
        return Known(())
    words, *fewer = _tellings(told, _UNREAD)
    return Known((Fact("assessment", "own words", words, tuple(fewer), "own words"),))


def notes(teller: Teller) -> Known:
    """The notes of the last hours that stand on no other line, the newest first."""
    alone = [entry for entry in written(teller) if not _is_unread(entry)]
    lines = sorted([*alone, *_behind(teller)], key=lambda one: (one.at, one.id), reverse=True)
    told = [_told(entry, teller) for entry in lines]
    if not told:
        return Known(())
    words, *fewer = _tellings(told, _NOTES)
    return Known((Fact("assessment", "noted", words, (*fewer, ""), "notes"),))


def written(teller: Teller) -> list[Entry]:
    """Every line of the last hours in words of one's own, the newest first."""
    return [
        one
        for one in reversed(teller.verdict.story.of(Note))
        if teller.verdict.at - one.at <= _HOURS and _words(one)
    ]


def since(entry: Entry, teller: Teller) -> str:
    """That a line in own words came after what the log understood last; else nothing."""
    later = [one for one in _unread(teller) if (one.at, one.id) > (entry.at, entry.id)]
    return f" Then own words at {teller.moment(later[-1].at)}: see below." if later else ""


def _unread(teller: Teller) -> list[Entry]:
    return [one for one in written(teller) if _is_unread(one)]


def _is_unread(entry: Entry) -> bool:
    return isinstance(entry.what, Note) and entry.what.unread


def _words(entry: Entry) -> str:
    if isinstance(entry.what, Note):
        words = _TIME.sub("", entry.what.words) or entry.what.words
        return " ".join(filter(None, (words, entry.note)))
    return f"{_BEHIND[type(entry.what)]}: {entry.note}"


def _behind(teller: Teller) -> list[Entry]:
    """Lines of the last hours about her with a note that their own line on the sheet leaves out."""
    story = teller.verdict.story
    told = {one.id for one in (story.last(Contraction), story.last(Discharge)) if one is not None}
    return [
        one
        for one in story.of(*_BEHIND)
        if one.note.strip()
        and teller.verdict.at - one.at <= _HOURS
        and one.id not in told
        and getattr(one.what, "where", "dam") == "dam"
    ]


def _told(entry: Entry, teller: Teller) -> str:
    words = teller.own(_words(entry), OWN_WORDS).rstrip(".")
    return f"{words} ({teller.when(entry)})"


def _tellings(told: list[str], counts: tuple[int, ...]) -> list[str]:
    """All of it, then always fewer; what is not told is counted."""
    return [f"{capital('; '.join(told))}."] + [
        f"{capital('; '.join(told[:count]))}; and {len(told) - count} more."
        for count in counts
        if count < len(told)
    ]
