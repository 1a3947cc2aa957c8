"""What was done so far: what was given, and what the vet has said."""

from datetime import timedelta

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Treatment, VetContact
from boxlamp.paper.call_sheet.facts import Fact, Known, Topic
from boxlamp.paper.call_sheet.talks import advice, contact, talks
from boxlamp.paper.call_sheet.teller import Teller
from boxlamp.paper.call_sheet.words import OWN_WORDS, capital

_CONTACTS = {
    "called": "rung",
    "advised": "advised",
    "arrived": "came",
    "seen": "has seen her",
    "left-for": "left for the vet",
}
_CONTACTS_SHOWN = 2
# Our choices: what was given in these hours is told whole; of more than so many the newest.
_TONIGHT = timedelta(hours=12)
_GIVEN_SHOWN = 4
# Our choice: what was given in the last two weeks may still matter to whoever answers.
_GIVEN_DAYS = 14


def given(teller: Teller) -> Known:
    """What was given, in the words of whoever wrote it down."""
    lines = [
        entry for entry in teller.verdict.story.of(Treatment) if teller.recent(entry, _GIVEN_DAYS)
    ]
    told = []
    for entry in lines[::-1]:
        if isinstance(entry.what, Treatment):
            by = f" by {teller.own(entry.what.by, 20)}" if entry.what.by else ""
            told.append(f"{teller.own(entry.what.what, OWN_WORDS)}{by} {teller.noted(entry)}")
    if not told:
        return Known((), ("anything given",) if teller.stage == "labour" else ())
    late = sum(teller.verdict.at - entry.at <= _TONIGHT for entry in lines)
    counts = dict.fromkeys((len(told), min(len(told), max(late, 1)), min(late or 1, _GIVEN_SHOWN)))
    words, *fewer = (f"{capital(_first_of(told, count))}." for count in counts)
    return Known((Fact("assessment", "given", words, tuple(fewer), "given"),))


def _first_of(told: list[str], count: int, between: str = "; ") -> str:
    """The first so many, and how many more there are."""
    rest = len(told) - count
    more = f"; {rest} more before that" if rest > 0 else ""
    return f"{between.join(told[:count])}{more}"


def vet(teller: Teller) -> Known:
    """When the vet was spoken to, and what was said; apart what the request says again."""
    lines = [one for one in teller.verdict.story.of(VetContact) if teller.recent(one, 7)][::-1]
    again = talks(teller).whole
    parts: tuple[tuple[Topic, list[Entry]], ...] = (
        ("said below", [one for one in lines if one.id in again]),
        ("vet", [one for one in lines if one.id not in again]),
    )
    return Known(tuple(_of_the_vet(topic, some, teller) for topic, some in parts if some))


def _of_the_vet(topic: Topic, lines: list[Entry], teller: Teller) -> Fact:
    """The contacts with the vet in one row, the newest first; those without room are counted."""
    told = [_contact(entry, teller) for entry in lines]
    counts = dict.fromkeys(min(len(told), count) for count in (len(told), _CONTACTS_SHOWN, 1))
    words, *fewer = (
        f"{capital(_first_of(told, count, between='; before that '))}." for count in counts
    )
    return Fact("assessment", "the vet", words, tuple(fewer), topic)


def _contact(entry: Entry, teller: Teller) -> str:
    """``rung at 02:21, 9 min ago: come in if there is no pup by half past two``."""
    said = advice(entry, teller)
    note = teller.note(entry) if isinstance(entry.what, VetContact) and entry.what.said else ""
    words = f"{_CONTACTS[contact(entry)]} {teller.when(entry)}"
    return f"{words}{f': {said}' if said else ''}{note}"
