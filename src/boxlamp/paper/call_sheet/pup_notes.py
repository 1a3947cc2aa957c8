"""What was written behind lines about a pup: ``feed 3 2ml bottle; milk came out of its nose``."""

from collections import Counter
from collections.abc import Iterator
from datetime import timedelta

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Birth,
    Feed,
    Milestone,
    PupState,
    Reflexes,
    Score,
    Sexed,
    Step,
    Temperature,
    Weight,
    What,
)
from boxlamp.model.litter import Pup
from boxlamp.paper.call_sheet.pup_signs import shown
from boxlamp.paper.call_sheet.teller import Teller
from boxlamp.paper.call_sheet.words import FEW_WORDS, listed
from boxlamp.paper.telling_words import PUP_WORDS, STEP_WORDS

# Our choice: an older note is about another hour.
_HOURS = timedelta(hours=12)
_KINDS = (Birth, Feed, Milestone, PupState, Reflexes, Score, Sexed, Step, Temperature, Weight)
_DONE: dict[type[What], str] = {
    Birth: "born",
    Temperature: "temperature taken",
    Weight: "weighed",
}


def noted_of(pup: Pup, teller: Teller) -> Iterator[str]:
    """``fed at 19:10, 24 min ago (milk came out of nose)``, the newest first."""
    # What was written behind a sign that stands is told with the sign.
    signs = {one.entry.id for one in shown(pup, teller) if one.entry is not None}
    for entry in reversed(_noted(teller)):
        if getattr(entry.what, "pup", None) == pup.number and entry.id not in signs:
            yield f"{_what(entry)} {teller.noted(entry)}"


def words_of(pup: Pup, teller: Teller) -> list[str]:
    """The notes alone, the newest first."""
    return [
        teller.own(entry.note, FEW_WORDS).rstrip(".")
        for entry in reversed(_noted(teller))
        if getattr(entry.what, "pup", None) == pup.number
    ]


def _noted(teller: Teller) -> list[Entry]:
    """The lines of the last hours about one pup each that have a note."""
    # The note of a weighing round is of no pup in particular.
    lines = Counter(entry.id for entry in teller.verdict.story.of(Weight))
    return [
        entry
        for entry in teller.verdict.story.of(*_KINDS)
        if entry.note.strip() and teller.verdict.at - entry.at <= _HOURS and lines[entry.id] <= 1
    ]


def _what(entry: Entry) -> str:
    match entry.what:
        case Feed(how=how):
            return "fed" if how == "teat" else f"fed by {how}"
        case Step(step=step):
            return STEP_WORDS[step]
        case PupState(signs=signs):
            return listed([PUP_WORDS[sign] for sign in signs])
        case what:
            return _DONE.get(type(what), "looked at")
