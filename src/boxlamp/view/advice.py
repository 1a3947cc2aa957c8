"""What the vet said under an alert that still stands: shown beside it, and the alert stays."""

import re
from datetime import timedelta, tzinfo

from boxlamp.engine import Verdict
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import VetContact
from boxlamp.model.levels import Level
from boxlamp.view.text import clean, clock_text

STILL_TRUE = timedelta(hours=12)
"""What the vet said longer ago was about another trouble. Our choice."""

# What was written behind these was said by the vet; behind a call it may be either's words.
THEIRS = frozenset({"advised", "seen"})
_SAID = re.compile(r"(?i)^\s*(?:said|says|told (?:me|us))\b(?: to\b)?[\s:,]*")
# Our choice: longer words would push alerts off the screen, and cut they could say the opposite.
_SHORT = 160


def words_of(entry: Entry) -> str:
    """What was said, as it was written down, or the note in place of it."""
    said = entry.what.said if isinstance(entry.what, VetContact) else ""
    return said or entry.note.strip()


def own_words(entry: Entry) -> str:
    """The vet's own words without ``said to`` before them."""
    return _SAID.sub("", words_of(entry))


def vet_said(verdict: Verdict, zone: tzinfo) -> tuple[int, str] | None:
    """The place of the alert that the vet's newest words were said under, and the sentence.

    An alert that has come since, or has risen since, was not what the vet spoke of. Once they
    have left for the vet, or the vet is or was with her, the words before that are past.
    """
    spoken = _newest(verdict)
    if spoken is None:
        return None
    under = (
        place
        for place, alert in enumerate(verdict.alerts)
        if alert.level >= Level.CALL and alert.raised <= spoken.at
    )
    place = next(under, None)
    return None if place is None else (place, _sentence(spoken, verdict, zone))


def vet_word(verdict: Verdict, zone: tzinfo) -> str:
    """The vet's newest words as a sentence, whatever stands; empty once they are past."""
    spoken = _newest(verdict)
    return "" if spoken is None else _sentence(spoken, verdict, zone)


def _newest(verdict: Verdict) -> Entry | None:
    """The newest words that are surely the vet's, as long as they speak of now."""
    for one in reversed(verdict.story.of(VetContact)):
        contact = one.what.contact if isinstance(one.what, VetContact) else ""
        if contact in {"arrived", "left-for"} or verdict.at - one.at > STILL_TRUE:
            return None
        if contact in THEIRS and words_of(one):
            return one
    return None


def _sentence(spoken: Entry, verdict: Verdict, zone: tzinfo) -> str:
    when = clock_text(spoken.at, verdict.at, zone)
    at = "" if " " in when else "at "
    about = "about " if spoken.certainty == "estimated" else ""
    words = clean(own_words(spoken)).strip()
    if not words or len(words) > _SHORT:
        return f"What the vet said {at}{about}{when} is written down: entry {spoken.id}."
    return f"The vet said {at}{about}{when}: {words}{'' if words[-1] in '.!?' else '.'}"
