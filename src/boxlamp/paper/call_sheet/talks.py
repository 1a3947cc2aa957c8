"""The talks with the vet: which of them the request says again, and in whose words."""

from typing import NamedTuple

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import VetContact
from boxlamp.paper.call_sheet.teller import Teller
from boxlamp.paper.call_sheet.words import OWN_WORDS
from boxlamp.view.advice import STILL_TRUE, THEIRS, own_words, words_of


class Talks(NamedTuple):
    """What the request says again."""

    spoken: tuple[Entry, ...] = ()
    """The newest talk, and before it the newest one of which words are written down."""
    left: Entry | None = None
    """When they left for the vet, while they can be taken to be on the way."""

    @property
    def newest(self) -> Entry | None:
        """The newest talk."""
        return self.spoken[-1] if self.spoken else None

    @property
    def whole(self) -> set[int]:
        """The entries of which the request leaves nothing out."""
        told = {one.id for one in self.spoken if not _more(one)}
        return told | ({self.left.id} if self.left and not words_of(self.left) else set())


def talks(teller: Teller) -> Talks:
    """What the request says again; nothing once the vet is with her."""
    if teller.verdict.litter.with_vet(teller.verdict.at):
        return Talks()
    lines = [
        one
        for one in reversed(teller.verdict.story.of(VetContact))
        if teller.verdict.at - one.at <= STILL_TRUE
    ]
    spoken = [one for one in lines if contact(one) != "left-for"]
    worded = [one for one in spoken if words_of(one)]
    again = dict.fromkeys(one.id for one in (*worded[:1], *spoken[:1]))
    away = teller.verdict.litter.on_the_way(teller.verdict.at)
    left = next((one for one in lines if away and contact(one) == "left-for"), None)
    return Talks(tuple(one for one in reversed(spoken) if one.id in again), left)


def contact(entry: Entry) -> str:
    """Of which kind it was."""
    return entry.what.contact if isinstance(entry.what, VetContact) else ""


def theirs(entry: Entry) -> bool:
    """Whether what was written down are the vet's words, and not perhaps the caller's."""
    return contact(entry) in THEIRS


def advice(entry: Entry, teller: Teller) -> str:
    """What was said, as it was written down; the vet's own words without ``said to`` before."""
    return teller.own(own_words(entry) if theirs(entry) else words_of(entry), OWN_WORDS)


def _more(entry: Entry) -> bool:
    """Whether there is a note beside what was said."""
    return bool(entry.note.strip()) and words_of(entry) != entry.note.strip()
