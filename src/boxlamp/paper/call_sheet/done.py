"""What was done so far: what was given, and what the vet has said."""

import re
from datetime import timedelta

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Treatment, VetContact
from boxlamp.paper.call_sheet.facts import Fact, Known, Topic
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
STILL_TRUE = timedelta(hours=12)
"""What the vet said longer ago was about another trouble. Our choice."""
_SAID = re.compile(r"(?i)^\s*(?:said|says|told (?:me|us))\b(?: to\b)?[\s:,]*")


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


def _first_of(told: list[str], count: int) -> str:
    """The first so many, and how many more there are."""
    rest = len(told) - count
    return "; ".join([*told[:count], *([f"{rest} more before that"] if rest > 0 else [])])


def vet(teller: Teller) -> Known:
    """When the vet was last spoken to, and what was said."""
    lines = [entry for entry in teller.verdict.story.of(VetContact) if teller.recent(entry, 7)]
    told = []
    for entry in lines[::-1]:
        if isinstance(entry.what, VetContact):
            said = advice(entry, teller)
            contact = _CONTACTS[entry.what.contact]
            note = teller.note(entry) if entry.what.said else ""
            told.append(f"{contact} {teller.when(entry)}{f': {said}' if said else ''}{note}")
    if not told:
        return Known((), ())
    words, *fewer = (
        f"{capital('; before that '.join(told[:count]))}." for count in (None, _CONTACTS_SHOWN, 1)
    )
    now = teller.verdict.at
    below = now - lines[-1].at <= STILL_TRUE and not teller.verdict.litter.with_vet(now)
    topic: Topic = "said below" if below else "vet"
    return Known((Fact("assessment", "the vet", words, tuple(fewer), topic),))


def advice(entry: Entry, teller: Teller) -> str:
    """What the vet said, in the words it was written down in, without ``said to`` before them."""
    said = entry.what.said if isinstance(entry.what, VetContact) else ""
    return teller.own(_SAID.sub("", said or entry.note), OWN_WORDS)
